"""Watering as plain text: today's minutes first, then the week, the season and the salt."""

from __future__ import annotations

from datetime import date, timedelta

from bedwright.language import named
from bedwright.planning.watering.garden_water import GardenWater, planting_soon
from bedwright.planning.watering.salt_years import SaltYears
from bedwright.planning.watering.schedule import WAVE_C
from bedwright.planning.watering.stand_water import StandWater
from bedwright.planning.watering.today import BedToday, Today, ZoneToday
from bedwright.reports.days_said import day_words, day_year_words
from bedwright.reports.layout import wrapped
from bedwright.reports.water_said import (
    clock_words,
    count_days,
    count_runs,
    depth_words,
    flow_words,
    minutes_words,
    share_words,
    span_of,
    volume_words,
    water_sentence,
)
from bedwright.reports.water_schedule import leaching_words
from bedwright.reports.words_water import WATER, WEEKDAYS, WHY
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain

_ZERO_CELSIUS_K = 273.15
_RAIN_M = {UnitSystem.US: 0.0127, UnitSystem.METRIC: 0.012}  # the rule after rain is for this
_L_H = 3.6e6
_TOLD_RAIN_M = 0.0005  # less is the mean of many dry days and a few wet ones
_ALIKE = 0.1  # share by which minutes of a zone's beds may differ before it is worth a line
_WEEK = 7


def water_page(
    water: GardenWater, garden: str, system: UnitSystem, money: str, *, table: bool = False
) -> str:
    """The whole page of a day; ``table`` adds each planting's weeks.

    Parameters
    ----------
    water : of :func:`bedwright.planning.watering.garden_water.garden_water`
    garden, money : the garden's name and its currency
    system : the reader's units
    """
    title = WATER["title"].format(garden=garden, day=day_year_words(water.on))
    lines = [title, "=" * len(title)]
    for each in water.findings:
        if each.weight == "act":
            lines += wrapped(water_sentence(each, system))
    if water.today is not None:
        lines += _today(water.today, system)
    lines += _cautions(water, system)
    if water.today is not None:
        lines += _week(water.today, system, water)
    lines += _soon(water, system)
    lines += _season(water, system, money)
    if table:
        for stand in water.stands:
            lines += _table(stand, system)
    lines += _salt(water, system)
    rest = [each for each in water.findings if each.weight in ("doubt", "assumed", "note")]
    if rest:
        lines += _heading(WATER["notes"])
        for each in rest:
            lines += wrapped(water_sentence(each, system), "  ", "    ")
    return "\n".join(lines) + "\n"


def _heading(text: str) -> list[str]:
    return ["", text, "-" * len(text)]


def _cautions(water: GardenWater, system: UnitSystem) -> list[str]:
    lines: list[str] = []
    for each in water.findings:
        if each.weight == "caution":
            lines += wrapped(f"{WATER['caution']} {water_sentence(each, system)}")
    return ["", *lines] if lines else []


def _today(today: Today, system: UnitSystem) -> list[str]:
    lines = wrapped(day_line(today, system))
    lines += _heading(WATER["today"])
    for zone in today.zones:
        lines += wrapped(zone_line(zone, today, system))
        for bed in zone.beds:
            lines += wrapped(_bed_line(bed, system), "    ", "      ")
            if bed.felt is not None and bed.felt_share is not None:
                told = WATER["felt"].format(bed=bed.bed, day=day_words(bed.felt.on),
                                            share=share_words(bed.felt_share.value))  # fmt: skip
                lines += wrapped(told, "    ", "      ")
        for rule in zone_rules(zone, system):
            lines += wrapped(rule, "  ", "    ")
    return lines


def day_line(today: Today, system: UnitSystem) -> str:
    """What is expected of the day: its high, its use of water, its rain."""
    bed = today.zones[0].beds[0]
    return WATER["day"].format(
        high=show(today.t_max_c + _ZERO_CELSIUS_K, "temperature", system),
        et0=depth_words(bed.et0_m, system),
        rain=depth_words(bed.rain_m, system),
    )


def zone_line(zone: ZoneToday, today: Today, system: UnitSystem) -> str:
    """What a zone runs on the day, from when, and why."""
    name = zone.zone or WATER["no_zone"]
    ahead = zone.next_run
    when = ""
    if ahead is not None:
        when = WATER["tomorrow"] if ahead == 1 else WEEKDAYS[
            str((today.on + timedelta(days=ahead)).weekday())
        ]  # fmt: skip
    why = WHY[zone.why].format(next=when)
    if zone.why not in ("due", "hot", "dry"):
        return WATER["zone_off"].format(zone=name, why=why)
    if zone.minutes is None:
        most = max(bed.net_m for bed in zone.beds)
        return WATER["zone_depth"].format(zone=name, depth=depth_words(most, system), why=why)
    run = next((each for each in today.today if each.zone == zone.zone), None)
    start = "" if run is None else WATER["start"].format(start=clock_words(run.start_min))
    minutes = minutes_words(zone.minutes)
    return WATER["zone_run"].format(zone=name, minutes=minutes, start=start, why=why)


