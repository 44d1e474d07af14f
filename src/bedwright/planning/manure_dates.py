"""The dates that the raw-manure intervals forbid, for what was spread and what is wanted."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.feeding.materials import Material, material
from bedwright.garden import Document, Want
from bedwright.planning.findings import Finding, finding
from bedwright.reference import Library
from bedwright.working import Figure

_RAW = "raw_manure_interval"


@dataclass(frozen=True)
class ManureDates:
    """What the interval asks of one bed and the crop wanted on it.

    No raw manure may be worked in from ``forbidden_from`` until the last harvest. ``spread``
    lists what was spread raw: material, day, and the first day on which may be harvested.
    ``first_pick`` is None where the want has no day of setting out and none was given.
    """

    bed: str
    crop: str
    interval: Figure
    touches_soil: bool
    first_pick: date | None
    forbidden_from: date | None
    spread: tuple[tuple[str, date, date], ...]
    findings: tuple[Finding, ...]


def manure_dates(
    document: Document,
    want: Want,
    want_at: int,
    bed: str,
    library: Library,
) -> ManureDates:
    """The raw-manure interval of a bed's wanted crop, held against the history.

    The first pick is the day that the want states, or its days from setting out; with neither,
    an early first pick is assumed and said so: too early errs on the side of a longer wait.
    """
    said: list[Finding] = []
    crop = document.key("want", want_at, "crop")
    touches = _touches(library, crop)
    interval = library.parameter(
        "raw_manure_days_touching" if touches else "raw_manure_days_clear", "day"
    )
    first = want.first_pick or _first_pick(want, crop, library, said)
    wait = timedelta(days=round(interval.value))
    spread = []
    for at, season in enumerate(document.garden.history):
        if season.bed != bed:
            continue
        for place, applied in enumerate(season.applied):
            item = material(library, document.key("history", at, "applied", place, "material"))
            if not _is_raw(item):
                continue
            allowed = applied.on + wait
            spread.append((item.name, applied.on, allowed))
            if first is not None and first < allowed:
                said.append(
                    finding(
                        "raw_manure_too_late",
                        "act",
                        material=item.name.lower(),
                        spread=applied.on.isoformat(),
                        first_pick=first.isoformat(),
                        allowed=allowed.isoformat(),
                        days=interval.value,
                        sources=interval.sources,
                    )
                )
    forbidden = first - wait if first is not None else None
    if forbidden is not None:
        said.append(
            finding(
                "raw_manure_forbidden_from",
                "note",
                day=forbidden.isoformat(),
                days=interval.value,
                contact="touches_soil" if touches else "clear_of_soil",
                sources=interval.sources,
            )
        )
    return ManureDates(bed, crop, interval, touches, first, forbidden, tuple(spread), tuple(said))


def raw_manure_about(document: Document, library: Library) -> bool:
    """Whether raw manure lies in the shed or in the history, so that the intervals matter."""
    garden = document.garden
    paths = [("stock", at, "material") for at in range(len(garden.stock))]
    keys = [document.key(*path) for path in paths]
    keys += [
        document.key("history", at, "applied", place, "material")
        for at, season in enumerate(garden.history)
        for place in range(len(season.applied))
    ]
    return any(_is_raw(material(library, key)) for key in dict.fromkeys(keys))


def _is_raw(item: Material) -> bool:
    return any(each.code == _RAW for each in item.cautions)


def _touches(library: Library, crop: str) -> bool:
    """Whether what is eaten touches the soil; a crop without a row is taken to touch it."""
    return all(
        row["contact"] != "clear" for row in library.rows("soil_contact") if row["crop"] == crop
    )


def _first_pick(want: Want, crop: str, library: Library, said: list[Finding]) -> date | None:
    if want.set_out is None:
        said.append(finding("first_pick_not_known", "assumed"))
        return None
    if want.days_to_first_pick is not None:
        return want.set_out + timedelta(days=want.days_to_first_pick)
    kind = library.crop(crop)["kind"]
    taken = library.parameter(f"days_to_first_pick_{kind}", "day")
    first = want.set_out + timedelta(days=round(taken.value))
    said.append(
        finding(
            "first_pick_assumed",
            "assumed",
            days=taken.value,
            first_pick=first.isoformat(),
            sources=taken.sources,
        )
    )
    return first
