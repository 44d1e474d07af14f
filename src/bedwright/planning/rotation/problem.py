"""The question of a rotation in plain numbers: units, options, rules and wishes.

A unit is a bed or a part of one. An option is one crop at one time: it takes days
``starts`` to ``ends`` (the last not included, days of turnover counted in) and belongs to a year.
A plan chooses options for each unit. Two options of one unit never share a day.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

BoolArray = NDArray[np.bool_]
FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class KeepApart:
    """Options that must not follow each other too soon on one unit: a family, a disease's hosts.

    ``members`` (options,) are the hosts. ``years_away`` (units,) is the number of full years
    without a member between two members: their years differ by more than that, so 0 means once
    a year. -1: not kept apart on this unit. With ``gap_days`` the years do not count: so many free
    days lie between the end of one member and the start of the next, on each unit that is not -1.
    """

    name: str
    members: BoolArray
    years_away: IntArray
    gap_days: int | None = None


@dataclass(frozen=True, eq=False)
class Wish:
    """An amount that the plan shall give, in the wish's own unit: beds, m2, kg.

    ``amount`` (units, options), not negative, is what one placement gives. The sum must not
    exceed ``most`` (infinity allowed). A ``required`` wish must reach ``wanted``; another loses
    ``weight`` of the objective for each unit short. A pin is a required wish for 1, with
    amount 1 on its unit's options.
    """

    name: str
    amount: FloatArray
    wanted: float
    most: float
    weight: float
    required: bool


@dataclass(frozen=True, eq=False)
class Succession:
    """What it is worth that one option comes next after another on a unit, free days or not.

    ``before`` and ``after`` (options,) are classes, -1 for none; ``score`` (classes, classes) is
    gained where an option of class ``after`` comes next after one of class ``before``. ``history``
    (units, options) is gained by the option that comes first on its unit.
    """

    before: IntArray
    after: IntArray
    score: FloatArray
    history: FloatArray


@dataclass(frozen=True, eq=False)
class RotationProblem:
    """Which options for which units; the plan with the greatest objective is looked for.

    The objective is the sum of ``worth`` of what is chosen, less weight times shortage of the
    wishes that are not required, plus the scores of the successions.

    ``starts``, ``ends`` (day numbers) and ``years`` have shape (options,); ``allowed`` (units,
    options) says what history, light, windows and bans leave; ``worth`` (units, options).
    ``beside`` lists pairs of neighboring units, and members of one group of ``apart_beside`` must
    not stand on both at the same time (its years and gap do not count). ``nearness`` (units,
    units), ``crop`` (options,) and ``nearness_weight`` are for the second step only; an option
    of crop -1 need not stand near its like.

    Raises ValueError for a wrong shape, an empty span, or a number that is none.
    """

    starts: IntArray
    ends: IntArray
    years: IntArray
    allowed: BoolArray
    worth: FloatArray
    apart: tuple[KeepApart, ...]
    wishes: tuple[Wish, ...]
    successions: tuple[Succession, ...] = ()
    beside: tuple[tuple[int, int], ...] = ()
    apart_beside: tuple[KeepApart, ...] = ()
    nearness: FloatArray | None = None
    crop: IntArray | None = None
    nearness_weight: float = 0.0

    @property
    def units(self) -> int:
        """How many units there are."""
        return int(self.allowed.shape[0])

    @property
    def options(self) -> int:
        """How many options there are."""
        return int(self.starts.shape[0])

    def __post_init__(self) -> None:
        if self.allowed.ndim != 2:
            raise ValueError(f"allowed has shape {self.allowed.shape}; wanted (units, options)")
        units, options = self.allowed.shape
        both, each = (units, options), (options,)
        _shaped("starts", self.starts, each)
        _shaped("ends", self.ends, each)
        _shaped("years", self.years, each)
        _shaped("worth", self.worth, both)
        _finite("worth", self.worth)
        empty = np.flatnonzero(self.ends <= self.starts)
        if empty.size:
            raise ValueError(f"option {empty[0]} ends at or before its start; it needs a day")
        for group in self.apart + self.apart_beside:
            _shaped(f"members of {group.name}", group.members, each)
            _shaped(f"years_away of {group.name}", group.years_away, (units,))
            if group.gap_days is not None and group.gap_days < 0:
                raise ValueError(f"gap_days of {group.name} is {group.gap_days}; at least 0 wanted")
        for wish in self.wishes:
            _check_wish(wish, both)
        for at, succession in enumerate(self.successions):
            _check_succession(f"succession {at}", succession, both)
        for one, other in self.beside:
            if not (0 <= one < units and 0 <= other < units and one != other):
                raise ValueError(f"beside names ({one}, {other}); wanted two of {units} units")
        if self.nearness is not None:
            _shaped("nearness", self.nearness, (units, units))
            _finite("nearness", self.nearness)
            if self.crop is None:
                raise ValueError("nearness needs the options' crop numbers")
        if self.crop is not None:
            _shaped("crop", self.crop, each)


def _check_wish(wish: Wish, shape: tuple[int, int]) -> None:
    _shaped(f"amount of {wish.name}", wish.amount, shape)
    _finite(f"amount of {wish.name}", wish.amount)
    if (wish.amount < 0).any():
        raise ValueError(f"amount of {wish.name} is below 0")
    if not (0 <= wish.wanted <= wish.most) or np.isinf(wish.wanted):
        raise ValueError(f"{wish.name} wants {wish.wanted:g} and at most {wish.most:g}")
    if not 0 <= wish.weight < np.inf:
        raise ValueError(f"weight of {wish.name} is {wish.weight:g}; a number from 0 wanted")


def _check_succession(name: str, succession: Succession, shape: tuple[int, int]) -> None:
    _shaped(f"before of {name}", succession.before, shape[1:])
    _shaped(f"after of {name}", succession.after, shape[1:])
    _shaped(f"history of {name}", succession.history, shape)
    _finite(f"history of {name}", succession.history)
    _finite(f"score of {name}", succession.score)
    if succession.score.ndim != 2:
        raise ValueError(f"score of {name} has shape {succession.score.shape}; wanted two axes")
    for side, classes, most in (
        ("before", succession.before, succession.score.shape[0]),
        ("after", succession.after, succession.score.shape[1]),
    ):
        if ((classes < -1) | (classes >= most)).any():
            raise ValueError(f"{side} of {name} has a class outside -1 to {most - 1}")


def _shaped(name: str, values: NDArray[np.generic], shape: tuple[int, ...]) -> None:
    if values.shape != shape:
        raise ValueError(f"{name} has shape {values.shape}; wanted {shape}")


def _finite(name: str, values: FloatArray) -> None:
    if not np.isfinite(values).all():
        raise ValueError(f"{name} holds a value that is no finite number")
