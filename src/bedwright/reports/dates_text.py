"""Planting dates as plain text: when, why then, and what a week earlier or later changes."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import numpy as np

from bedwright.crops.choice import WeekCost
from bedwright.language import named
from bedwright.planning.timing_model import (
    DateOutlook,
    GardenDates,
    Judged,
    TurnDates,
    WantDates,
)
from bedwright.reports.dates_counts import (
    FEW,
    around_words,
    count_words,
    one_day,
    plants_words,
    range_words,
    spread_words,
    years_words,
)
from bedwright.reports.days_said import day_words, day_year_words, span_words
from bedwright.reports.fill import sentence
from bedwright.reports.layout import wrapped
from bedwright.reports.season_text import year_lines
from bedwright.reports.words_dates import BOUND, COVERS, DATES, NO_DATE, STARTS, TURN_WORDS, WORK
from bedwright.units import UnitSystem, show

_TOLD = 0.05  # changes of a share that are smaller are not worth the ink
_HALF = 0.5
_ZERO_CELSIUS_K = 273.15
_APART = 0.02  # of the days of flower: more of them too hot or too cool is a reason
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
        for each in year_lines(dates.weather, system):
            lines += wrapped(each)
        lines += wrapped(DATES["accepted"].format(risk=count_words(round(dates.risk * 10))))
    for want in dates.wants:
        if only is None or want.crop == only:
            heading = want.name
            if want.beds:
                heading = DATES["heading"].format(crop=want.name, beds=_beds(want.beds))
            lines += ["", heading, "-" * len(heading)]
            for each in want_lines(want, system):
                lines += wrapped(each, "  ", "    ")
    return "\n".join(lines) + "\n"


def want_lines(
    want: WantDates, system: UnitSystem, *, planned: bool = False, spread: date | None = None
) -> list[str]:
    """One want's dates, a paragraph each; ``planned`` leaves out what the season plan dates.

    ``spread`` is the day by which the plan spreads on the bed: it is cleared no later. Of beds on
    which it failed that is said, and of a want that failed on all of its beds nothing else.
    """
    asked = turn_told(want)
    lines = [] if planned else [sentence(each, system) for each in want.lost]
    if not want.beds:
        return lines
    if asked is not None:
        lines += _turn_lines(want, asked, want.risk, system)
    if want.stated is not None:
        lines.append(_own(want, want.stated, asked, want.risk))
    lines += [_other(want, each) for each in want.turns if each is not asked and _told(each)]
    judged = planting(want)
    if judged is not None:
        lines += _sowings(want, judged)
        lines.append(_work(judged, planned, spread))
    if planned:
        return lines
    return lines + [sentence(each, system) for each in want.findings]


def planting(want: WantDates) -> Judged | None:
    """The planting that the plan goes by: the gardener's own date, else the best one."""
    asked = turn_told(want)
    return want.stated or (asked.best if asked is not None else None)


def turn_told(want: WantDates) -> TurnDates | None:
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
        why = NO_DATE[turn.why].format(
            risk=count_words(round(risk * 10)), bolted=plants_words(risk)
        )
        return [DATES["no_date"].format(turn=TURN_WORDS[turn.turn], why=why)]
    best = turn.best
    lines = [window_line(want, turn), _why(want, turn, risk)]
    lines.append(_expected(best.chosen, want.site_doubt_k > 0))
    lines.append(_week("earlier", best.earlier, best.chosen, best.earlier_cost))
    lines.append(_week("later", best.later, best.chosen, best.later_cost))
    lines += _soil(want, turn, best.chosen, system)
    lines += _cover(best.chosen) if want.cover in COVERS else []
    if turn.last_worth is not None and turn.last_worth != turn.window[1]:
        lines.append(DATES["last_worth"].format(day=day_words(turn.last_worth)))
    return lines


