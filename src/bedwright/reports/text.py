"""The season plan as plain text in 80 columns: what to do, then why, then what not to add."""

from __future__ import annotations

from collections.abc import Iterable

from bedwright.feeding.materials import Material
from bedwright.planning.findings import Finding
from bedwright.planning.garden_blend import Purchase
from bedwright.planning.mixes import FAR_LESS
from bedwright.planning.nutrients import Need
from bedwright.planning.prescription import Line, Prescription
from bedwright.reports import words
from bedwright.reports.dates_text import want_lines
from bedwright.reports.fill import figure, measure, sentence, value
from bedwright.reports.heap_text import compost_text, heap_text
from bedwright.reports.layout import wrapped
from bedwright.reports.nitrogen_text import (
    OF_THE_GARDEN,
    dressing_days,
    nitrogen_notes,
    spreading_days,
)
from bedwright.season import BedPlan, SeasonPlan
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain
from bedwright.working import Figure

# Said once for the garden, not for every bed.
_SAID_ONCE = frozenset({"no_prices", "price_missing", "no_stock_list"}) | OF_THE_GARDEN


def bed_text(plan: BedPlan, system: UnitSystem) -> str:
    """Everything that is said of one bed."""
    prescribed = plan.prescription
    parts = [
        _heading(prescribed, system),
        _acts(plan, system),
        _dates(plan, system),
        _spread(plan, system),
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
    parts += [bed_text(each, system) for each in plan.beds]
    if plan.complete:
        parts += [part for part in (_mixes(plan, system), shed_text(plan, system)) if part]
        parts += [heap_text(each, system) for each in plan.heaps]
        parts += [compost_text(each, system) for each in plan.composts]
    return "\n".join(parts).rstrip() + "\n"


def _cover(plan: SeasonPlan) -> str:
    place = plan.document.garden.garden
    lines = wrapped(f"{place.name}: what each bed gets, as of {plan.as_of.isoformat()}")
    lines.append("=" * len(lines[0]))
    if place.note:
        lines += wrapped(place.note)
    if plan.unplanned:
        lines += wrapped(f"No crop is wanted for: {', '.join(plan.unplanned)}.")
    of_beds = [each for bed in plan.beds for each in bed.findings if each.code in _SAID_ONCE]
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
    title = f"Bed {bed.id}: {plan.crop.name.lower()}"
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
    told = want_lines(plan.dates, system, planned=True)
    return ["WHEN TO PLANT", *(line for each in told for line in wrapped(each, "  ", "    "))]


def _spread(bed: BedPlan, system: UnitSystem) -> list[str]:
    plan = bed.prescription
    if not plan.lines:
        return ["NOTHING TO SPREAD"]
    lines = [f"BEFORE PLANTING ({spreading_days(bed.nitrogen)})"]
    before = [each for each in plan.lines if each.preplant.value > 0]
    if not before:
        lines.append("  Nothing.")
    for each in before:
        lines += _amount(each, each.preplant.value, system, _into(each, plan, system))
    later = [each for each in plan.lines if each.later.value > 0]
    if later:
        count = max(plan.nitrogen.side_dressings, 1)
        near = "3 to 4 in" if system is UnitSystem.US else "8 to 10 cm"
        times = "ONE SIDE-DRESSING" if count == 1 else f"{count} SIDE-DRESSINGS, EACH"
        days = dressing_days(bed.nitrogen)
        when = f", on or about {days}" if days else ""
        lines += [
            "",
            *wrapped(f"LATER: {times}{when}; {near} from the stems, scratched in, watered"),
        ]
        for each in later:
            lines += _amount(each, each.later.value / count, system)
    return lines


def _into(line: Line, plan: Prescription, system: UnitSystem) -> str:
    """How a material is worked in before planting: common practice."""
    if line.material.form == "bulk" or line.material.kind == "liming":
        depth = show(plan.evidence.mixing_depth.value, "depth", system, digits=2)
        return f"Spread evenly, work into the top {depth}."
    if line.material.measure == "weight_only":
        return "Mix with a bucket of dry sand, scatter evenly, rake in."
    return "Scatter evenly over the whole bed, rake in lightly."


def _amount(line: Line, mass_kg: float, system: UnitSystem, into: str = "") -> list[str]:
    caution = "; ".join(words.CAUTIONS[each.code] for each in line.material.cautions)
    lines = wrapped(f"Caution: {caution}.", "  ") if caution else []
    mass = show(mass_kg, "mass", system)
    lines.append(f"  {mass:<12} {line.material.name.lower()}")
    how = measure(line, mass_kg, system)
    return lines + wrapped(f"{how[:1].upper()}{how[1:]}. {into}".strip(), " " * 15)


def _why(plan: Prescription, system: UnitSystem) -> list[str]:
    lines = ["WHY"]
    lines += _nitrogen(plan, system)
    for need in plan.needs:
        lines += _need(plan, need, system)
    if plan.blend.binding:
        held = "; ".join(words.NUTRIENTS.get(key, key) for key in plan.blend.binding)
        lines += wrapped(f"What decides the amounts: {held}.", "  ")
    lines += _prices(plan)
    if plan.blend.shortfall:
        for key, short in plan.blend.shortfall.items():
            name = words.NUTRIENTS.get(key, key)
            lines += wrapped(f"Short of {name} by {value(short, 'kg/m2', system)}.", "  ")
    for each in plan.findings:
        if each.weight == "note":
            lines += wrapped(sentence(each, system), "  ")
    return lines


def _nitrogen(plan: Prescription, system: UnitSystem) -> list[str]:
    n = plan.nitrogen
    credits = ", ".join(f"{_credit_name(each.name)} {figure(each, system)}" for each in n.credits)
    text = f"Nitrogen: the crop needs {figure(n.crop_need, system)}."
    if credits:
        text += f" The bed already gives: {credits}."
    text += f" Left to supply: {figure(n.to_supply, system)}."
    given = plan.blend.supplied.get("n_ceiling", 0.0)
    if given > 0:
        low, high = (sum(_released(each, end) for each in plan.lines) for end in ("least", "most"))
        released = Figure("released", given, "kg/m2", "computed", low=low, high=high)
        text += f" The blend releases {figure(released, system)}."
    return wrapped(text, "  ")


def _released(line: Line, end: str) -> float:
    season = line.supply.n_season
    return 0.0 if season is None else line.per_area * float(getattr(season, end))


def _credit_name(name: str) -> str:
    for start in ("carry_over_", "fresh_"):
        if name.startswith(start):
            material, _, day = name.removeprefix(start).rpartition("_")
            return f"{material.replace('_', ' ')} of {day}"
    return {
        "nitrate_credit": "soil nitrate",
        "organic_matter_credit": "organic matter",
        "irrigation_credit": "the water",
    }.get(name, name.replace("_", " "))


def _need(plan: Prescription, need: Need, system: UnitSystem) -> list[str]:
    name = words.NUTRIENTS[need.nutrient]
    text = f"{name[:1].upper()}{name[1:]}: "
    if need.reading is not None:
        r = need.reading
        method = r.measurement.extractant.replace("_", " ")
        text += f"{method} test {figure(r.measurement.figure, system)}, {words.SUPPLY[r.supply]}. "
    text += f"Need {figure(need.amount, system)}"
    given = plan.blend.supplied.get(need.nutrient, 0.0)
    if given:
        text += f"; the blend gives {value(given, 'kg/m2', system)}"
    total = plan.blend.supplied.get(f"{need.nutrient}_ceiling", 0.0)
    if need.ceiling is not None:
        text += f"; at most {value(need.ceiling.value, 'kg/m2', system)} in all"
        if total:
            text += f", the blend brings {value(total, 'kg/m2', system)}"
    return wrapped(text + ".", "  ")


def _prices(plan: Prescription) -> list[str]:
    if not any(line.offer.price_stated for line in plan.lines):
        return []
    said = []
    for key, price in plan.blend.prices.items():
        if key in ("n_season", "p2o5", "k2o") and price > 0:
            said.append(
                f"a pound more of {words.NUTRIENTS[key]} would cost {price * 0.45359237:.2f}"
            )
    return wrapped(f"At your prices {'; '.join(said)}.", "  ") if said else []


def _by_week(plan: BedPlan, system: UnitSystem) -> list[str]:
    notes = nitrogen_notes(plan.nitrogen, system)
    lines = [line for each in notes for line in wrapped(each, "  ")]
    return ["NITROGEN BY WEEK", *lines] if lines else []


def _not_to_add(plan: BedPlan, system: UnitSystem) -> list[str]:
    reasons: dict[str, list[Material]] = {}
    for each in plan.prescription.strikes:
        reasons.setdefault(each.code, []).append(each.material)
    lines = ["WHAT NOT TO ADD"]
    for code, materials in reasons.items():
        names = ", ".join(item.name.lower() for item in materials)
        lines += wrapped(f"{names}: {words.STRIKES[code]}", "  ", "    ")
    for said in plan.manure.findings if plan.manure is not None else ():
        if said.weight == "note":
            lines += wrapped(sentence(said, system), "  ", "    ")
    return lines if len(lines) > 1 else []


def _habits(plan: BedPlan, system: UnitSystem) -> list[str]:
    lines = ["RULES OF THUMB (common practice, no source)"]
    for habit in plan.habits:
        ends = (value(end, habit.rule.unit, system) for end in (habit.rule.least, habit.rule.most))
        rule = words.HABITS[habit.code].format(rule=" to ".join(ends))
        ours = "none" if habit.ours is None or habit.ours.value == 0 else figure(habit.ours, system)
        lines += wrapped(f"{rule}: here {ours}; {words.HABIT_WHY[habit.why]}.", "  ", "    ")
    return lines


def _labels(plan: BedPlan, system: UnitSystem) -> list[str]:
    lines: list[str] = []
    if plan.labels:
        lines.append("WHAT THE LABELS WOULD SAY, scaled to this bed")
        for each in plan.labels:
            low, high = (show(end, "mass", system) for end in (each.amount.least, each.amount.most))
            span = low if low == high else f"{low} to {high}"
            ours = "none" if each.ours == 0 else show(each.ours, "mass", system)
            assumes = words.LABEL_ASSUMES[each.assumes]
            text = f"{each.material.name.lower()}: {span}; here {ours} ({assumes})"
            lines += wrapped(text, "  ", "    ")
    if plan.missing:
        lines.append("TESTS THAT WOULD CHANGE THIS")
        for test, decides in plan.missing:
            lines += wrapped(f"{words.ANALYTES[test]}: {words.TEST_DECIDES[decides]}", "  ", "    ")
    return lines


def _rest(plan: BedPlan, system: UnitSystem) -> list[str]:
    def listed(title: str, found: list[Finding]) -> list[str]:
        lines = [line for text in _said(found, system) for line in wrapped(text, "  ")]
        return [title, *lines] if lines else []

    doubts = [each for each in plan.findings if each.weight == "doubt"]
    assumed = [
        each for each in plan.findings if each.weight == "assumed" and each.code not in _SAID_ONCE
    ]
    return listed("DOUBTS", doubts) + listed("TAKEN FOR GRANTED", assumed)


def _said(found: list[Finding], system: UnitSystem) -> list[str]:
    """Sentences of findings; those that differ only by their analyte are said in one."""
    texts: list[str] = []
    for code in dict.fromkeys(each.code for each in found):
        same = [each for each in found if each.code == code]
        if len(same) > 1 and set(same[0].values) <= {"analyte", "extractant"}:
            names = (
                words.ANALYTES.get(str(e.values["analyte"]), str(e.values["analyte"])) for e in same
            )
            joined = Finding(code, same[0].weight, {**same[0].values, "analyte": ", ".join(names)})
            texts.append(sentence(joined, system))
        else:
            texts += [sentence(each, system) for each in same]
    return texts


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


def shed_text(plan: SeasonPlan, system: UnitSystem) -> str:
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


def _money(plan: SeasonPlan) -> list[str]:
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
