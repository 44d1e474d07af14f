"""Figures and sentences in the reader's own units."""

from __future__ import annotations

from collections.abc import Mapping

from bedwright.feeding.measures import Measure, metric_measure, us_measure
from bedwright.language import named, names_said
from bedwright.language import said as here
from bedwright.planning.findings import Finding
from bedwright.planning.prescription import Line
from bedwright.reports import words, words_ledger
from bedwright.reports.days_said import days_said
from bedwright.reports.parts import Number, Part, Sentence, filled, joined
from bedwright.reports.words_why import AMOUNTS
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain
from bedwright.working import Figure

_KINDS = {"kg/m2": "mass_per_area", "m": "depth", "m2": "area", "kg": "mass", "kg/m3": "density",
          "K": "temperature_difference", "m3": "volume"}  # fmt: skip
# Engine unit -> (factor, word, significant digits).
_PLAIN_UNITS = {"mg/kg": (1.0, "ppm", 3), "kg/kg": (100.0, "%", 3), "-": (1.0, "", 2)}
_AS_WRITTEN = frozenset({"file"})  # the gardener's own names
_PER_CENT_NAMES = frozenset({"share", "preplant_n_share", "leaching_requirement"})
_NOTABLE = 0.02  # a range narrower than this share of the value is not worth the ink


def value(amount: float, unit: str, system: UnitSystem, *, digits: int = 2, name: str = "") -> str:
    """One number in the reader's unit: kg/m2 as lb/100 ft2 or g/m2, mg/kg as ppm, ..."""
    if unit in _KINDS:
        return show(amount, _KINDS[unit], system, digits=digits)
    if unit == "mm":
        return show(amount / 1000, "depth", system, digits=digits)
    if unit == "-" and name in _PER_CENT_NAMES:
        return f"{amount * 100:.0f} %"
    scale, word, figures = _PLAIN_UNITS.get(unit, (1.0, unit, digits))
    return f"{plain(amount * scale, figures)} {here(word, 'unit')}".rstrip()


def figure(each: Figure, system: UnitSystem, *, ranged: bool = True) -> str:
    """A figure with its range, the range in brackets behind it."""
    text = value(each.value, each.unit, system, name=each.name)
    wide = abs(each.most - each.least) > _NOTABLE * abs(each.value or 1e-12)
    if not ranged or not wide:
        return text
    low = value(each.least, each.unit, system, name=each.name)
    high = value(each.most, each.unit, system, name=each.name)
    if low == high:
        return text
    ends = [end.split(" ", 1) for end in (text, low, high)]
    if all(len(end) == 2 and end[1] == ends[0][1] for end in ends) and ends[0][1] != "lb":
        span = AMOUNTS["range"].format(low=ends[1][0], high=ends[2][0])
        return f"{ends[0][0]} ({span}) {ends[0][1]}"
    return f"{text} ({AMOUNTS['range'].format(low=low, high=high)})"


def sentence(found: Finding, system: UnitSystem) -> str:
    """A finding as a sentence. Raises KeyError for a code without words."""
    return joined(sentence_parts(found, system))


def sentence_parts(found: Finding, system: UnitSystem) -> Sentence:
    """A finding as a sentence whose numbers know their figures, as :func:`sentence`."""
    parts = filled(words.FINDINGS[found.code], _filled(found.values, system))
    first = parts[0]
    if isinstance(first, str) and not joined(parts).startswith("pH"):
        return (first[:1].upper() + first[1:], *parts[1:])
    return parts


def _filled(values: Mapping[str, object], system: UnitSystem) -> dict[str, Part]:
    said: dict[str, Part] = {}
    for key, each in values.items():
        if isinstance(each, Figure):
            said[key] = Number(figure(each, system), each)
        elif key == "nutrient":
            said[key] = words.NUTRIENTS.get(str(each), str(each))
        elif key == "analyte":
            said[key] = words.ANALYTES.get(str(each), str(each).replace("_", " "))
        elif key == "supply":
            said[key] = words.SUPPLY.get(str(each), str(each))
        elif key == "demands":
            said[key] = "; ".join(words.NUTRIENTS.get(each, each) for each in str(each).split())
        elif key == "spread":
            said[key] = _spread(str(each))
        elif key == "materials":
            said[key] = names_said(str(each))
        elif key in _AS_WRITTEN:
            said[key] = str(each)
        elif isinstance(each, float):
            said[key] = plain(each)
        else:
            said[key] = _terms(str(each))
    return said


def _spread(text: str) -> str:
    """Days, or materials each with its day: "gypsum, 2026-05-02; blood meal, 2026-05-20"."""
    parts = (each.rpartition(", ") for each in text.split("; "))
    return "; ".join(f"{named(name)}{comma}{days_said(day)}" for name, comma, day in parts)


def _terms(text: str) -> str:
    """A value that is a word of ours, or several, in the reader's words."""
    known = [words_ledger.TERMS.get(word) for word in text.split()]
    if known and all(known):
        return ", ".join(word for word in known if word)
    return days_said(named(text.replace("_", " ")))


def measure(line: Line, mass_kg: float, system: UnitSystem) -> str:
    """How a hand measures a mass of a line's material: cups, quarts, buckets, or the scale."""
    if line.material.measure == "weight_only":
        return AMOUNTS["scale_only"]
    density = line.supply.bulk_density
    if density is None:
        return AMOUNTS["no_density"]
    bulky = line.material.measure == "buckets"
    pick = us_measure if system is UnitSystem.US else metric_measure
    return _measure_words(pick(mass_kg, density.value, bulky=bulky))


def _measure_words(found: Measure) -> str:
    unit = found.unit if found.count <= 1 else f"{found.unit}s"
    return AMOUNTS[unit].format(count=fraction(found.count))


_PARTS = {0.0: "", 0.25: "1/4", 0.5: "1/2", 0.75: "3/4"}


def fraction(count: float) -> str:
    """A count as a gardener says it: 1 1/2, 3/4, 12."""
    whole, rest = divmod(count, 1)
    part = _PARTS.get(round(rest, 2))
    if part is None:
        return plain(count)
    return " ".join(each for each in (f"{whole:.0f}" if whole else "", part) if each) or "0"
