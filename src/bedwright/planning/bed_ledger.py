"""The ledger of every bed, season by season, from the document's history and the plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.ledger import (
    Account,
    Release,
    account,
    organic_matter_account,
    organic_release,
)
from bedwright.feeding.salt_ledger import salt_account
from bedwright.garden import Document
from bedwright.planning.findings import Finding, finding
from bedwright.planning.ledger_contents import Contents, contents, unknown_findings
from bedwright.planning.ledger_entries import Entries, PlannedSeason, entries
from bedwright.planning.ledger_outlook import BedOutlook, Habit, outlook
from bedwright.planning.ledger_soil import BedSoil, bed_soil
from bedwright.reference import Library

Array = NDArray[np.float64]


@dataclass(frozen=True)
class BedLedger:
    """The accounts of all beds; rows are ``beds``, columns ``seasons`` [kg/m2].

    Phosphate, potash, nitrogen and reaction (as CaCO3) count the change since the first season;
    ``salt`` and ``organic_matter`` count what the tested layer holds, NaN where that was not
    measured. ``phosphate_ends`` are low, typical and high of each season's balance. ``told``
    marks the seasons of which the document tells, ``planned`` those of the plan; the others
    count nothing, which is not the same as nothing having been done.
    """

    beds: tuple[str, ...]
    seasons: tuple[int, ...]
    told: NDArray[np.bool_]
    planned: NDArray[np.bool_]
    crops: Mapping[tuple[int, int], Sequence[str]]
    phosphate: Account
    potash: Account
    nitrogen: Account
    organic_nitrogen: Release
    reaction: Account
    salt: Account
    organic_matter: Account
    phosphate_ends: Array
    soils: tuple[BedSoil, ...]
    outlooks: tuple[BedOutlook | None, ...]
    findings: Mapping[str, tuple[Finding, ...]]

    def row(self, bed: str) -> int:
        """The row of a bed. Raises LookupError that names the beds there are."""
        if bed not in self.beds:
            raise LookupError(f"there is no bed {bed!r}; beds: {', '.join(self.beds)}")
        return self.beds.index(bed)


def bed_ledger(
    document: Document, library: Library, planned: Sequence[PlannedSeason] = ()
) -> BedLedger:
    """Keep the ledger of every bed. ``library`` holds the garden's own facts.

    ``planned`` are the seasons of the plan (see ``planned_season``), counted after the history.
    """
    book = entries(document, library, planned)
    what = contents(book.materials, library)
    soils = tuple(bed_soil(document, bed, library) for bed in document.garden.bed)
    counted = book.recorded | book.planned
    water = _water(soils, counted)
    mass = book.mass[1]
    phosphate_in = np.einsum("em,embs->ebs", what.p2o5, book.mass)
    phosphate_out = book.removed[:, 1]
    release = organic_release(mass * what.organic_n[:, None, None], what.release)
    zero = np.zeros(len(book.beds))
    reaction = np.einsum("m,mbs->mbs", what.reaction, mass)
    matter = np.einsum("m,mbs->bs", what.matter, mass)
    kept = np.einsum("m,mbs->bs", what.kept, mass)
    decay = library.parameter("soil_organic_n_mineralized", "-")
    ledger_salt = _salt(soils, np.einsum("m,mbs->bs", what.salts, mass), water["salts"], counted)
    habits = _habits(book, what, soils, phosphate_in, phosphate_out)
    outlooks = tuple(
        outlook(soil, habit, document, library) if habit is not None else None
        for soil, habit in zip(soils, habits, strict=True)
    )
    return BedLedger(
        beds=book.beds,
        seasons=book.seasons,
        told=book.recorded,
        planned=book.planned,
        crops=book.crops,
        phosphate=account(zero, {"materials": phosphate_in[1]}, {"harvest": phosphate_out[1]}),
        potash=account(
            zero,
            {"materials": np.einsum("m,mbs->bs", what.k2o[1], mass)},
            {"harvest": book.removed[1, 2]},
        ),
        nitrogen=_nitrogen(what, mass, release, water["nitrogen"], book.removed[1, 0]),
        organic_nitrogen=release,
        reaction=account(
            zero,
            {"bases": np.maximum(reaction, 0).sum(axis=0), "water": water["carbonate"]},
            {"acids": np.maximum(-reaction, 0).sum(axis=0)},
        ),
        salt=ledger_salt,
        organic_matter=organic_matter_account(
            np.array([_matter_now(soil) for soil in soils]), matter, kept, decay.value
        ),
        phosphate_ends=np.stack(
            [
                phosphate_in[0] - phosphate_out[2],
                phosphate_in[1] - phosphate_out[1],
                phosphate_in[2] - phosphate_out[0],
            ]
        ),
        soils=soils,
        outlooks=outlooks,
        findings=_findings(book, what, soils, outlooks),
    )


def _water(soils: tuple[BedSoil, ...], counted: NDArray[np.bool_]) -> dict[str, Array]:
    """What the irrigation brings to each bed in each counted season; NaN where not known.

    Nitrogen and carbonate that no report states are left out of the account, and said.
    """
    brought: dict[str, Array] = {}
    for name, absent in (("nitrogen", 0.0), ("carbonate", 0.0), ("salts", np.nan)):
        each_season = np.array(
            [
                absent if soil.water is None or getattr(soil.water, name) is None
                else getattr(soil.water, name)
                for soil in soils
            ],
            dtype=float,
        )  # fmt: skip
        brought[name] = each_season[:, None] * counted
    return brought


def _nitrogen(
    what: Contents, mass: Array, release: Release, water: Array, harvest: Array
) -> Account:
    """Nitrogen a crop can reach: what was mineral, released or in the water, less the harvest.

    What is left over was leached, lost to the air or taken by what stays on the bed; a deficit
    was covered by the soil's own organic matter. Neither can be told apart here.
    """
    mineral = np.einsum("m,mbs->bs", what.n[1] - what.organic_n, mass)
    fresh = np.maximum(release.released - release.carried_over, 0.0)
    return account(
        np.zeros(len(harvest)),
        {"mineral": np.maximum(mineral, 0.0), "released_fresh": fresh,
         "released_earlier": np.maximum(release.carried_over, 0.0), "water": water},
        {"harvest": harvest},
    )  # fmt: skip


def _salt(
    soils: tuple[BedSoil, ...], spread: Array, water: Array, counted: NDArray[np.bool_]
) -> Account:
    nan = float("nan")
    opening = np.array(
        [nan if s.ec_e is None else s.ec_e.value / s.ec_per_salt for s in soils], dtype=float
    )
    leached = np.array([nan if s.leached is None else s.leached[1] for s in soils], dtype=float)
    settles = np.array(
        [nan if s.settles is None else s.settles[1] / s.ec_per_salt for s in soils], dtype=float
    )
    share = np.where(counted, leached[:, None], 0.0)
    return salt_account(opening, spread, water, share, settles)


def _matter_now(soil: BedSoil) -> float:
    if soil.organic_matter is None:
        return float("nan")
    return soil.organic_matter / 100 * soil.layer


def _habits(
    book: Entries,
    what: Contents,
    soils: tuple[BedSoil, ...],
    phosphate_in: Array,
    phosphate_out: Array,
) -> list[Habit | None]:
    """The mean of each bed's seasons that the document tells of; the plan is not yet a habit."""
    compost = np.array([item.kind == "compost" for item in book.materials], dtype=bool)
    habits: list[Habit | None] = []
    for place in range(len(book.beds)):
        told = book.recorded[place]
        if not told.any():
            habits.append(None)
            continue
        mass = book.mass[:, :, place, told].mean(axis=2)
        phosphate = what.p2o5 * mass
        used = np.flatnonzero(compost & (mass[1] > 0))
        main = int(used[np.argmax(mass[1][used])]) if used.size else None
        sampled = soils[place].sampled
        tested = told & (np.array(book.seasons) <= (sampled.year if sampled else 0))
        gained = (phosphate_in[1, place] - phosphate_out[1, place])[tested].sum()
        habits.append(
            Habit(
                seasons=int(told.sum()),
                phosphate_in=_three(phosphate_in[:, place, told].mean(axis=1)),
                phosphate_out=_three(phosphate_out[:, place, told].mean(axis=1)),
                other_phosphate=_three(phosphate[:, ~compost].sum(axis=1)),
                gained_before_test=float(gained),
                salts=float((what.salts * mass[1]).sum()),
                compost=book.materials[main] if main is not None else None,
                crops=tuple(
                    dict.fromkeys(
                        crop
                        for column in range(len(book.seasons))
                        for crop in book.crops.get((place, column), ())
                    )
                ),
            )
        )
    return habits


