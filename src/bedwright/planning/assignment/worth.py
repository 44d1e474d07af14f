"""What a placement is worth beside the wishes: salt, income, rest, keeping to a standing plan,
and what follows what."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from bedwright.crops.growing import growing
from bedwright.garden.model_rotation import Weights
from bedwright.planning.assignment.bars import Setting
from bedwright.planning.assignment.harvests import Harvests
from bedwright.planning.assignment.model import Candidate, Decision, Option
from bedwright.planning.assignment.past import last_of
from bedwright.planning.rotation.problem import FloatArray, Succession

# Judgement: so little that it decides only between plans that are alike in all that is weighed.
# Of a planting, so that none is made for nothing: with the usual weight of rest a cover pays from
# five weeks on, which is as long as the quickest of them stand.
EFFORT = 0.05
_OFF_BEST = 0.02  # of a date that is not the best of its turn
_YEAR = 365  # days
_GIVER, _HEAVY = 0, 1
_ROOTS = ("shallow", "medium", "deep")
# Fruit, then root, then stem, then leaf: a four-year order of the trade, thin on evidence.
_GROUPS = {
    "fruit": 0,
    "seed": 0,
    "root": 1,
    "tuber": 1,
    "bulb": 1,
    "stem": 2,
    "flower": 2,
    "leaf": 3,
}
_ORDER = 4


@dataclass(frozen=True, eq=False)
class Worth:
    """The parts of a placement's worth, each (units, options) and already weighed; ``short`` is for
    a planting that is picked for less than the crop's longest time.

    ``income`` is money a bed, not weighed: NaN where no price or yield is known.
    """

    salt: FloatArray
    rest: FloatArray
    unchanged: FloatArray
    paid: FloatArray
    short: FloatArray
    effort: FloatArray
    income: FloatArray

    @property
    def total(self) -> FloatArray:
        """The sum of the parts."""
        return self.salt + self.rest + self.unchanged + self.paid - self.short - self.effort


def worth_of(
    setting: Setting, weights: Weights, harvests: Harvests, standing: Sequence[Decision]
) -> Worth:
    """What each placement is worth by the weights.

    Parameters
    ----------
    setting : units, crops and options
    weights : what counts how much
    harvests : what is expected of them, and what salt leaves
    standing : the plan that stands
    """
    which = [each.candidate for each in setting.options]
    shares = np.array([each.share for each in setting.units])[:, None]
    lost = np.nan_to_num(1 - harvests.left)[:, which]
    resting = np.array([_rested(setting, at) for at in range(len(which))])
    effort = np.array([_effort(setting, at) for at in range(len(which))])
    income = _income(setting, harvests)
    most = np.nanmax(income) if np.isfinite(income).any() else 0.0
    paid = np.nan_to_num(income) / most if most > 0 else np.zeros_like(income)
    return Worth(
        salt=-weights.salt * lost * shares,
        rest=weights.rest * resting[None, :] * shares,
        unchanged=weights.unchanged * _kept(setting, standing) * shares,
        paid=weights.income * paid,
        short=weights.wishes * _picked_short(setting),
        effort=_usual_beds(setting)[:, None] * effort[None, :],
        income=income,
    )


def _rested(setting: Setting, at: int) -> float:
    """The share of a year for which an option covers a resting bed; 0 for a crop."""
    option = setting.options[at]
    if not setting.crop(at).resting:
        return 0.0
    if option.on is None or option.last_harvest is None:
        return 1.0
    return min((option.last_harvest - option.on).days / _YEAR, 1.0)


def _picked_short(setting: Setting) -> FloatArray:
    """What a planting lacks that is picked for less than the crop's longest time, (units, options),
    in usual beds: picked for half as long it is worth half of what was wished for."""
    lacking = np.array([1 - each.full for each in setting.options])
    return np.asarray(_usual_beds(setting)[:, None] * lacking[None, :])


def _usual_beds(setting: Setting) -> FloatArray:
    """The size of each unit, (units,), in beds of the garden's mean area."""
    beds = sum(each.share for each in setting.units)
    areas = np.array([each.area_m2 for each in setting.units])
    return np.asarray(areas * beds / areas.sum())


def _effort(setting: Setting, at: int) -> float:
    return EFFORT if setting.options[at].best else EFFORT + _OFF_BEST


def _kept(setting: Setting, standing: Sequence[Decision]) -> FloatArray:
    """1 where an option is what the standing plan has on that unit in that year and turn."""
    plan: dict[tuple[str, int | None], list[Decision]] = {}
    for each in standing:
        plan.setdefault((each.bed, each.part), []).append(each)
    found = np.zeros((len(setting.units), len(setting.options)))
    for unit, place in enumerate(setting.units):
        for decision in plan.get((place.bed, place.part), []):
            for at, option in enumerate(setting.options):
                if decision.crop == setting.crop(at).id and decision.year == option.year:
                    same_turn = decision.turn in (None, option.turn)
                    found[unit, at] = max(found[unit, at], 1.0 if same_turn else 0.5)
    return found