def window_line(want: WantDates, turn: TurnDates) -> str:
    """When to plant in a turn that has a window, as a sentence."""
    assert turn.window is not None and turn.best is not None
    first, last = turn.window
    open_end = turn.why == "harvest" and turn.after is None
    best = under = ""
    if turn.why == "set_days" and first != last:
        best = DATES["best"].format(day=day_words(turn.best.chosen.on))
    if want.cover is not None and want.cover in COVERS:
        under = DATES["under"].format(cover=COVERS[want.cover])
    return DATES["from" if open_end else "window"].format(
        start=STARTS[want.start][0],
        window=span_words(first, last, year=True),
        first=day_year_words(first),
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
        reason = None if beside is None else _bound(beside, turn, risk, want.start)
        if reason is not None:
            bounds.append(DATES[key].format(day=day_words(edge), reason=reason))
    told = "; ".join(bounds) or DATES["no_bound"]
    if turn.why != "set_days":
        return DATES["why"].format(bounds=told)
    return DATES["why_set"].format(day=day_words(turn.best.chosen.on), bounds=told)


def _bound(beside: DateOutlook, turn: TurnDates, risk: float, start: str) -> str | None:
    """Why a date just outside a window is not in it."""
    assert turn.best is not None
    chosen = turn.best.chosen
    over = _over(beside, risk, start)
    if over is not None:
        share = getattr(beside, {"kill": "killed", "soil": "soil_warm"}.get(over, over))
        told, limit = (1 - share, _HALF) if over == "soil" else (share, risk)
        return BOUND[over].format(
            years=_beyond(years_words, told, limit), bolted=_beyond(plants_words, told, limit)
        )
    if turn.last_worth is not None and beside.on > turn.last_worth >= chosen.on:
        return BOUND["little_left"]
    if beside.set_days is None or chosen.set_days is None:
        return None
    picked, usual = beside.harvest_days, chosen.harvest_days
    short = picked is not None and usual is not None and picked.mean < usual.mean - _CUT_SHORT
    if beside.on < chosen.on:
        code = "some_frost" if (beside.killed or 0.0) >= _TOLD else _met(beside, chosen)
    else:
        code = "frost_ends" if short else _met(beside, chosen)
    return BOUND[code].format(
        set=f"{beside.set_days.mean:.0f}",
        best=f"{chosen.set_days.mean:.0f}",
        years=years_words(beside.killed or 0.0),
    )


def _met(beside: DateOutlook, chosen: DateOutlook) -> str:
    """What the flowers of a date meet more of than those of the chosen one: a key of BOUND."""
    hotter = (beside.too_hot or 0.0) - (chosen.too_hot or 0.0)
    cooler = (beside.too_cool or 0.0) - (chosen.too_cool or 0.0)
    if max(hotter, cooler) < _APART:
        return "set"
    return "heat" if hotter >= cooler else "cool"


def _beyond(told: Callable[[float], str], share: float, limit: float) -> str:
    """A share beyond a limit, told so that it doesn't read like the limit itself."""
    words = told(share)
    return DATES["more_than"].format(share=words) if words == told(limit) else words


def _over(date_: DateOutlook, risk: float, start: str) -> str | None:
    """Which limit a date goes beyond, by its code."""
    for code, share in (("kill", date_.killed), ("lost", date_.lost), ("bolted", date_.bolted)):
        if share is not None and share > risk:
            return code
    cold = date_.soil_warm is not None and date_.soil_warm < _HALF
    return "soil" if cold and start != "set_out" else None


def _expected(chosen: DateOutlook, site_doubt: bool) -> str:
    clauses = _clauses(chosen, site_doubt)
    return DATES["expect"].format(day=day_words(chosen.on), clauses=clauses)


def _clauses(chosen: DateOutlook, site_doubt: bool) -> str:
    """What is to be expected of a date."""
    said = [_kills(chosen, site_doubt)]
    beyond_frost = (chosen.lost or 0.0) - (chosen.killed or 0.0)
    if chosen.lost is not None and beyond_frost >= _TOLD:
        said.append(DATES["lost"].format(years=years_words(chosen.lost)))
    if chosen.bolted is not None and chosen.bolted >= _TOLD:
        said.append(_bolts(chosen.bolted))
    if chosen.first_harvest is not None:
        span = around_words(chosen.on, chosen.first_harvest)
        said.append(DATES["first"].format(day=span))
    if chosen.set_days is not None:
        said.append(spread_words("set", chosen.set_days))
    elif chosen.harvest_days is not None and chosen.harvest_days.mean > 1:
        said.append(spread_words("picked", chosen.harvest_days))
    return ", ".join(said)


def _kills(chosen: DateOutlook, site_doubt: bool) -> str:
    low, high = chosen.killed_range
    if low is not None and high is not None and high - low >= 2 * _TOLD:
        return DATES["range_of_site" if site_doubt else "range_of_kill"].format(
            years=years_words(chosen.killed or 0.0), range=range_words(low, high)
        )
    if not chosen.killed:
        return DATES["no_kill"]
    return DATES["kills"].format(years=years_words(chosen.killed))


def _week(which: str, shifted: DateOutlook, chosen: DateOutlook, cost: WeekCost) -> str:
    clauses = _changes(shifted, chosen, cost) or [DATES["same"]]
    return DATES[which].format(day=day_words(shifted.on), clauses=", ".join(clauses))


def _changes(shifted: DateOutlook, chosen: DateOutlook, cost: WeekCost) -> list[str]:
    said = []
    if shifted.killed is not None and (shifted.killed or chosen.killed):
        said.append(_kills_short(shifted.killed))
    if shifted.lost is not None and abs(cost.lost - cost.killed) >= _TOLD:
        said.append(DATES["lost"].format(years=years_words(shifted.lost)))
    if shifted.bolted is not None and abs(cost.bolted) >= _TOLD:
        said.append(_bolts(shifted.bolted))
    both = [each for each in (shifted.soil_warm, chosen.soil_warm) if each is not None]
    if len(both) == 2 and min(both) < _HALF <= max(both):
        # what the soil lacks on both days is said once, below
        said.append(DATES["soil"].format(years=years_words(both[0])))
    if _counts(cost.set_days):
        said.append(_more_or_fewer("set_change", cost.set_days))
    elif np.isnan(cost.set_days) and _counts(cost.harvest_days):
        said.append(_more_or_fewer("picked_change", cost.harvest_days))
    if _counts(cost.harvest):
        later = DATES["comes_later" if cost.harvest > 0 else "comes_earlier"]
        said.append(
            one_day(DATES["harvest_change"], cost.harvest).format(
                days=f"{abs(cost.harvest):.0f}", later=later
            )
        )
    return said


def _kills_short(share: float) -> str:
    return DATES["kills"].format(years=years_words(share)) if share else DATES["no_kill"]


def _more_or_fewer(key: str, days: float) -> str:
    more = DATES["more" if days > 0 else "fewer"]
    return one_day(DATES[key], days).format(days=f"{abs(days):.0f}", more=more)


def _counts(days: float) -> bool:
    return bool(np.isfinite(days)) and abs(days) >= _HALF


def _own(want: WantDates, own: Judged, asked: TurnDates | None, risk: float) -> str:
    clauses = _clauses(own.chosen, want.site_doubt_k > 0)
    soil = own.chosen.soil_warm
    if want.start != "set_out" and soil is not None and soil < _HALF:
        clauses += ", " + DATES["soil"].format(years=years_words(soil))
    key = _verdict(want, own.chosen, asked, risk)
    return DATES[key].format(day=day_words(own.chosen.on), clauses=clauses)


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
        until = DATES["soil_until"].format(day=day_words(turn.soil_warm_from))
    return [
        DATES["soil_cold"].format(
            crop=named(want.name).lower(),
            needed=show(want.soil_needed_c + _ZERO_CELSIUS_K, "temperature", system),
            day=day_words(chosen.on),
            years=years_words(chosen.soil_warm),
            until=until,
        )
    ]


def _cover(chosen: DateOutlook) -> list[str]:
    lines = []
    if chosen.cover_off is not None:
        lines.append(DATES["cover_off"].format(day=around_words(chosen.on, chosen.cover_off)))
    if chosen.hot_days is not None and chosen.hot_days.mean >= 1:
        lines.append(DATES["cover_hot"].format(days=f"{chosen.hot_days.mean:.0f}"))
    return lines


def _other(want: WantDates, turn: TurnDates) -> str:
    assert turn.window is not None
    return DATES["other_turn"].format(
        turn=TURN_WORDS[turn.turn],
        start=STARTS[want.start][0].lower(),
        window=span_words(*turn.window),
    )


def _sowings(want: WantDates, judged: Judged) -> list[str]:
    if want.weeks is None or len(judged.sowings) < 2:
        return []
    days = ", ".join(day_words(each) for each in judged.sowings)
    start = STARTS[want.start][0].lower()
    return [DATES["sowings"].format(weeks=want.weeks, start=start, days=days)]


# Dated by the nitrogen of the bed where there is a plan.
_OF_THE_PLAN = frozenset({"spread_by", "side_dress"})


def _work(judged: Judged, planned: bool, spread: date | None) -> str:
    days = dict(judged.work)
    left_out = set(_OF_THE_PLAN) if planned else set[str]()
    if days.get("first_picking") == days.get("last_picking"):
        left_out.add("last_picking")
    work = [
        (code, min(on, spread) if spread is not None and code == "clear_by" else on)
        for code, on in judged.work
    ]
    said = [
        WORK[code].format(day=day_words(on))
        for code, on in work
        if code in WORK and code not in left_out
    ]
    return DATES["work"].format(day=day_words(judged.chosen.on), work="; ".join(said))


def _beds(beds: tuple[str, ...]) -> str:
    return DATES["bed" if len(beds) == 1 else "beds"].format(beds=", ".join(beds))


def _bolts(share: float) -> str:
    one = 0 < share < FEW
    return DATES["bolts_one" if one else "bolts"].format(share=plants_words(share))
