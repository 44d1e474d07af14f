"""What to do now: warnings, dates coming up, what is due, what is to buy, what is not known."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import path
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from bedwright.garden.failed import open_wants
from bedwright.journal import EntryError, read_entry
from bedwright.planning.findings import Finding
from bedwright.planning.work.making import monday
from bedwright.reports import words
from bedwright.reports.fill import sentence_parts
from bedwright.reports.parts import Sentence, joined
from bedwright.reports.text import SAID_ONCE
from bedwright.reports.urgent import OF_LATER, OF_THE_PLAN
from bedwright.season import SeasonPlan
from bedwright.units import UnitSystem
from bedwright.web.coming import Coming, coming, done_acts, within
from bedwright.web.figures import Doors, bed_doors, garden_figures
from bedwright.web.journal_plan import planned_acts
from bedwright.web.models import Entry
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, plan_or_work, with_standing
from bedwright.web.watering.kept import water_of
from bedwright.web.watering.told_day import zones_told
from bedwright.web.work.kept import work_in_hand
from bedwright.web.work.told_week import tasks_in_short

_AHEAD = timedelta(weeks=6)
_NOW = timedelta(weeks=1)
_BEHIND = timedelta(weeks=3)  # what is past and not written down stays that long
_CLASH, _NO_MANURE = "demands_clash", "no_raw_manure"
_SOONER = ("screening_", "salt_over_limit", "raw_manure", "leach_", "reject_site", "sodic")

# What is done on a day, by the codes of ``coming``.
DONE_ON_A_DAY: dict[str, Promise] = {
    "order_by": _("Order seed"),
    "sow_under_cover": _("Sow under cover"),
    "harden_from": _("Begin to harden off"),
    "clear_by": _("Clear the bed"),
    "spread": _("Spread"),
    "lay_drip_by": _("Lay drip"),
    "set_out": _("Set out"),
    "sow": _("Sow"),
    "plant_pieces": _("Plant"),
    "sow_again": _("Sow or set out again"),
    "side_dress": _("Side-dress"),
    "side_dress_more": _("Side-dress once more"),
    "cover_off": _("Take the cover off"),
    "first_picking": _("First harvest"),
    "last_picking": _("Last harvest"),
}


@dataclass(frozen=True)
class Warned:
    """One thing to act on, with the beds that it concerns and the doors of the first of them."""

    code: str
    beds: tuple[str, ...]
    sentence: Sentence
    doors: Doors


@dataclass(frozen=True)
class NotKnown:
    """A test that beds lack, and what it decides on them."""

    test: str
    decides: str
    beds: tuple[str, ...]


@with_standing
def today(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The first page."""
    plan, _job = plan_or_work(standing)
    shown = _of_document(standing) if plan is None else _of_plan(plan, standing)
    hand = work_in_hand(standing) if plan is not None else None
    if hand is not None:
        shown["tasks"] = tasks_in_short(hand, monday(standing.as_of))
    water = water_of(standing, standing.as_of)
    if water is not None:
        shown["zones"] = zones_told(water, standing.system)
    return page(request, "today.html", standing, **shown)


def _of_document(standing: Standing) -> dict[str, Any]:
    """What the document alone knows, while the plan is being made."""
    garden = standing.document.garden
    covered = {bed for report in garden.soil_report for bed in report.beds}
    wanted = open_wants(garden)
    planned = {at for places in wanted.values() for at in places}
    wants = [each for at, each in enumerate(garden.want) if not each.beds or at in planned]
    last = standing.as_of + _AHEAD
    return {
        "wants": wants,
        "soon": [
            each
            for each in wants
            if each.set_out is not None and standing.as_of <= each.set_out <= last
        ],
        "untested": [bed.id for bed in garden.bed if bed.id in wanted and bed.id not in covered],
    }


