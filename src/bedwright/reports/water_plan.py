"""The garden's water as a part of the season plan: zones, the season's total, what it rests on."""

from __future__ import annotations

from bedwright.planning.watering.garden_water import GardenWater
from bedwright.reports.layout import wrapped
from bedwright.reports.water_said import volume_words, water_sentence
from bedwright.reports.water_schedule import zone_lines_told
from bedwright.reports.words_water import WATER, WATER_FINDINGS, WATER_PLAN
from bedwright.units import UnitSystem

_OF_A_DAY = frozenset({"nothing_stands", "usual_days_taken", "runs_as_planned",
                       "water_in_the_morning"})  # fmt: skip


def garden_water_text(water: GardenWater | None, system: UnitSystem, money: str) -> str:
    """What concerns all beds' water: cautions, each zone's minutes by month, the total.

    Parameters
    ----------
    water : of the plan, None where the weather does not tell it
    system : the reader's units
    money : the garden's currency
    """
    title = WATER_PLAN["title"]
    lines = [title, "-" * len(title)]
    if water is None:
        return "\n".join([*lines, *wrapped(WATER_FINDINGS["water_no_weather"]), ""])
    for each in water.findings:
        if each.weight in ("act", "caution"):
            lines += wrapped(water_sentence(each, system), "* ")
    for told in zone_lines_told(water):
        lines += wrapped(told, "  ", "    ")
    if water.stands:
        cost = "" if water.cost is None else WATER["cost"].format(money=f"{water.cost:.2f} {money}")
        used = WATER["use"].format(volume=volume_words(water.gross_m3, system), cost=cost)
        lines += wrapped(used, "  ", "    ")
        lines += wrapped(WATER_PLAN["day"], "  ", "    ")
    for each in water.findings:
        if each.weight in ("doubt", "assumed", "note") and each.code not in _OF_A_DAY:
            lines += wrapped(water_sentence(each, system), "  ", "    ")
    return "\n".join([*lines, ""])