def saleable_of(setting: Setting, candidate: Candidate) -> float:
    """The share of a crop's harvest that can be sold, by the tables; 1 where they don't say."""
    if candidate.life == "plastic":
        return 1.0
    share = growing(setting.library, candidate.key).saleable_share
    return 1.0 if share is None else share.value


def price_per_kg(setting: Setting, candidate: Candidate) -> float | None:
    """The gardener's own price [money/kg]; None without one, or where a piece's mass is unknown."""
    if candidate.own is None:
        return None
    stated = setting.document.garden.crop[candidate.own]
    if stated.price is None or stated.per is None:
        return None
    if isinstance(stated.per, str):
        mass = growing(setting.library, candidate.key).unit_mass.get(stated.per)
        return None if mass is None else stated.price.si / mass.value
    return float(stated.price.si / stated.per.si)


def _income(setting: Setting, harvests: Harvests) -> FloatArray:
    """Money from each placement, (units, options); NaN where it can't be told."""
    paid = np.full(len(setting.candidates), np.nan)
    for at, candidate in enumerate(setting.candidates):
        price = None if candidate.life == "plastic" else price_per_kg(setting, candidate)
        if price is not None:
            paid[at] = price * saleable_of(setting, candidate)
    areas = np.array([each.area_m2 for each in setting.units])[:, None]
    which = [each.candidate for each in setting.options]
    bearing = np.array([each.bearing(each.year) for each in setting.options], dtype=bool)
    found = areas * harvests.by_area * paid[which][None, :]
    return np.asarray(np.where(bearing[None, :], found, np.nan))


def successions_of(setting: Setting, weights: Weights) -> tuple[Succession, ...]:
    """What it is worth that one crop follows another on a bed."""
    found = []
    if weights.feeders > 0:
        score = np.zeros((2, 2))
        score[_GIVER, _HEAVY] = weights.feeders
        found.append(_succession(setting, _feeding, score))
    if weights.roots > 0:
        depths = weights.roots * (1 - np.eye(len(_ROOTS)))
        found.append(_succession(setting, _depth, depths))
        roots = np.array([[-weights.roots]])
        found.append(_succession(setting, _is_root, roots))
    if weights.groups > 0:
        order = np.zeros((_ORDER, _ORDER))
        for each in range(_ORDER):
            order[each, (each + 1) % _ORDER] = weights.groups
        found.append(_succession(setting, _group, order))
    return tuple(found)


def _succession(
    setting: Setting, kind: Callable[[Setting, str], int], score: FloatArray
) -> Succession:
    classes = {each.key: kind(setting, each.key) for each in setting.candidates}
    each_option = np.array([classes[setting.crop(at).key] for at in range(len(setting.options))])
    history = np.zeros((len(setting.units), len(setting.options)))
    for unit in range(len(setting.units)):
        last = last_of(setting.pasts, unit)
        if last is None:
            continue
        before = kind(setting, last.crop)
        if before >= 0:
            known = each_option >= 0
            history[unit, known] = score[before, each_option[known]]
    return Succession(each_option, each_option, score, history)


def _feeding(setting: Setting, crop: str) -> int:
    if leaves_nitrogen(setting, crop):
        return _GIVER
    return _HEAVY if _word(setting, crop, "feeding") == "heavy" else -1


def leaves_nitrogen(setting: Setting, crop: str) -> bool:
    """Whether a crop is a legume, or one that the tables say gives more than it takes."""
    if crop == "clear_plastic":
        return False
    legume = setting.library.crop(crop)["family"] == "Fabaceae"
    return legume or _word(setting, crop, "feeding") == "giver"


def _depth(setting: Setting, crop: str) -> int:
    word = _word(setting, crop, "root_class")
    return _ROOTS.index(word) if word in _ROOTS else -1


def _is_root(setting: Setting, crop: str) -> int:
    return 0 if _word(setting, crop, "part") in ("root", "tuber") else -1


def _group(setting: Setting, crop: str) -> int:
    return _GROUPS.get(_word(setting, crop, "part"), -1)


def _word(setting: Setting, crop: str, name: str) -> str:
    if crop == "clear_plastic":
        return ""
    return str(getattr(growing(setting.library, crop), name))


def days_taken(option: Option) -> int:
    """How long an option holds its bed [days]."""
    begin: date = option.start
    return (option.free_from - begin).days
