"""Reading quantities as growers write them: ``3 in``, ``1 1/2 lb``, ``2 lb/100 ft2``, ``68 F``."""

from __future__ import annotations

import csv
import math
import re
from dataclasses import dataclass
from functools import cache
from importlib import resources

from bedwright.units.kinds import KINDS, Dimension, Kind, kind

_NUMBER = r"(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
_LEADING = re.compile(
    rf"\s*([+-]?)\s*(?:({_NUMBER})\s+(\d+)/(\d+)|(\d+)/(\d+)|({_NUMBER}))(?=\s|[^\d]|$)"
)
_INNER_NUMBER = re.compile(rf"{_NUMBER}")
_LONGEST_TEXT, _HIGHEST_POWER = 200, 9  # no grower writes more: judgement
_LITRE_DENSITY_KG_M3 = 1000.0  # water analyses print ppm for mg/L: 1 L of water taken as 1 kg


class UnitError(ValueError):
    """A quantity that cannot be read: the ``problem``, and the units that would fit."""

    def __init__(self, problem: str, fits: tuple[str, ...] = ()) -> None:
        self.problem = problem
        self.fits = fits
        hint = f"; units that fit: {', '.join(fits)}" if fits else ""
        super().__init__(problem + hint)


@dataclass(frozen=True)
class Unit:
    """One row of the unit table: ``si = (value + offset) * factor``."""

    key: str
    factor: float
    offset: float
    dimension: Dimension


@dataclass(frozen=True)
class Quantity:
    """A quantity as read: ``si`` in the SI unit of its kind, and ``text`` as it was written."""

    si: float
    kind: str
    text: str


@cache
def _units() -> tuple[dict[str, Unit], dict[str, Unit]]:
    """The table twice: by exact word, and by lower-case word where that is unambiguous."""
    exact: dict[str, Unit] = {}
    folded: dict[str, set[Unit]] = {}
    text = resources.files("bedwright.units").joinpath("table.csv").read_text(encoding="utf-8")
    for row in csv.DictReader(text.splitlines()):
        unit = Unit(
            row["unit"], float(row["factor"]), float(row["offset"]), _dimension(row["dimension"])
        )
        for word in row["words"].split():
            exact[word] = unit
            folded.setdefault(word.lower(), set()).add(unit)
    return exact, {word: units.copy().pop() for word, units in folded.items() if len(units) == 1}


def _dimension(text: str) -> Dimension:
    if text == "1":
        return ()
    if text == "Pa":
        return tuple(sorted({"kg": 1, "m": -1, "s": -2}.items()))
    base, _, power = text.partition("^")
    return ((base, int(power or 1)),)


def _find(word: str) -> Unit | None:
    if word == "T":  # a tonne to some, a short ton to others: refused, not guessed
        return None
    """The unit of a word, which may end in the dot of an abbreviation (``in.``, ``lbs.``)."""
    exact, folded = _units()
    bare = word.removesuffix(".")
    return exact.get(bare) or folded.get(bare.lower())


def _nearest(word: str) -> str:
    import difflib

    near = difflib.get_close_matches(word, list(_units()[0]), n=3, cutoff=0.6)
    return f" (did you mean {' or '.join(near)}?)" if near else ""


_SPACED = re.compile(
    r"\b(?:(sq|square|cu|cubic|acre|short|metric|deg)[ .]+(?=(?:ft|foot|feet|in|yd|yard|yards|m|cm|"
    r"metres?|meters?|inch|inches|tons?|C|F)\b)|(per) +(?=cent\b))"
)
_TOKEN = re.compile(rf"\s*(?:(\*|·|/|\bper\b)|({_NUMBER})|([^\s*/·\d^][^\s*/·^]*)(?:\^(-?\d+))?)")


@cache
def unit_factor(expression: str) -> tuple[float, Dimension]:
    """The factor to SI and the dimension of a unit expression such as ``lb/100 ft2``.

    Raises UnitError where a word is not a unit. Offsets (C, F) are not applied here.
    """
    text = _joined(expression)
    factor, dimension, power, place = 1.0, dict[str, int](), 1, 0
    shares, open_operator = 0, False
    if not text:
        raise UnitError("no unit is given")
    while place < len(text):
        found = _TOKEN.match(text, place)
        if found is None or found.end() == place:
            raise UnitError(f"{expression.strip()!r} is not a unit")
        place = found.end()
        operator, number, word, exponent = found.groups()
        if operator and open_operator:
            break
        open_operator = bool(operator)
        if operator:
            power = -1 if operator in ("/", "per") else 1
        elif number:
            if not 0 < (each_number := float(number.replace(",", ""))) < math.inf:
                raise UnitError(f"{expression.strip()!r} is not a unit")
            factor *= each_number**power
        else:
            unit = _find(word)
            if unit is None:
                raise UnitError(f"{word!r} is not a unit that is known here{_nearest(word)}")
            if len(exponent or "") > 2 or abs(int(exponent or 1)) > _HIGHEST_POWER:
                raise UnitError(f"{expression.strip()!r} is not a unit")
            times = power * int(exponent or 1)
            shares += not unit.dimension
            factor *= unit.factor**times
            for base, each in unit.dimension:
                dimension[base] = dimension.get(base, 0) + each * times
            power = power if _next_is_word(text, place) and power < 0 else 1
    if open_operator or shares > 1:  # "lb/" and "ppm ppm" are slips of the pen
        raise UnitError(f"{expression.strip()!r} is not a unit")
    return factor, tuple(sorted((base, each) for base, each in dimension.items() if each))


