"""Random rotations for the tests: small ones to search through, larger ones to plan."""

import numpy as np
from hypothesis import strategies as st

from bedwright.planning.rotation.problem import KeepApart, RotationProblem, Succession, Wish


def problem_of(
    seed: int, *, units: int, years: int, crops: int, required: float = 0.3
) -> RotationProblem:
    """A rotation with groups by years and by days, wishes, successions and neighbors."""
    dice = np.random.default_rng(seed)
    rows = [(c, y, int(dice.integers(0, 250)), int(dice.integers(30, 130)))
            for y in range(years) for c in range(crops)]  # fmt: skip
    crop, year, first, days = (np.array(each) for each in zip(*rows, strict=True))
    starts = 365 * year + first
    count = crop.size
    family = dice.integers(0, 3, crops)[crop]
    apart = tuple(
        KeepApart(f"family {f}", family == f, dice.integers(-1, 3, units)) for f in range(3)
    ) + (KeepApart("days", family == 1, dice.integers(-1, 2, units), int(dice.integers(0, 60))),)
    wishes = tuple(
        _wish(dice, at, units, crop, year, required) for at in range(int(dice.integers(0, 5)))
    )
    successions = tuple(
        Succession(
            dice.integers(-1, 2, crops)[crop], dice.integers(-1, 3, crops)[crop],
            np.round(dice.normal(0, 1, (2, 3)), 2), np.round(dice.normal(0, 1, (units, count)), 2),
        )
        for _ in range(int(dice.integers(0, 3)))
    )  # fmt: skip
    beside = tuple((u, u + 1) for u in range(units - 1)) if dice.random() < 0.5 else ()
    return RotationProblem(
        starts, starts + days, year, dice.random((units, count)) < 0.8,
        np.round(dice.normal(0.5, 1, (units, count)), 2), apart, wishes,
        successions=successions, beside=beside,
        apart_beside=(KeepApart("beside", family == 0, dice.integers(-1, 2, units)),),
        nearness=np.ones((units, units)), crop=crop,
    )  # fmt: skip


def _wish(dice, at, units, crop, year, required):  # type: ignore[no-untyped-def]
    members = (crop == dice.integers(0, crop.max() + 1)) & (
        (year == dice.integers(0, year.max() + 1)) | (dice.random() < 0.5)
    )
    amount = np.where(members[None, :], np.round(dice.uniform(0.5, 2.0, (units, 1)), 1), 0.0)
    wanted = float(np.round(dice.uniform(0, 0.8 * units), 1))
    most = float("inf") if dice.random() < 0.5 else wanted + float(dice.integers(0, 3))
    return Wish(f"wish {at}", amount, wanted, most, float(np.round(dice.uniform(0, 3), 1)),
                bool(dice.random() < required))  # fmt: skip


seeds = st.integers(0, 2**32 - 1)
