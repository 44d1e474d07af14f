"""Planting dates as plain text: when, why then, and what a week earlier or later changes."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from bedwright.crops.choice import WeekCost
from bedwright.planning.timing_model import (
    DateOutlook,
    GardenDates,
    Judged,
    Spread,
    TurnDates,
    WantDates,
)
from bedwright.reports.fill import sentence
from bedwright.reports.layout import wrapped
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_dates import BOUND, COVERS, DATES, NO_DATE, STARTS, TURN_WORDS, WORK
from bedwright.units import UnitSystem, show

_TOLD = 0.05  # changes of a share that are smaller are not worth the ink
_HALF = 0.5
_ZERO_CELSIUS_K = 273.15
_SEEN = 0.25  # from here on years of ten tell shares apart
_CUT_SHORT = 2.0  # days of picking


def dates_page(
    dates: GardenDates,
    garden: str,
    system: UnitSystem,
    as_of: date,
    only: str | None = None,
) -> str:
    """The dates of all wants, or of one crop by its key."""
    title = DATES["title"].format(garden=garden, as_of=as_of.isoformat())
    lines = [title, "=" * len(title)]
    for found in dates.findings:
        lines += wrapped(sentence(found, system))
    if dates.weather is not None:
        lines += wrapped(DATES["accepted"].format(risk=_count(round(dates.risk * 10))))
    for want in dates.wants:
        if only is None or want.crop == only:
            heading = DATES["heading"].format(crop=want.name, beds=_beds(want.beds))
            lines += ["", heading, "-" * len(heading)]
            for each in want_lines(want, system):
                lines += wrapped(each, "  ", "    ")
    return "\n".join(lines) + "\n"


def want_lines(want: WantDates, system: UnitSystem, *, planned: bool = False) -> list[str]:
    """One want's dates, a paragraph each; ``planned`` leaves out what the season plan dates."""
    asked = _asked(want)
    lines: list[str] = []
    if asked is not None:
        lines += _turn_lines(want, asked, want.risk, system)
    if want.stated is not None:
        lines.append(_own(want, want.stated, asked, want.risk))
    lines += [_other(want, each) for each in want.turns if each is not asked and _told(each)]
    judged = want.stated or (asked.best if asked is not None else None)
    if judged is not None:
        lines += _sowings(want, judged)
        lines.append(_work(judged, planned))
    if planned:
        return lines
    return lines + [sentence(each, system) for each in want.findings]


def _asked(want: WantDates) -> TurnDates | None:
    """The turn that is told in full: the one asked for, else the first that has a date."""
    for each in want.turns:
        if each.turn == want.asked:
            return each
    with_date = [each for each in want.turns if each.best is not None]
    return next(iter(with_date or want.turns), None)


def _told(turn: TurnDates) -> bool:
    """Whether a turn that was not asked for is worth a line."""
    return turn.best is not None and turn.last_worth is not None and not turn.goes_on


def _turn_lines(want: WantDates, turn: TurnDates, risk: float, system: UnitSystem) -> list[str]:
    if turn.best is None or turn.window is None:
        if turn.why == "unknown":
            return []
        why = NO_DATE[turn.why].format(risk=_count(round(risk * 10)), bolted=_percent(risk))
        return [DATES["no_date"].format(turn=TURN_WORDS[turn.turn], why=why)]
    best = turn.best
    lines = [_when(want, turn), _why(want, turn, risk), _expected(best.chosen)]
    lines.append(_week("earlier", best.earlier, best.chosen, best.earlier_cost))
    lines.append(_week("later", best.later, best.chosen, best.later_cost))
    lines += _soil(want, turn, best.chosen, system)
    lines += _cover(best.chosen) if want.cover in COVERS else []
    if turn.last_worth is not None and turn.last_worth != turn.window[1]:
        lines.append(DATES["last_worth"].format(day=_day(turn.last_worth)))
    return lines


