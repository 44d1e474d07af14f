"""Tasks, what to bring and findings of the work in the reader's words."""

from __future__ import annotations

from datetime import date

from bedwright.language import named, names_said, said
from bedwright.planning.findings import Finding
from bedwright.planning.work.model import Bring, Task
from bedwright.reference import Library
from bedwright.reports import words
from bedwright.reports.days_said import day_words
from bedwright.reports.fill import figure, sentence
from bedwright.reports.words_turnover import ANIMALS, WAYS
from bedwright.reports.words_work import TASKS, THINGS, WEEK, WORK_FINDINGS
from bedwright.units import UnitSystem, show
from bedwright.units.parse import unit_factor
from bedwright.units.show import plain
from bedwright.working import Figure

_MOST_PLACES = 2  # hours are told to a tenth, short ones to a hundredth
_LEAST_TOLD = 0.005  # of an hour: in hundredths it would read as no time
_SHORTEST = 0.001


def work_sentence(found: Finding, system: UnitSystem) -> str:
    """A finding as a sentence. Raises KeyError for a code without words."""
    if found.code not in WORK_FINDINGS:
        return sentence(found, system)
    values = {key: _value(key, each, system) for key, each in found.values.items()}
    if found.code == "work_clear_way":
        stock = str(found.values["stock"])
        way = WAYS[str(found.values["way"])]
        values["way"] = way.format(stock=ANIMALS[stock] if stock else "")
    text = WORK_FINDINGS[found.code].format(**values)
    return text[:1].upper() + text[1:]


def _value(key: str, each: object, system: UnitSystem) -> str:
    if isinstance(each, Figure):
        return figure(each, system, ranged=False)
    if isinstance(each, float):
        return plain(each)
    text = str(each)
    if key == "caution":
        return words.CAUTIONS[text]
    if key == "materials":
        return names_said(text)
    if key == "kinds":
        return ", ".join(TASKS[kind] for kind in text.split(", "))
    if key in ("planned", "laid"):
        text = day_words(date.fromisoformat(text))
    elif key != "bed":
        text = named(text)
    return text


def hours_words(hours: float) -> str:
    """Hours to a tenth; short ones to a hundredth; less to a thousandth, the least that is told."""
    if 0 < hours < _LEAST_TOLD:
        return f"{max(hours, _SHORTEST):.1g}"
    return f"{hours:.1f}" if hours >= 1 else f"{hours:.{_MOST_PLACES}f}"


def place_words(task: Task, library: Library) -> str:
    """The bed and crop of a task, or the whole garden."""
    if task.bed is None:
        return WEEK["whole_garden"]
    if task.crop is None:
        return task.bed
    name = named(library.crop(task.crop)["name"]).lower()
    return WEEK["place"].format(bed=task.bed, crop=name)


def bring_words(each: Bring, library: Library, system: UnitSystem) -> str:
    """One thing to bring, with its amount."""
    if each.kind == "material":
        from bedwright.feeding.materials import material

        thing = named(material(library, each.key).name).lower()
    elif each.kind in ("seed", "plants"):
        thing = named(library.crop(each.key)["name"]).lower()
    else:
        thing = THINGS[each.key]
    if each.kind == "plants":
        count = "" if each.amount is None else plain(each.amount.value)
        return WEEK["plants"].format(count=count, crop=thing).strip()
    if each.kind == "seed":
        thing = WEEK["seed"].format(crop=thing)
    if each.amount is None:
        return thing
    return WEEK["amount"].format(amount=amount_words(each.amount, system), thing=thing)


def amount_words(amount: Figure, system: UnitSystem) -> str:
    """An amount to bring: a mass, a length, a volume, a count."""
    if amount.unit == "m3":
        unit = "yd3" if system is UnitSystem.US else "m3"
        return f"{plain(amount.value / unit_factor(unit)[0], 2)} {said(unit, 'unit')}"
    kinds = {"kg": "mass", "m": "length", "m2": "area"}
    if amount.unit in kinds:
        return show(amount.value, kinds[amount.unit], system, digits=3)
    return plain(amount.value)
