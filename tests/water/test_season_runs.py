"""The timer's settings bring each week what the balance asked for, evenly."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.water.balance import daily_balance
from bedwright.water.beds import BedDays, Ground, Refill, Start
from bedwright.water.irrigation import CatchCups, run_depth
from bedwright.water.season_runs import known_emitter, season_runs


@given(seed=st.integers(0, 2**32 - 1), gap=st.integers(1, 4))
def test_a_seasons_runs_bring_what_the_balance_asked_for(seed: int, gap: int):
    dice = np.random.default_rng(seed)
    need = dice.uniform(0, 0.009, (int(dice.integers(1, 60)), 3)) * (dice.random(3) > 0.2)
    area, flow, even = dice.uniform(2, 20, 3), dice.uniform(50, 300, 3), dice.uniform(0.6, 1, 3)
    most = dice.uniform(0.004, 0.03, 3)

    found = season_runs(need, most, gap, area, flow, even, 0.1)

    brought = run_depth(found.minutes, area, flow) * found.runs * even * 0.9
    assert brought.sum(axis=0) == pytest.approx(need.sum(axis=0), abs=1e-12)
    some = found.runs > 0
    assert np.all(found.gap_days[some] <= gap)
    assert np.all((found.net_m / np.maximum(found.runs, 1) <= most * (1 + 1e-8))[some])


def test_a_hot_week_runs_longer_and_not_less_often():
    need = np.concatenate([np.full((7, 1), 0.003), np.full((7, 1), 0.009)])

    found = season_runs(need, 0.020, 2, 7.5, 100.0, 0.85)

    assert found.runs[:, 0].tolist() == [4, 4]
    assert found.minutes[1, 0] == pytest.approx(3 * found.minutes[0, 0])


def test_a_shallow_bed_runs_more_often_than_the_gap_alone_would_ask():
    found = season_runs(np.full((7, 2), 0.009), np.array([0.010, 0.030]), 3, 7.5, 100.0, 0.85)

    assert found.runs[0].tolist() == [7, 3]


def test_a_season_watered_by_the_timers_days_keeps_its_crop_free_of_stress():
    """Runs every second day within the readily available water, by the balance itself."""
    days = BedDays(*(np.full((56, 1), each) for each in (0.008, 0.0, 1.05, 1.2, 0.85, 0.060)))
    ground = Ground(0.020, 0.009, 0.4, wetted_share=0.4, drip_under_canopy=1.0)
    weekdays = np.arange(56) % 7
    allowed = np.isin(weekdays, (0, 2, 4, 6))[:, np.newaxis]

    result = daily_balance(days, ground, Start(0.0, 0.0), Refill(allowed, 0.0), timing="early")

    assert allowed[:7, 0].tolist() == [True, False, True, False, True, False, True]
    assert result.stress(days).min() == pytest.approx(1.0)
    assert result.irrigation_m[~allowed[:, 0]].sum() == 0


def test_a_catch_cup_reading_outranks_the_printed_flow():
    cups = CatchCups(0.8, 0.72)

    assert known_emitter(1.0, 0.75, cups).flow_l_h == 0.8
    assert known_emitter(1.0, 0.75, cups).uniformity == 0.72
    assert known_emitter(1.0, 0.75) == known_emitter(1.0, 0.75, None)
    assert not known_emitter(1.0, 0.75).measured


def test_an_emitter_of_which_nothing_is_known_is_an_error():
    with pytest.raises(ValueError, match="no cups were set"):
        known_emitter(None, 0.75)


@pytest.mark.parametrize("shape", [(7,), (0, 3)])
def test_a_season_has_days_and_beds(shape: tuple[int, ...]):
    with pytest.raises(ValueError, match="need_m has shape"):
        season_runs(np.zeros(shape), 0.01, 2, 1.0, 1.0, 1.0)