def _three(values: Array) -> tuple[float, float, float]:
    return float(values[0]), float(values[1]), float(values[2])


def _findings(
    book: Entries,
    what: Contents,
    soils: tuple[BedSoil, ...],
    outlooks: tuple[BedOutlook | None, ...],
) -> dict[str, tuple[Finding, ...]]:
    """What must be said of each bed's ledger, beside its figures."""
    said: dict[str, tuple[Finding, ...]] = {}
    for place, bed in enumerate(book.beds):
        found = list(book.findings.get(bed, []))
        for at, item in enumerate(book.materials):
            if book.mass[1, at, place].any():
                found += unknown_findings(item, what.unknown[at])
        soil = soils[place]
        if soil.water is None or soil.water.salts is None:
            found.append(finding("ledger_water_not_known", "assumed"))
        else:
            found.append(finding("ledger_water_each_season", "assumed"))
        if soil.ec_e is None:
            found.append(finding("ledger_salt_not_measured", "assumed"))
        if soil.organic_matter is None:
            found.append(finding("ledger_matter_not_measured", "assumed"))
        elif soil.sampled is not None and book.seasons and soil.sampled.year > book.seasons[0]:
            found.append(
                finding("ledger_opening_taken", "assumed", sampled=soil.sampled.isoformat())
            )
        gaps = [
            str(year)
            for year, told, planned in zip(
                book.seasons, book.recorded[place], book.planned[place], strict=True
            )
            if not told and not planned
        ]
        if gaps:
            found.append(finding("ledger_season_not_told", "doubt", years=", ".join(gaps)))
        found.append(finding("ledger_residues_stay", "assumed"))
        ahead = outlooks[place]
        if ahead is not None:
            found = [*ahead.findings, *found]
        said[bed] = tuple(_once(found))
    return said


def _once(found: list[Finding]) -> list[Finding]:
    unique: list[Finding] = []
    for each in found:
        if each not in unique:
            unique.append(each)
    return unique