def _bed_line(bed: BedToday, system: UnitSystem) -> str:
    given = {
        "bed": bed.bed,
        "crop": named(bed.crop).lower(),
        "lack": depth_words(bed.lack_m, system),
        "ready": depth_words(bed.ready_m, system),
    }
    if bed.minutes is None or bed.net_m <= 0:
        return WATER["bed_depth"].format(**given)
    return WATER["bed_run"].format(**given, minutes=minutes_words(bed.minutes.value))


def zone_rules(zone: ZoneToday, system: UnitSystem) -> list[str]:
    """What holds for a zone in a heat wave and after rain, and for beds that need less."""
    rules = []
    own = [bed.minutes.value for bed in zone.beds if bed.minutes is not None and bed.net_m > 0]
    if own and min(own) < (1 - _ALIKE) * max(own):
        rules.append(WATER["shut_sooner"])
    hot = [each.hot_day_minutes for each in zone.beds if each.hot_day_minutes is not None]
    if hot:
        wave = show(WAVE_C + _ZERO_CELSIUS_K, "temperature", system)
        rules.append(WATER["heat_rule"].format(wave=wave, minutes=minutes_words(max(hot))))
    use = max(bed.use_m for bed in zone.beds)
    rain = depth_words(_RAIN_M[system], system)
    days = int(_RAIN_M[system] / use) if use > 0 else _WEEK
    if days >= 1:
        rules.append(WATER["rain_rule"].format(rain=rain, days=count_days(days)))
    else:
        rules.append(WATER["rain_rule_none"].format(rain=rain))
    return rules


def _week(today: Today, system: UnitSystem, water: GardenWater) -> list[str]:
    lines = []
    if today.short:
        lines += _heading(WATER["short"])
        for told in short_lines(today, system, water):
            lines += wrapped(told)
    if not today.runs:
        return lines
    lines += _heading(WATER["week"])
    for day in range(_WEEK):
        runs = [each for each in today.runs if each.day == day]
        if runs:
            told = ", ".join(
                WATER["run_at"].format(
                    start=clock_words(each.start_min), zone=each.zone,
                    minutes=minutes_words(each.end_min - each.start_min),
                )
                for each in runs
            )  # fmt: skip
            line = WATER["from_to"].format(day=WEEKDAYS[str(day)], runs=told)
            lines += wrapped(line, "  ", "    ")
    return lines


def short_lines(today: Today, system: UnitSystem, water: GardenWater) -> list[str]:
    """What does not fit into the flow and the hours, with the ways out; none where all fits."""
    found = []
    for each in today.short:
        if each.flow_l_h > 0:
            wanted = water.zones[each.zone].flow_l_h
            told = WATER["short_flow"].format(
                zone=each.zone, wanted=flow_words(wanted / _L_H, system),
                over=flow_words(each.flow_l_h / _L_H, system),
            )  # fmt: skip
        elif each.run_minutes > 0:
            over = minutes_words(each.run_minutes)
            told = WATER["short_run"].format(zone=each.zone, over=over)
        else:
            told = WATER["short_week"].format(over=minutes_words(each.minutes))
        found.append(told)
    return [*found, WATER["short_way"]] if found else []


def _soon(water: GardenWater, system: UnitSystem) -> list[str]:
    lines: list[str] = []
    for each in planting_soon(water):
        first, *rest = soon_lines(each, system)
        lines += wrapped(first, "  ", "    ")
        for told in rest:
            lines += wrapped(told, "    ", "    ")
    return _heading(WATER["soon"]) + lines if lines else []


def soon_lines(each: StandWater, system: UnitSystem) -> list[str]:
    """What is watered before a planting: the filling, what drains against salt, wetting of seed."""
    minutes = ""
    if each.fill_minutes is not None:
        minutes = WATER["fill_minutes"].format(minutes=minutes_words(each.fill_minutes))
    found = [
        WATER["fill"].format(
            bed=each.stand.bed, crop=named(each.stand.name).lower(),
            day=day_words(each.stand.start),
            depth=depth_words(each.fill_m, system), minutes=minutes,
            share=share_words(each.left.value),
        )
    ]  # fmt: skip
    if each.leach_first_m > 0 and each.soil.ec_e is not None:
        found.append(_leach_first(each, system))
    if each.germination is not None:
        found.append(germination_line(each))
    return found


def germination_line(each: StandWater) -> str:
    """How seed is kept wet until it is up; empty where none is sown."""
    if each.germination is None:
        return ""
    runs, length = each.germination
    took = ""
    if length is not None:
        took = WATER["fill_minutes"].format(minutes=minutes_words(length))
    return WATER["germination"].format(
        bed=each.stand.bed, crop=named(each.stand.name).lower(),
        days=count_days(each.stand.emergence), runs=count_runs(runs), minutes=took,
    )  # fmt: skip


