"""What is settled already: pins, wants and decisions, each with the year of its harvest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.garden import Document
from bedwright.garden.failed import failed_wants
from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.assignment.dates import Timer, days_after
from bedwright.planning.assignment.model import Candidate, Claim, Decision, Past, Unit
from bedwright.planning.assignment.options import Horizon, stated_slot
from bedwright.planning.assignment.units import units_at
from bedwright.planning.findings import Finding, finding
from bedwright.reference import Library


@dataclass(frozen=True)
class Claims:
    """Claims within the years ahead, what wants leave standing before them, and the units that
    are kept free: unit, year, turn (None: the whole year)."""

    claims: tuple[Claim, ...]
    standing: tuple[Past, ...]
    free: tuple[tuple[int, int, str | None], ...]
    findings: tuple[Finding, ...]


def claims_of(
    document: Document,
    library: Library,
    units: tuple[Unit, ...],
    candidates: tuple[Candidate, ...],
    timer: Timer,
    horizon: Horizon,
    decisions: Sequence[Decision],
    without: frozenset[str],
) -> Claims:
    """Everything that is settled.

    Parameters
    ----------
    document, library : the garden and the tables
    units, candidates : of the garden
    timer, horizon : its weather, and the years ahead
    decisions : settled beside the document
    without : beds that are out of use: what was settled for them falls away
    """
    said: list[Finding] = []
    claims: list[Claim] = []
    standing: list[Past] = []
    free: list[tuple[int, int, str | None]] = []
    known = {each.id: each for each in candidates}
    lost = failed_wants(document.garden)

    def usable(found: tuple[int, ...]) -> tuple[int, ...]:
        return tuple(at for at in found if units[at].bed not in without)

    for at, want in enumerate(document.garden.want):
        candidate = candidate_at(document, library, "want", at)
        beds = [bed for bed in want.beds if (at, bed) not in lost]
        own = usable(tuple(unit for bed in beds for unit in units_at(units, bed, None)))
        if not own:
            continue
        first, last = _harvest(document, at, candidate, timer)
        year = horizon.years[0] if first is None else first.year
        if year < horizon.years[0]:
            until = (last or first or horizon.as_of) + timedelta(days=1 + horizon.turnover_days)
            standing += [
                Past(unit, year, candidate.key, candidate.name, candidate.family, until)
                for unit in own
            ]
        elif year > horizon.years[-1]:
            said.append(_beyond(want.crop, year))
        else:
            cover = want.protection and document.key("want", at, "protection")
            claims.append(
                Claim("want", at, own, candidate.id, year, want.turn, want.set_out, cover)
            )
    for at, pin in enumerate(document.garden.pin):
        own = usable(units_at(units, pin.bed, pin.part))
        if pin.year not in horizon.years:
            said.append(_beyond(pin.crop or pin.bed, pin.year))
        elif pin.crop is None:
            free += [(unit, pin.year, pin.turn) for unit in own]
        else:
            candidate = candidate_at(document, library, "pin", at)
            claims += [
                Claim("pin", at, (unit,), candidate.id, pin.year, pin.turn, pin.set_out)
                for unit in own
            ]
    for at, decision in enumerate(decisions):
        own = usable(units_at(units, decision.bed, decision.part))
        named = next(
            (each for each in (decision.crop, f"own:{decision.crop}") if each in known), None
        )
        if named is not None and decision.year in horizon.years:
            claims += [
                Claim("decision", at, (unit,), named, decision.year, decision.turn, decision.on)
                for unit in own
            ]
    return Claims(tuple(claims), tuple(standing), tuple(free), tuple(said))


def _beyond(what: str, year: int) -> Finding:
    return finding("rotation_claim_outside", "note", what=what, year=str(year))


def _harvest(
    document: Document, at: int, candidate: Candidate, timer: Timer
) -> tuple[date | None, date | None]:
    """First and last harvest of a want with a stated day; None where it has none."""
    want = document.garden.want[at]
    if want.set_out is None:
        return None, None
    cover = None if want.protection is None else document.key("want", at, "protection")
    slot = stated_slot(candidate, want.set_out, cover, timer)
    first = days_after(want.set_out, slot.first)
    last = days_after(want.set_out, slot.last)
    if want.days_to_first_pick is not None:
        first = want.set_out + timedelta(days=want.days_to_first_pick)
    return want.first_pick or first, max(last, want.first_pick or first)
