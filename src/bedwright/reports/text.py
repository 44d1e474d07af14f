"""The season plan as plain text in 80 columns: what to do, then why, then what not to add."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bedwright.planning.findings import Finding
from bedwright.planning.garden_blend import Purchase
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.mixes import FAR_LESS
from bedwright.planning.prescription import Line, Prescription
from bedwright.planning.watering.stand_water import StandWater
from bedwright.reports.bed_beside import (
    habit_sentence,
    label_sentence,
    left_out,
    manure_notes,
    missing_sentences,
    said_together,
)
from bedwright.reports.bed_why import why_lines
from bedwright.reports.dates_text import want_lines
from bedwright.reports.fill import sentence
from bedwright.reports.harvest_text import harvest_text
from bedwright.reports.heap_text import compost_text, heap_text
from bedwright.reports.layout import wrapped
from bedwright.reports.layout_text import (
    caution_lines,
    count_lines,
    drip_line,
    layout_sentence,
    row_lines,
    trellis_lines,
)
from bedwright.reports.nitrogen_text import (
    OF_THE_GARDEN,
    cleared_before,
    dressing_days,
    nitrogen_notes,
    spreading_days,
)
from bedwright.reports.parts import joined
from bedwright.reports.purchases_text import purchases_text
from bedwright.reports.spreading_text import amount_words, in_turns, into_words, near_stems
from bedwright.reports.summer_text import bed_summer_lines, summer_text
from bedwright.reports.turnover_said import bed_turnover_lines
from bedwright.reports.water_plan import garden_water_text
from bedwright.reports.water_schedule import bed_water_lines
from bedwright.reports.words_spreading import SPREADING
from bedwright.reports.words_water import WATER_PLAN
from bedwright.reports.years_short import years_short
from bedwright.season import BedPlan, SeasonBlend, SeasonPlan
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain

# Said once for the garden, not for every bed.
SAID_ONCE = frozenset({"no_prices", "price_missing", "no_stock_list"}) | OF_THE_GARDEN


def bed_text(
    plan: BedPlan,
    system: UnitSystem,
    layout: BedLayout | None = None,
    summer: Sequence[str] = (),
    water: StandWater | None = None,
    standing: Sequence[str] = (),
) -> str:
    """Everything that is said of one planting of a bed; ``layout`` is that of its rows, ``summer``
    the lines on its summer, ``water`` its watering, ``standing`` the lines on what must come out.
    """
    prescribed = plan.prescription
    parts = [
        _heading(prescribed, system),
        _acts(plan, system),
        list(standing),
        _dates(plan, system),
        _rows(layout, system),
        _water(water, system),
        list(summer),
        _spread(plan, system, layout),
        _why(prescribed, system),
        _by_week(plan, system),
        _not_to_add(plan, system),
        _habits(plan, system),
        _labels(plan, system),
        _rest(plan, system),
    ]
    return "\n".join(line for part in parts if part for line in (*part, ""))


def plan_text(plan: SeasonPlan) -> str:
    """The whole plan: the garden, each bed, the usual mixes, the shed."""
    garden = plan.document.garden
    system = garden.garden.units
    parts = [_cover(plan)]
    for each in plan.beds:
        bed = each.prescription.bed.id
        further = [after for after in plan.second if after.prescription.bed.id == bed]
        parts += [_planting(plan, one) for one in (each, *further)]
    if plan.water is not None or garden.watering is not None or garden.water_zone:
        parts.append(garden_water_text(plan.water, system, garden.garden.currency))
    if plan.years is not None:
        parts.append(years_short(plan.years))
    if plan.summer is not None:
        parts.append(summer_text(plan.summer, plan.document))
    if plan.harvest is not None:
        parts.append(harvest_text(plan.harvest, system))
    if plan.complete:
        parts += [part for part in (_mixes(plan, system), shed_text(plan, system)) if part]
    if plan.purchases is not None:
        parts.append(purchases_text(plan.purchases, system, garden.garden.currency))
    if plan.complete:
        parts += [heap_text(each, system) for each in plan.heaps]
        parts += [compost_text(each, system) for each in plan.composts]
    return "\n".join(parts).rstrip() + "\n"


def _planting(plan: SeasonPlan, each: BedPlan) -> str:
    system = plan.document.garden.garden.units
    standing = bed_turnover_lines(
        plan.turnover_of(each), system, plan.document.garden.garden.currency
    )
    return bed_text(
        each, system, plan.layout_of(each), _summer(plan, each), plan.water_of(each), standing
    )


def _summer(plan: SeasonPlan, each: BedPlan) -> list[str]:
    """The lines on a planting's summer."""
    found = plan.summer_of(each)
    if plan.summer is None or found is None:
        return []
    return bed_summer_lines(plan.summer, found, plan.document)