def _when(want: WantDates, turn: TurnDates) -> str:
    assert turn.window is not None and turn.best is not None
    first, last = turn.window
    open_end = turn.why == "harvest" and turn.after is None
    best = under = ""
    if turn.why == "set_days" and first != last:
        best = DATES["best"].format(day=_day(turn.best.chosen.on))
    if want.cover in COVERS:
        under = DATES["under"].format(cover=COVERS[want.cover])
    return DATES["from" if open_end else "window"].format(
        start=STARTS[want.start][0],
        window=_span(first, last, year=True),
        first=f"{_day(first)}, {first.year}",
        best=best,
        under=under,
    )


def _why(want: WantDates, turn: TurnDates, risk: float) -> str:
    assert turn.window is not None and turn.best is not None
    bounds = []
    for key, beside, edge in (
        ("before", turn.before, turn.window[0]),
        ("after", turn.after, turn.window[1]),
    ):
        reason = None if beside is None else _bound(beside, turn.best.chosen, risk, want.start)
        if reason is not None:
            bounds.append(DATES[key].format(day=_day(edge), reason=reason))
    return DATES["why"].format(bounds="; ".join(bounds) or DATES["no_bound"])


def _bound(beside: DateOutlook, chosen: DateOutlook, risk: float, start: str) -> str | None:
    """Why a date just outside a window is not in it."""
    over = _over(beside, risk, start)
    if over is not None:
        share = getattr(beside, {"kill": "killed", "soil": "soil_warm"}.get(over, over))
        years = _years(1 - share if over == "soil" else share)
        return BOUND[over].format(years=years, bolted=_percent(share))
    if beside.set_days is None or chosen.set_days is None:
        return None
    picked, usual = beside.harvest_days, chosen.harvest_days
    short = picked is not None and usual is not None and picked.mean < usual.mean - _CUT_SHORT
    if beside.on < chosen.on:
        code = "some_frost" if (beside.killed or 0.0) >= _TOLD else "set"
    else:
        code = "frost_ends" if short else "heat"
    return BOUND[code].format(
        set=f"{beside.set_days.mean:.0f}",
        best=f"{chosen.set_days.mean:.0f}",
        years=_years(beside.killed or 0.0),
    )


def _over(date_: DateOutlook, risk: float, start: str) -> str | None:
    """Which limit a date goes beyond, by its code."""
    for code, share in (("kill", date_.killed), ("lost", date_.lost), ("bolted", date_.bolted)):
        if share is not None and share > risk:
            return code
    cold = date_.soil_warm is not None and date_.soil_warm < _HALF
    return "soil" if cold and start != "set_out" else None


def _expected(chosen: DateOutlook) -> str:
    return DATES["expect"].format(day=_day(chosen.on), clauses=_clauses(chosen))


def _clauses(chosen: DateOutlook) -> str:
    """What is to be expected of a date."""
    said = [_kills(chosen)]
    beyond_frost = (chosen.lost or 0.0) - (chosen.killed or 0.0)
    if chosen.lost is not None and beyond_frost >= _TOLD:
        said.append(DATES["lost"].format(years=_years(chosen.lost)))
    if chosen.bolted is not None and chosen.bolted >= _TOLD:
        said.append(DATES["bolts"].format(share=_percent(chosen.bolted)))
    if chosen.first_harvest is not None:
        span = _around(chosen.on, chosen.first_harvest)
        said.append(DATES["first"].format(day=span))
    if chosen.set_days is not None:
        said.append(_spread("set", chosen.set_days))
    elif chosen.harvest_days is not None and chosen.harvest_days.mean > 1:
        said.append(_spread("picked", chosen.harvest_days))
    return ", ".join(said)


def _kills(chosen: DateOutlook) -> str:
    if not chosen.killed:
        return DATES["no_kill"]
    low, high = chosen.killed_range
    if low is not None and high is not None and high - low >= 2 * _TOLD:
        return DATES["range_of_kill"].format(
            years=_years(chosen.killed), range=_years_range(low, high)
        )
    return DATES["kills"].format(years=_years(chosen.killed))