def _joined(expression: str) -> str:
    """The expression with units of two words joined: ``sq ft`` as ``sq_ft``."""
    text = re.sub(r"\bparts per (m|b)illion\b", r"pp\1", expression.strip())
    return _SPACED.sub(lambda found: (found[1] or found[2]).lower() + "_", text)


def _next_is_word(text: str, place: int) -> bool:
    """Whether the denominator goes on: ``lb/acre foot`` divides by both."""
    rest = text[place:].lstrip()
    return bool(rest) and rest[0] not in "/*·"


def to_si(value: float, unit: str, kind_key: str) -> float:
    """``value`` in ``unit`` as a float in the SI unit of the kind.

    Raises UnitError when the unit has another dimension; its ``fits`` name units that would do.
    """
    wanted = kind(kind_key)
    if kind_key == "temperature":
        return _temperature(value, unit, wanted)
    try:
        factor, dimension = unit_factor(unit)
    except UnitError as unknown:
        raise UnitError(unknown.problem, wanted.fits) from None
    if wanted.ppm_is_per_litre and dimension == () and unit.strip().lower() in ("ppm", "ppb"):
        return value * factor * _LITRE_DENSITY_KG_M3
    if dimension != wanted.dimension:
        raise UnitError(f"{unit.strip()!r} is not a unit of {wanted.words}", wanted.fits)
    return value * factor


def _temperature(value: float, unit: str, wanted: Kind) -> float:
    found = _find(_joined(unit))
    if found is None or found.dimension != wanted.dimension:
        raise UnitError(f"{unit.strip()!r} is not a unit of {wanted.words}", wanted.fits)
    si = (value + found.offset) * found.factor
    if si < 0:
        raise UnitError(f"{value:g} {unit.strip()} is below absolute zero", wanted.fits)
    return si


def parse(text: str, kind_key: str) -> Quantity:
    """Read one quantity, or a sum of them (``2 lb 4 oz``), of the given kind.

    Raises UnitError for text without a number, without a unit, with a unit of another
    kind, or with a value that is not finite.
    """
    wanted = KINDS[kind_key]
    if len(text) > _LONGEST_TEXT:
        raise UnitError(f"a text of {len(text)} letters is not {wanted.words}", wanted.fits)
    parts = list(_parts(text, wanted))
    if len(parts) > 1 and kind_key == "temperature":
        raise UnitError(f"{text.strip()!r} is more than one temperature", wanted.fits)
    si = math.fsum(to_si(value, unit, kind_key) for value, unit in parts)
    if not math.isfinite(si):
        raise UnitError(f"{text.strip()!r} is not a finite number", wanted.fits)
    return Quantity(si, kind_key, text.strip())


def _parts(text: str, wanted: Kind) -> list[tuple[float, str]]:
    parts: list[tuple[float, str]] = []
    rest = text.strip()
    if wanted.key == "money":  # a sign may stand before the number: $32.50
        rest = re.sub(r"^([$€£])\s*([\d.,]+)$", r"\2 \1", rest)
    while rest:
        found = _LEADING.match(rest)
        if found is None:
            raise UnitError(f"{text.strip()!r} does not begin with a number", wanted.fits)
        value = _value(found, wanted.fits)
        rest = rest[found.end() :].lstrip()
        unit, rest = _split_next_quantity(rest)
        if unit[:1].isdigit():
            raise UnitError(f"{text.strip()!r} has two numbers before its unit", wanted.fits)
        if not unit and wanted.si_unit != "-":
            raise UnitError(f"{text.strip()!r} is {wanted.words} without a unit", wanted.fits)
        parts.append((value, unit or "-"))
    if not parts:
        raise UnitError(f"nothing is written where {wanted.words} belongs", wanted.fits)
    if len(parts) > 1 and len({math.copysign(1, value) for value, _ in parts}) > 1:
        raise UnitError(f"{text.strip()!r} mixes signs", wanted.fits)
    return parts


def _value(found: re.Match[str], fits: tuple[str, ...]) -> float:
    sign, whole, above, below, above_only, below_only, plain = found.groups()
    numerator, denominator = above or above_only, below or below_only
    if denominator is not None and int(denominator) == 0:
        raise UnitError("a fraction has 0 below the line", fits)
    value = float((whole or plain or "0").replace(",", ""))
    if numerator is not None and denominator is not None:
        value += int(numerator) / int(denominator)
    return -value if sign == "-" else value


def _split_next_quantity(rest: str) -> tuple[str, str]:
    """Cut ``lb 4 oz`` into ``lb`` and ``4 oz``, but leave ``lb/100 ft2`` whole."""
    for found in re.finditer(rf"(?<=\s){_NUMBER}", rest):
        before = rest[: found.start()].rstrip()
        if before and not before.endswith(("/", "*", "·")) and not re.search(r"\bper$", before):
            return before, rest[found.start() :]
    return rest.strip(), ""
