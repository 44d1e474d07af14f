"""The expected harvest as plain text: each crop's weeks, in its unit of sale, against the stall."""

from __future__ import annotations

from datetime import date, timedelta

from bedwright.language import named
from bedwright.planning.findings import Finding
from bedwright.planning.harvest.model import BY_WEIGHT, CropHarvest, HarvestPlan, HarvestWeek, Range
from bedwright.reports.days_said import day_words, day_year_words, span_words
from bedwright.reports.fill import figure
from bedwright.reports.layout import wrapped
from bedwright.reports.words_harvest import HARVEST, HARVEST_FINDINGS, UNITS_OF_SALE
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain
from bedwright.working import Figure

_LEAST_KG = 0.005  # a week that brings less is told as nothing


def harvest_text(plan: HarvestPlan, system: UnitSystem) -> str:
    """The section of a plan; empty where nothing is picked or wished."""
    if not plan.crops:
        return ""
    title = HARVEST["title"]
    lines = [title, "-" * len(title)]
    for each in plan.findings:
        if each.weight == "act":
            lines += wrapped(harvest_sentence(each, system), "* ")
    lines += wrapped(HARVEST["about"])
    year = min((week.monday.year for crop in plan.crops for week in crop.weeks), default=0)
    for crop in plan.crops:
        lines += ["", *_crop(crop, system, year)]
    rest = [each for each in plan.findings if each.weight != "act"]
    if rest:
        lines.append("")
    for each in rest:
        lines += wrapped(harvest_sentence(each, system), "- ")
    return "\n".join([*lines, ""])


def harvest_sentence(found: Finding, system: UnitSystem) -> str:
    """A finding of the harvest as a sentence."""
    values = {}
    for key, each in found.values.items():
        if isinstance(each, Figure):
            values[key] = figure(each, system)
        elif key == "weeks":
            values[key] = ", ".join(
                span_words(*(_day(end) for end in span.split("/")))
                for span in str(each).split("; ")
            )
        elif key == "unit":
            values[key] = unit_word(str(each))
        else:
            values[key] = str(each) if key in ("beds", "year") else named(str(each))
    text = HARVEST_FINDINGS[found.code].format(**values)
    return text[:1].upper() + text[1:]


def _day(iso: str) -> date:
    return date.fromisoformat(iso)


def unit_word(unit: str) -> str:
    """A unit of sale in words; the gardener's own as written."""
    return UNITS_OF_SALE.get(unit, unit)


def told_words(crop: CropHarvest) -> str:
    """Where a crop's yield is from."""
    if crop.told_by == "record":
        return HARVEST["from_record"].format(seasons=crop.seasons)
    if crop.told_by == "table" and crop.seasons:
        return HARVEST["from_table_one"]
    return HARVEST[f"from_{crop.told_by}"]


def sold_words(crop: CropHarvest, system: UnitSystem) -> str:
    """How a crop is sold, and how much of it is fit to be."""
    key = "by_weight" if crop.unit == BY_WEIGHT or crop.unit_mass is None else "by_piece"
    values = {"unit": unit_word(crop.unit)}
    if crop.unit_mass is not None:
        values["mass"] = figure(crop.unit_mass, system)
    if crop.saleable is None:
        return HARVEST[f"{key}_all"].format(**values)
    share = crop.saleable
    low, high = (f"{end * 100:.0f}" for end in (share.least, share.most))
    values["share"] = f"{low} %" if low == high else HARVEST["share"].format(low=low, high=high)
    return HARVEST[key].format(**values)


def _crop(crop: CropHarvest, system: UnitSystem, year: int) -> list[str]:
    if not crop.plantings:
        return wrapped(HARVEST["not_grown"].format(crop=named(crop.name)))
    if all(each.mass is None for each in crop.plantings):
        return wrapped(HARVEST["not_picked"].format(crop=named(crop.name)))
    low, mass, high = _ends(crop.mass, system)
    key = "crop" if low == high else "crop_range"
    lines = wrapped(HARVEST[key].format(crop=named(crop.name), mass=mass, low=low, high=high))
    beds = ", ".join(dict.fromkeys(each.bed for each in crop.plantings))
    about = [told_words(crop), sold_words(crop, system), HARVEST["beds"].format(beds=beds)]
    if low == high and crop.mass.typical > 0:
        about.insert(1, HARVEST["no_spread"])
    lines += wrapped(" ".join(about), "  ")
    for told, weeks in _runs(crop, system):
        key = "week" if len(weeks) == 1 else "weeks"
        first, last = (_monday(each, year) for each in (weeks[0], weeks[-1]))
        text = HARVEST[key].format(day=first, last=last, amount=told)
        lines += wrapped(text, "    ", "      ")
    return lines


def _runs(crop: CropHarvest, system: UnitSystem) -> list[tuple[str, list[HarvestWeek]]]:
    """Weeks that follow each other and are told alike, told once."""
    found: list[tuple[str, list[HarvestWeek]]] = []
    for each in crop.weeks:
        told = week_words(each, system)
        follows = found and found[-1][1][-1].sunday + timedelta(days=1) == each.monday
        if follows and found[-1][0] == told:
            found[-1][1].append(each)
        else:
            found.append((told, [each]))
    return found


def _monday(week: HarvestWeek, year: int) -> str:
    on = week.monday
    return day_words(on) if on.year == year else day_year_words(on)


def week_words(week: HarvestWeek, system: UnitSystem) -> str:
    """One week of a crop: what is fit to sell, and whether it is what the stall wants."""
    low, mass, high = _ends(week.to_sell, system)
    most = week.to_sell.high if week.pieces is None else week.pieces.high
    if week.to_sell.high < _LEAST_KG or (week.pieces is not None and round(most) < 1):
        amount = HARVEST["nothing"]
    elif week.to_sell.typical < _LEAST_KG:
        most_words = high if week.pieces is None else plain(round(most), 3)
        amount = HARVEST["seldom"].format(high=most_words)
    elif week.pieces is not None:
        pieces = [plain(round(x), 3) for x in (week.pieces.low, week.pieces.high)]
        amount = HARVEST["pieces"].format(
            pieces=plain(round(week.pieces.typical), 3), low=pieces[0], high=pieces[1], mass=mass
        )
    else:
        amount = mass if low == high else HARVEST["range"].format(mass=mass, low=low, high=high)
    if week.wanted is not None:
        wanted = show(week.wanted, "mass", system, digits=2)
        amount = HARVEST["wanted"].format(amount=amount, wanted=wanted)
        if week.balance:
            amount = f"{amount}: {HARVEST[week.balance]}"
    return amount


def _ends(mass: Range, system: UnitSystem) -> tuple[str, str, str]:
    low, typical, high = (
        show(each, "mass", system, digits=2) for each in (mass.low, mass.typical, mass.high)
    )
    return low, typical, high