def _week(which: str, shifted: DateOutlook, chosen: DateOutlook, cost: WeekCost) -> str:
    clauses = _changes(shifted, chosen, cost) or [DATES["same"]]
    return DATES[which].format(day=_day(shifted.on), clauses=", ".join(clauses))


def _changes(shifted: DateOutlook, chosen: DateOutlook, cost: WeekCost) -> list[str]:
    said = []
    if shifted.killed is not None and abs(cost.killed) >= _TOLD:
        said.append(_kills_short(shifted.killed))
    if shifted.lost is not None and abs(cost.lost - cost.killed) >= _TOLD:
        said.append(DATES["lost"].format(years=_years(shifted.lost)))
    if shifted.bolted is not None and abs(cost.bolted) >= _TOLD:
        said.append(DATES["bolts"].format(share=_percent(shifted.bolted)))
    both = [each for each in (shifted.soil_warm, chosen.soil_warm) if each is not None]
    if len(both) == 2 and min(both) < _HALF <= max(both):
        # what the soil lacks on both days is said once, below
        said.append(DATES["soil"].format(years=_years(both[0])))
    if _counts(cost.set_days):
        said.append(_more_or_fewer("set_change", cost.set_days))
    elif np.isnan(cost.set_days) and _counts(cost.harvest_days):
        said.append(_more_or_fewer("picked_change", cost.harvest_days))
    if _counts(cost.harvest):
        later = DATES["comes_later" if cost.harvest > 0 else "comes_earlier"]
        said.append(
            _days_word(DATES["harvest_change"], cost.harvest).format(
                days=f"{abs(cost.harvest):.0f}", later=later
            )
        )
    return said


def _kills_short(share: float) -> str:
    return DATES["kills"].format(years=_years(share)) if share else DATES["no_kill"]


def _more_or_fewer(key: str, days: float) -> str:
    more = DATES["more" if days > 0 else "fewer"]
    return _days_word(DATES[key], days).format(days=f"{abs(days):.0f}", more=more)


def _counts(days: float) -> bool:
    return bool(np.isfinite(days)) and abs(days) >= _HALF


def _days_word(template: str, days: float) -> str:
    """A template that speaks of days, for a single day."""
    return template.replace("} days", "} day") if round(abs(days)) == 1 else template


def _own(want: WantDates, own: Judged, asked: TurnDates | None, risk: float) -> str:
    clauses = _clauses(own.chosen)
    soil = own.chosen.soil_warm
    if want.start != "set_out" and soil is not None and soil < _HALF:
        clauses += ", " + DATES["soil"].format(years=_years(soil))
    key = _verdict(want, own.chosen, asked, risk)
    return DATES[key].format(day=_day(own.chosen.on), clauses=clauses)


def _verdict(want: WantDates, own: DateOutlook, asked: TurnDates | None, risk: float) -> str:
    """How the gardener's own date compares with the window, as a key of the words."""
    bad = _over(own, risk, want.start) is not None
    if asked is None or asked.window is None:
        return "own_bad" if bad else "own"
    first, last = asked.window
    beyond = "too_" if bad else ""
    if own.on < first - timedelta(days=1):
        return f"own_{beyond}early"
    if own.on > last + timedelta(days=1):
        return f"own_{beyond}late"
    return "own_bad" if bad else "own_good"


def _soil(want: WantDates, turn: TurnDates, chosen: DateOutlook, system: UnitSystem) -> list[str]:
    if chosen.soil_warm is None or chosen.soil_warm >= _HALF:
        return []
    until = ""
    if turn.soil_warm_from is not None:
        until = DATES["soil_until"].format(day=_day(turn.soil_warm_from))
    return [
        DATES["soil_cold"].format(
            crop=want.name.lower(),
            needed=show(want.soil_needed_c + _ZERO_CELSIUS_K, "temperature", system),
            day=_day(chosen.on),
            years=_years(chosen.soil_warm),
            until=until,
        )
    ]