def _leach_first(each: StandWater, system: UnitSystem) -> str:
    assert each.soil.ec_e is not None and each.leaching.limit is not None
    minutes = ""
    if each.leach_first_minutes is not None:
        minutes = WATER["fill_minutes"].format(minutes=minutes_words(each.leach_first_minutes))
    return WATER["leach_first"].format(
        crop=named(each.stand.name).lower(), depth=depth_words(each.leach_first_m, system),
        start=f"{plain(each.soil.ec_e.value, 2)} dS/m",
        limit=f"{plain(each.leaching.limit.value, 2)} dS/m", minutes=minutes,
    )  # fmt: skip


def _season(water: GardenWater, system: UnitSystem, money: str) -> list[str]:
    if not water.stands:
        return []
    lines = _heading(WATER["season"].format(years=water.stands[0].years.places.shape[1]))
    for each in water.stands:
        lines += wrapped(_season_line(each, system), "  ", "    ")
    cost = "" if water.cost is None else WATER["cost"].format(money=f"{water.cost:.2f} {money}")
    lines += wrapped(WATER["use"].format(volume=volume_words(water.gross_m3, system), cost=cost))
    return lines


def _season_line(each: StandWater, system: UnitSystem) -> str:
    years, stand = each.years, each.stand
    parts = years.transpiration.mean, years.evaporation.mean, years.drainage.mean
    whole = sum(parts)
    told = WATER["season_line"].format(
        bed=stand.bed, crop=named(stand.name).lower(),
        span=span_of(stand.start, stand.end - timedelta(days=1)),
        total=depth_words(years.irrigation.mean, system),
        low=depth_words(years.irrigation.low, system),
        high=depth_words(years.irrigation.high, system),
        volume=volume_words(each.gross_m3, system),
        crop_share=share_words(parts[0] / whole),
        ground_share=share_words(parts[1] / whole),
        drain_share=share_words(parts[2] / whole),
    )  # fmt: skip
    return " ".join([told, *carried_lines(each, system)])


def carried_lines(each: StandWater, system: UnitSystem) -> list[str]:
    """What a planting's water is to drain, what it brings and carries off, days of stress."""
    drains = leaching_words(each.leaching)
    told = [] if drains is None else [drains]
    share = share_words(each.week_leaches)
    if each.nitrogen_kg_m2 is not None:
        brought = show(each.nitrogen_kg_m2, "mass_per_area", system, digits=2)
        told.append(WATER["nitrogen"].format(nitrogen=brought, share=share))
    else:
        told.append(WATER["leached_only"].format(share=share))
    short = round(each.years.stressed_days)
    if short >= 1:
        told.append(WATER["season_stress"].format(days=count_days(short)))
    return told


def _table(each: StandWater, system: UnitSystem) -> list[str]:
    if each.weeks is None:
        return []
    title = WATER["table"].format(bed=each.stand.bed, crop=named(each.stand.name).lower())
    lines = _heading(title)
    head = (WATER["table_head"], WATER["table_need"], WATER["table_runs"], WATER["table_minutes"])
    lines.append(f"  {head[0]:<14}{head[1]:>10}{head[2]:>7}{head[3]:>11}")
    for week in range(len(each.weeks.net_m)):
        day: date = each.stand.start + timedelta(days=week * _WEEK)
        need = depth_words(float(each.weeks.net_m[week, 0]), system)
        runs = int(each.weeks.runs[week, 0])
        minutes = float(each.weeks.minutes[week, 0])
        lines.append(f"  {day_words(day):<14}{need:>10}{runs:>7}{minutes:>11.0f}")
    return lines


def _salt(water: GardenWater, system: UnitSystem) -> list[str]:
    if not water.salt:
        return []
    names = {(each.stand.bed, each.stand.want): each.stand.name for each in water.stands}
    lines = _heading(WATER["salt"])
    for each in water.salt:
        lines += wrapped(salt_line(each, names[each.bed, each.want], system), "  ", "    ")
    return lines


def salt_line(each: SaltYears, name: str, system: UnitSystem) -> str:
    """A bed's salt now and in the tenth year, with and without leaching, and what that takes."""
    given = {
        "bed": each.bed,
        "crop": named(name).lower(),
        "start": plain(each.start.value, 2),
        "with_last": plain(float(each.with_leaching[-1]), 2),
    }
    if each.water_more_m <= 0:
        return WATER["salt_same"].format(**given)
    ends = ["" if left is None else WATER["salt_yield"].format(share=f"{left:.0f} %")
            for left in (each.yield_with, each.yield_without)]  # fmt: skip
    told = WATER["salt_line"].format(
        **given, with_yield=ends[0], without_last=plain(float(each.without[-1]), 2),
        without_yield=ends[1],
    )  # fmt: skip
    if each.yield_with is None:
        told += " " + WATER["salt_unrated"]
    return told + " " + WATER["salt_cost"].format(depth=depth_words(each.water_more_m, system))
