"""What stands in a bed that is needed, in sentences."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bedwright.language import named
from bedwright.planning.findings import Finding
from bedwright.planning.turnover.model import Turnover, Way
from bedwright.reports.days_said import day_words, day_year_words
from bedwright.reports.fill import figure
from bedwright.reports.layout import wrapped
from bedwright.reports.words_turnover import (
    ANIMALS,
    DANGERS,
    TURNOVER,
    TURNOVER_FINDINGS,
    WAYS,
)
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain
from bedwright.working import Figure

_ZERO_CELSIUS = 273.15  # K
_DAYS = frozenset({"spray", "start", "ends", "over", "clear"})


def turnover_sentence(found: Finding, system: UnitSystem) -> str:
    """A finding as a sentence. Raises KeyError for a code without words."""
    values = {key: _value(key, each, system) for key, each in found.values.items()}
    return _upper(TURNOVER_FINDINGS[found.code].format(**values))


def way_words(way: Way) -> str:
    """A way out in a few words."""
    stock = ANIMALS[way.stock] if way.stock else ""
    return WAYS[way.kind].format(stock=stock)


@dataclass(frozen=True)
class TurnoverTold:
    """A standing crop in sentences: the bed's need of it gone, what is left, what else is to be
    said, what a delay costs ("" where nothing tells it).

    ``ways`` are ranked, each a few words, the last day of its own ("" where it has none) and its
    reasons; ``refused`` the same without days.
    """

    needed: str
    left: tuple[str, ...]
    findings: tuple[tuple[str, str], ...]  # weight, sentence
    delay: str
    ways: tuple[tuple[str, str, str], ...]
    refused: tuple[tuple[str, str], ...]


def turnover_told(each: Turnover, system: UnitSystem, currency: str | None) -> TurnoverTold:
    """A standing crop: until when, what is left, what waiting costs, the ways out.

    What is said of one kind of stock is not said again of the next.
    """
    told: set[str] = set()
    ways = []
    for way in each.ways:
        why = [turnover_sentence(one, system) for one in way.reasons]
        reasons = " ".join(one for one in why if one not in told)
        told.update(why)
        own_day = way.by is not None and way.by != each.next.clear
        by = day_words(way.by) if own_day and way.by is not None else ""
        ways.append((_upper(way_words(way)), by, reasons))
    barred: dict[str, list[str]] = {}
    for way in each.refused:
        reasons = " ".join(turnover_sentence(one, system) for one in way.reasons)
        barred.setdefault(reasons, []).append(way_words(way))
    return TurnoverTold(
        _needed(each),
        tuple(_left(each, system)),
        tuple((one.weight, turnover_sentence(one, system)) for one in each.findings),
        _delay(each, system, currency),
        tuple(ways),
        tuple((TURNOVER["and"].join(words), reasons) for reasons, words in barred.items()),
    )


def turnover_lines(each: Turnover, system: UnitSystem, currency: str | None) -> list[str]:
    """The same line by line."""
    told = turnover_told(each, system, currency)
    lines = [told.needed, *told.left, *(sentence for _, sentence in told.findings)]
    if told.delay:
        lines.append(told.delay)
    lines.append(TURNOVER["order"])
    for number, (way, by, reasons) in enumerate(told.ways, 1):
        text = TURNOVER["way_by" if by else "way"]
        lines.append(text.format(number=number, way=way, by=by, reasons=reasons).rstrip())
    for way, reasons in told.refused:
        lines.append(TURNOVER["not_way"].format(way=way, reasons=reasons))
    return lines


def bed_turnover_lines(
    found: tuple[Turnover, ...], system: UnitSystem, currency: str | None
) -> list[str]:
    """What stands in a bed, in 80 columns; nothing where nothing does."""
    if not found:
        return []
    told = [line for each in found for line in turnover_lines(each, system, currency)]
    return [TURNOVER["head"], *(line for one in told for line in wrapped(one, "  ", "    "))]


def sheet_words(each: Turnover) -> tuple[str, str]:
    """What comes out of a bed, and where it goes, for its sheet."""
    what = _upper(TURNOVER["sheet"].format(crop=_crop(each)))
    ways = TURNOVER["then"].join(_way_from(way) for way in each.ways)
    note = _upper(TURNOVER["sheet_ways"].format(ways=ways))
    if each.next.last is not None:
        note += " " + TURNOVER["sheet_latest"].format(last=day_words(each.next.last))
    return what, note


def _way_from(way: Way) -> str:
    if way.start is None:
        return way_words(way)
    return TURNOVER["way_from"].format(way=way_words(way), start=day_words(way.start))


def _crop(each: Turnover) -> str:
    crop = named(each.name).lower()
    if each.part is None:
        return crop
    return TURNOVER["part"].format(crop=crop, part=each.part)


def _needed(each: Turnover) -> str:
    following = each.next
    known = {"crop": _upper(_crop(each)), "next": named(following.name).lower()}
    start, clear, last = following.start, following.clear, following.last
    if start is None or clear is None or last is None:
        return TURNOVER["needed_undated"].format(**known)
    return TURNOVER["needed"].format(
        **known, start=day_year_words(start), clear=day_year_words(clear), last=day_words(last)
    )


def _left(each: Turnover, system: UnitSystem) -> list[str]:
    left = each.left
    lines = []
    if left.per_week is not None:
        rate = figure(left.per_week, system)
        if left.total is None or left.total.value <= 0:
            lines.append(TURNOVER["left_week_undated"].format(rate=rate))
        else:
            total = figure(left.total, system)
            lines.append(TURNOVER["left_week"].format(rate=rate, total=total))
    elif left.at_once is not None:
        lines.append(TURNOVER["left_once"].format(total=figure(left.at_once, system)))
    if lines:
        lines += _days(left.first, left.last)
    return lines


def _days(first: date | None, last: date | None) -> list[str]:
    if first is None:
        return []
    told = [TURNOVER["left_from"].format(first=day_words(first))]
    if last is not None:
        told.append(TURNOVER["left_until"].format(last=day_words(last)))
    return told


def _delay(each: Turnover, system: UnitSystem, currency: str | None) -> str:
    lost, money = each.next.a_week_late, each.next.money
    if lost is None:
        return ""
    known = {"next": named(each.next.name).lower(), "crop": named(each.name).lower()}
    if lost.value <= 0:
        return TURNOVER["delay_nothing"].format(**known)
    known["lost"] = figure(lost, system)
    if money is None:
        return TURNOVER["delay"].format(**known)
    known["money"] = _money(money, currency)
    if each.money is None:
        return TURNOVER["delay_next_money"].format(**known)
    return TURNOVER["delay_money"].format(**known, picked=_money(each.money, currency))


def _money(each: Figure, currency: str | None) -> str:
    return f"{plain(each.value, 2)} {currency or ''}".rstrip()


def _value(key: str, each: object, system: UnitSystem) -> str:
    if isinstance(each, Figure):
        return _figure(each, system)
    if isinstance(each, float):
        return plain(each)
    text = str(each)
    if key in ("stock", "danger"):
        return (ANIMALS if key == "stock" else DANGERS)[text]
    if key in _DAYS:
        return day_year_words(date.fromisoformat(text))
    return named(text).lower() if key in ("crop", "next") else text


def _figure(each: Figure, system: UnitSystem) -> str:
    if each.unit == "C":
        return show(each.value + _ZERO_CELSIUS, "temperature", system)
    return _days_long(each) if each.unit == "day" else figure(each, system)


def _days_long(each: Figure) -> str:
    low, high = round(each.least), round(each.most)
    if low == high:
        return TURNOVER["days"].format(count=low)
    return TURNOVER["days_range"].format(low=low, high=high)


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]