def _cover(chosen: DateOutlook) -> list[str]:
    lines = []
    if chosen.cover_off is not None:
        lines.append(DATES["cover_off"].format(day=_around(chosen.on, chosen.cover_off)))
    if chosen.hot_days is not None and chosen.hot_days.mean >= 1:
        lines.append(DATES["cover_hot"].format(days=f"{chosen.hot_days.mean:.0f}"))
    return lines


def _other(want: WantDates, turn: TurnDates) -> str:
    assert turn.window is not None
    return DATES["other_turn"].format(
        turn=TURN_WORDS[turn.turn],
        start=STARTS[want.start][0].lower(),
        window=_span(*turn.window),
    )


def _sowings(want: WantDates, judged: Judged) -> list[str]:
    if want.weeks is None or len(judged.sowings) < 2:
        return []
    days = ", ".join(_day(each) for each in judged.sowings)
    start = STARTS[want.start][0].lower()
    return [DATES["sowings"].format(weeks=want.weeks, start=start, days=days)]


# Dated by the nitrogen of the bed where there is a plan.
_OF_THE_PLAN = frozenset({"spread_by", "side_dress"})


def _work(judged: Judged, planned: bool) -> str:
    days = dict(judged.work)
    left_out = set(_OF_THE_PLAN) if planned else set[str]()
    if days.get("first_picking") == days.get("last_picking"):
        left_out.add("last_picking")
    said = [
        WORK[code].format(day=_day(on))
        for code, on in judged.work
        if code in WORK and code not in left_out
    ]
    return DATES["work"].format(day=_day(judged.chosen.on), work="; ".join(said))


def _beds(beds: tuple[str, ...]) -> str:
    return DATES["bed" if len(beds) == 1 else "beds"].format(beds=", ".join(beds))


def _day(on: date) -> str:
    return f"{CHART_WORDS[f'month_{on.month}']} {on.day}"


def _span(first: date, last: date, *, year: bool = False) -> str:
    end = f", {last.year}" if year else ""
    if first == last:
        return f"{_day(first)}{end}"
    if (first.year, first.month) == (last.year, last.month):
        return f"{_day(first)} to {last.day}{end}"
    begin = f"{_day(first)}, {first.year}" if year and first.year != last.year else _day(first)
    return f"{begin} to {_day(last)}{end}"


def _around(on: date, spread: Spread) -> str:
    """A day some days after another, with the span of 8 years of 10."""
    middle, low, high = (
        on + timedelta(days=round(each)) for each in (spread.mean, spread.low, spread.high)
    )
    return _day(middle) if low == high else f"{_day(middle)} ({_span(low, high)})"


def _spread(key: str, spread: Spread) -> str:
    low, high = round(spread.low), round(spread.high)
    band = "" if low == high else DATES["band"].format(low=low, high=high)
    return _days_word(DATES[key], spread.mean).format(days=f"{spread.mean:.0f}", band=band)


def _percent(share: float) -> str:
    return f"{share * 100:.0f} %"


def _count(years: int) -> str:
    return f"{years} year" if years == 1 else f"{years} years"


def _years(share: float) -> str:
    """A share of the years, as a gardener counts them."""
    if share <= 0:
        return DATES["no_year"]
    if share < _SEEN:
        return DATES["one_year_in"].format(n=round(1 / share))
    tens = round(share * 10)
    if tens == 10:
        return DATES["every_year" if share == 1 else "years"].format(n=tens)
    return DATES["years"].format(n=tens)


def _years_range(low: float, high: float) -> str:
    """Two shares of the years, the unit said once where both are told in it."""
    ends = [_years(low), _years(high)]
    unit = DATES["years"].format(n="")
    if all(each.endswith(unit) for each in ends):
        ends[0] = ends[0].removesuffix(unit)
    return DATES["range"].format(low=ends[0], high=ends[1])