def _of_plan(plan: SeasonPlan, standing: Standing) -> dict[str, Any]:
    days = coming(plan, _done(plan, standing))
    first, last = standing.as_of - _BEHIND, standing.as_of + _AHEAD
    system = standing.system
    of_garden = {
        joined(sentence_parts(each, system)): None
        for each in (
            *(each for bed in plan.plantings for each in bed.findings if each.code in SAID_ONCE),
            *(plan.dates.findings if plan.dates is not None else ()),
        )
    }
    manure = [each for each in within(days, standing.as_of, last) if each.code == _NO_MANURE]
    days = tuple(each for each in days if each.code != _NO_MANURE)
    near = [_said(each, standing) for each in within(days, first, last)]
    warned, figures = _warnings(plan, system), garden_figures(plan)
    return {
        "warnings": [each for each in warned if each.code not in OF_THE_PLAN],
        "clashes": [each for each in warned if each.code == _CLASH],
        "wishes": [each for each in warned if each.code in OF_THE_PLAN - {_CLASH}],
        "manure": manure,
        "past": [each for each in near if each["away"] < 0],
        "now": [each for each in near if 0 <= each["away"] <= _NOW.days],
        "near": [each for each in near if each["away"] > _NOW.days],
        "next": next((_said(each, standing) for each in days if each.on > last), None),
        "weeks": _AHEAD.days // 7,
        "doors": Doors("", figures),
        "bought": [
            (key := f"buy-{total.key}-{at}", total, each, figures[key])
            for total in plan.totals
            for at, each in enumerate(total.bought)
        ],
        "not_known": _not_known(plan),
        "of_garden": list(of_garden),
    }


def _said(each: Coming, standing: Standing) -> dict[str, Any]:
    return {
        "on": each.on,
        "away": each.away(standing.as_of),
        "past": -each.away(standing.as_of),
        "what": DONE_ON_A_DAY[each.code],
        "crop": each.crop,
        "beds": each.beds,
    }


def _done(plan: SeasonPlan, standing: Standing) -> frozenset[tuple[str, str]]:
    entries = []
    for row in Entry.objects.filter(garden=standing.garden, voided_at=None):
        try:
            entries.append(read_entry(row.plain()))
        except EntryError:
            continue  # the journal's own page tells of it
    acts = planned_acts(plan, standing.system, entries)
    return done_acts(
        (bed, act.what, act.later, act.written is not None)
        for bed, each in acts.items()
        for act in each
    )


def _warnings(plan: SeasonPlan, system: UnitSystem) -> list[Warned]:
    """What is to be acted on, each text once, the gravest first."""
    found: dict[tuple[str, str], Warned] = {}
    for bed in plan.plantings:
        doors = None
        for each in bed.findings:
            if each.weight != "act" or each.code in OF_LATER:
                continue
            clash = each.code == _CLASH
            said = _clashing(each) if clash else sentence_parts(each, system)
            key = each.code, joined(said)
            bed_id = bed.prescription.bed.id
            if key in found:
                beds = (*found[key].beds, bed_id)
                found[key] = Warned(each.code, beds, found[key].sentence, found[key].doors)
            else:
                doors = doors or bed_doors(bed)
                found[key] = Warned(each.code, (bed_id,), said, doors)
    return [found[key] for key in sorted(found, key=lambda key: not key[0].startswith(_SOONER))]


def _clashing(found: Finding) -> Sentence:
    """Which demands clash, without the words that are the same on every bed."""
    demands = str(found.values["demands"]).split()
    return ("; ".join(words.NUTRIENTS.get(each, each) for each in demands),)


def _not_known(plan: SeasonPlan) -> list[NotKnown]:
    """The tests that plans had to do without; those that decide on the most beds first."""
    beds: dict[tuple[str, str], list[str]] = {}
    for bed in plan.plantings:
        for missing in bed.missing:
            beds.setdefault(missing, []).append(bed.prescription.bed.id)
    return [
        NotKnown(words.ANALYTES[test], words.TEST_DECIDES[decides], tuple(ids))
        for (test, decides), ids in sorted(beds.items(), key=lambda each: -len(each[1]))
    ]


def healthy(request: HttpRequest) -> HttpResponse:
    """That the server answers; asked by what starts it."""
    return HttpResponse("yes", content_type="text/plain")


URLS = [path("", today, name="today"), path("healthy/", healthy, name="healthy")]