def _cover(plan: SeasonPlan) -> str:
    place = plan.document.garden.garden
    lines = wrapped(f"{place.name}: what each bed gets, as of {plan.as_of.isoformat()}")
    lines.append("=" * len(lines[0]))
    if place.note:
        lines += wrapped(place.note)
    if plan.unplanned:
        lines += wrapped(f"No crop is wanted for: {', '.join(plan.unplanned)}.")
    for found in plan.findings:
        lines += wrapped(sentence(found, place.units))
    of_beds = [each for bed in plan.beds for each in bed.findings if each.code in SAID_ONCE]
    of_dates = plan.dates.findings if plan.dates is not None else ()
    said = dict.fromkeys(sentence(each, place.units) for each in (*of_beds, *of_dates))
    for each in said:
        lines += wrapped(each)
    lines += wrapped("Labels and local rules outrank this plan. Figures in brackets are the range.")
    return "\n".join([*lines, ""])


def _heading(plan: Prescription, system: UnitSystem) -> list[str]:
    bed, known = plan.bed, plan.evidence
    kind = "raised bed" if bed.kind == "raised" else "in-ground bed"
    texture = known.texture.replace("_", " ")
    title = f"Bed {plan.ground}: {plan.crop.name.lower()}"
    if plan.first is not None:
        title += f", after the year's {plan.first}"
    report = "no soil report"
    if known.report is not None:
        report = f"soil report {known.report.id} of {known.report.sampled.isoformat()}"
    about = f"{show(known.area.value, 'area', system)}, {kind}, {texture}, {report}"
    return [title, "-" * len(title), *wrapped(about)]


def _acts(plan: BedPlan, system: UnitSystem) -> list[str]:
    urgent = [each for each in plan.findings if each.weight in ("act", "caution")]
    return [line for each in urgent for line in wrapped(sentence(each, system), "* ")]


def _dates(plan: BedPlan, system: UnitSystem) -> list[str]:
    """When to plant; its findings stand among the others."""
    if plan.dates is None or not plan.dates.turns:
        return []
    told = want_lines(plan.dates, system, planned=True, spread=cleared_before(plan))
    return ["WHEN TO PLANT", *(line for each in told for line in wrapped(each, "  ", "    "))]


def _rows(layout: BedLayout | None, system: UnitSystem) -> list[str]:
    """How the rows lie, what they take, and their trellis with its cautions first."""
    if layout is None:
        return []
    told = [*row_lines(layout, system), *count_lines(layout, system), drip_line(layout, system)]
    for parts in layout.trellises:
        told += [*caution_lines(parts, system), *trellis_lines(parts, system)]
    told += [
        layout_sentence(each, system)
        for each in layout.findings
        if each.code.startswith("side_") or each.weight in ("act", "caution")
    ]
    return ["ROWS", *(line for each in told for line in wrapped(each, "  ", "    "))]


def _water(water: StandWater | None, system: UnitSystem) -> list[str]:
    """Minutes by month, the season's water, what holds in heat and after rain."""
    if water is None:
        return []
    told = bed_water_lines(water, system)
    return [WATER_PLAN["head"], *(line for each in told for line in wrapped(each, "  ", "    "))]


def _spread(bed: BedPlan, system: UnitSystem, layout: BedLayout | None) -> list[str]:
    plan = bed.prescription
    if not plan.lines:
        return ["NOTHING TO SPREAD"]
    lines = [f"BEFORE PLANTING ({spreading_days(bed.nitrogen)})"]
    before = [each for each in plan.lines if each.preplant.value > 0]
    if not before:
        lines.append("  Nothing.")
    turns = in_turns(before, plan)
    for nth, turn in enumerate(turns):
        if len(turns) > 1:
            lines.append(f"  {SPREADING['lime_ahead']}" if nth == 0 else "  Then:")
        for each in turn:
            lines += _amount(each, each.preplant.value, system, into_words(each, plan, system))
    later = [each for each in plan.lines if each.later.value > 0]
    if later:
        count = max(plan.nitrogen.side_dressings, 1)
        times = "ONE SIDE-DRESSING" if count == 1 else f"{count} SIDE-DRESSINGS, EACH"
        days = dressing_days(bed.nitrogen)
        when = f", on or about {days}" if days else ""
        lines += [
            "",
            *wrapped(f"LATER: {times}{when}; {near_stems(system, layout)}"),
        ]
        for each in later:
            lines += _amount(each, each.later.value / count, system)
    return lines


def _amount(line: Line, mass_kg: float, system: UnitSystem, into: str = "") -> list[str]:
    said = amount_words(line, mass_kg, system, into)
    lines = wrapped(f"{SPREADING['caution']} {said.cautions}", "  ") if said.cautions else []
    lines.append(f"  {said.mass:<12} {said.material}")
    return lines + wrapped(f"{said.measure} {said.into}".strip(), " " * 15)


def _why(plan: Prescription, system: UnitSystem) -> list[str]:
    return ["WHY", *(line for each in why_lines(plan, system) for line in wrapped(each, "  "))]


def _by_week(plan: BedPlan, system: UnitSystem) -> list[str]:
    notes = nitrogen_notes(plan.nitrogen, system)
    lines = [line for each in notes for line in wrapped(each, "  ")]
    return ["NITROGEN BY WEEK", *lines] if lines else []


