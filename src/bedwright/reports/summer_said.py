"""The summer of a planting in the reader's words: heat days, cloth, picking."""

from __future__ import annotations

from bedwright.planning.findings import Finding
from bedwright.planning.summer.model import HeatDays, PlantingSummer, Trial
from bedwright.reports.days_said import day_words
from bedwright.reports.fill import figure
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_summer import (
    CLOTH,
    HEAT_DAYS,
    OUTCOMES,
    PICK,
    SUMMER_FINDINGS,
)
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain
from bedwright.working import Figure

_ZERO_C = 273.15
_TOLD_DAYS = 0.5  # fewer days than this are not worth a line
_NEARLY_ALL = 0.95  # of the years: no need to say so
_TOLD_LESS = 2.0  # days less under a cloth that are worth a word


def planting_lines(each: PlantingSummer, system: UnitSystem) -> list[str]:
    """What is said of a planting's summer: heat days, cloth, what hangs, how to pick."""
    lines = [_heat_sentence(one, system) for one in each.heat if one.days.mean >= _TOLD_DAYS]
    if lines or each.cloth.verdict == "hang" or each.hung:
        lines += cloth_sentences(each)
    lines += [summer_sentence(one, system) for one in each.findings]
    if each.pick:
        lines.append(PICK[each.pick])
    return lines


def _heat_sentence(each: HeatDays, system: UnitSystem) -> str:
    """Days above one limit, with their range over the years."""
    what = "color" if each.stage == "picking" else each.harm
    days = HEAT_DAYS["range"].format(
        mean=round(each.days.mean), low=round(each.days.low), high=round(each.days.high)
    )
    text = HEAT_DAYS[f"{what}_{each.driver}"].format(
        days=days, span=each.span_days, limit=warmth(each.limit.value, system)
    )
    if each.under_cloth is not None and each.days.mean - each.under_cloth >= _TOLD_LESS:
        text += " " + HEAT_DAYS["under_cloth"].format(days=round(each.under_cloth))
    return text


def cloth_sentences(each: PlantingSummer) -> list[str]:
    """What is advised of shade cloth, why, and what it gains."""
    cloth = each.cloth
    values = {"percent": per_cent(cloth.percent)}
    if cloth.heat is not None:
        values |= {"first": day_words(cloth.heat[0]), "last": day_words(cloth.heat[1])}
    if cloth.need is not None:
        values["need"] = light_words(cloth.need.value, 3)
    shown = [e for e in cloth.shades if e.percent == cloth.percent]
    if cloth.why == "light":
        shown = [e for e in cloth.shades if e.percent > 0][:1]
    if shown:
        values["light"] = light_words(shown[0].light_mol_m2_d)
    lines = [CLOTH[f"{cloth.verdict}_{cloth.why}"].format(**values)]
    if cloth.verdict == "hang":
        gain = cloth.gain_days
        if gain is not None:
            told = gain.mean >= _TOLD_DAYS
            lines.append(
                CLOTH["gain"].format(days=plain(gain.mean, 2)) if told else CLOTH["no_gain"]
            )
        if cloth.years_share < _NEARLY_ALL:
            lines.append(CLOTH["years"].format(share=per_cent(cloth.years_share)))
    return lines


def trial_sentence(each: Trial) -> str:
    """One trial: shade, what was looked at, what came of it."""
    low, high = per_cent(each.shade.least), per_cent(each.shade.most)
    text = CLOTH["trial"].format(
        shade=low if low == high else f"{low} - {high}",
        outcome=OUTCOMES[each.outcome],
        effect=CLOTH[f"{each.effect}_word"],
    )
    return text if each.used else f"{text[:-1]} ({CLOTH['not_used']})."


def summer_sentence(found: Finding, system: UnitSystem) -> str:
    """A finding as a sentence. Raises KeyError for a code without words."""
    values = {}
    for key, each in found.values.items():
        if isinstance(each, Figure):
            values[key] = figure(each, system)
        else:
            values[key] = plain(each, 2) if isinstance(each, float) else str(each)
    text = SUMMER_FINDINGS[found.code].format(**values)
    return text[:1].upper() + text[1:]


def warmth(celsius: float, system: UnitSystem) -> str:
    """A temperature in whole degrees."""
    return show(celsius + _ZERO_C, "temperature", system)


def per_cent(share: float) -> str:
    """A share in whole per cent."""
    return f"{round(100 * share)} %"


def light_words(mol: float, digits: int = 2) -> str:
    """Daily light."""
    return CLOTH["light"].format(value=plain(mol, digits))


def month_words(month: int) -> str:
    """The name of a month, 1 to 12."""
    return CHART_WORDS[f"month_{month}"]