def _not_to_add(plan: BedPlan, system: UnitSystem) -> list[str]:
    lines = ["WHAT NOT TO ADD"]
    for names, reason in left_out(plan):
        lines += wrapped(f"{names}: {reason}", "  ", "    ")
    for said in manure_notes(plan, system):
        lines += wrapped(joined(said), "  ", "    ")
    return lines if len(lines) > 1 else []


def _habits(plan: BedPlan, system: UnitSystem) -> list[str]:
    lines = ["RULES OF THUMB (common practice, no source)"]
    for habit in plan.habits:
        lines += wrapped(joined(habit_sentence(habit, system)), "  ", "    ")
    return lines


def _labels(plan: BedPlan, system: UnitSystem) -> list[str]:
    lines: list[str] = []
    if plan.labels:
        lines.append("WHAT THE LABELS WOULD SAY, scaled to this bed")
        for each in plan.labels:
            lines += wrapped(joined(label_sentence(each, system)), "  ", "    ")
    if plan.missing:
        lines.append("TESTS THAT WOULD CHANGE THIS")
        for text in missing_sentences(plan.missing):
            lines += wrapped(text, "  ", "    ")
    return lines


def _rest(plan: BedPlan, system: UnitSystem) -> list[str]:
    def listed(title: str, found: list[Finding]) -> list[str]:
        told = said_together(found, system)
        lines = [line for each in told for line in wrapped(joined(each), "  ")]
        return [title, *lines] if lines else []

    doubts = [each for each in plan.findings if each.weight == "doubt"]
    assumed = [
        each for each in plan.findings if each.weight == "assumed" and each.code not in SAID_ONCE
    ]
    return listed("DOUBTS", doubts) + listed("TAKEN FOR GRANTED", assumed)


def _mixes(plan: SeasonPlan, system: UnitSystem) -> str:
    lines: list[str] = []
    for each in plan.mixes:
        mixed = each.mixed
        title = f"Your usual mix: {each.stated.name}"
        parts = "; ".join(
            f"{part.amount.text} {name.lower()}"
            for part, name in zip(each.stated.parts, each.names, strict=True)
        )
        lines += [title, "-" * len(title), *wrapped(parts)]
        lines.append(f"  bags added up (wrong)  {_npk(mixed.summed_labels)}")
        lines.append(f"  the mixture is         {_npk(mixed.analysis)}")
        lines.append(f"  its first season gives {_npk(mixed.first_season)}")
        for at, name in enumerate(("nitrogen", "phosphate", "potash")):
            times = mixed.shortfall(at)
            if times is not None and times > 50:
                lines += wrapped(f"{name}: next to nothing of what the bags suggest", "  * ")
            elif times is not None and times > FAR_LESS:
                lines += wrapped(f"{name}: {times:.1f} times less than the bags suggest", "  * ")
        lines.append("")
    return "\n".join(lines)


def _npk(values: Iterable[float | None]) -> str:
    return " - ".join("not known" if each is None else plain(each * 100, 2) for each in values)


def shed_text(plan: SeasonPlan | SeasonBlend, system: UnitSystem) -> str:
    """What all beds take together, what is on hand, what to buy."""
    if not plan.totals:
        return ""
    title = "The shed: what all beds take together"
    lines = [title, "-" * len(title)]
    for found in plan.shared.findings:
        lines += wrapped(sentence(found, system), "* ")
    for each in plan.totals:
        have = "not counted" if each.on_hand_kg is None else show(each.on_hand_kg, "mass", system)
        name = f"{each.name.lower()} (on hand: {have})"
        lines += wrapped(f"{show(each.needed_kg, 'mass', system):<12} {name}", "  ", " " * 15)
        lines += [
            line for bought in each.bought for line in wrapped(_buy(bought, system), " " * 15)
        ]
    lines += _money(plan)
    groups = [group for group in plan.shared.groups if len(group.beds) > 1]
    for group in groups:
        beds = ", ".join(bed.bed.id for bed in group.beds)
        lines += wrapped(f"Beds {beds} are alike and share one recipe.", "  ")
    return "\n".join([*lines, ""])


def _buy(bought: Purchase, system: UnitSystem) -> str:
    if bought.loose:
        return f"buy {show(bought.count * bought.package_kg, 'mass', system)}"
    count = f"{bought.count:.0f} package{'s' if bought.count > 1 else ''}"
    size = show(bought.package_kg, "mass", system)
    return f"buy {count} of {size}, {bought.count * bought.price:.2f}"


def _money(plan: SeasonPlan | SeasonBlend) -> list[str]:
    garden = plan.document.garden
    if not plan.prices_stated:
        return []
    currency = garden.garden.currency
    text = f"To buy: {plan.shared.money:.2f} {currency}, stock used first."
    unpriced = [each.name.lower() for each in plan.totals if each.bought and not each.price_stated]
    if unpriced:
        text += f" The price of {', '.join(unpriced)} is not stated and not in this sum."
    if plan.shared.gap is not None and plan.shared.gap > 0.0005:
        text += f" No plan can be more than {plan.shared.gap * 100:.1f} % cheaper."
    budget = garden.limits.budget
    if budget is not None and plan.shared.money <= budget.si and not unpriced:
        text += f" That is within the budget of {budget.text}."
    return wrapped(text, "  ")
