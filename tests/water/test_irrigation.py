"""Minutes, runs and their evenness."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.water import irrigation as drip

depths = st.floats(0, 0.2)
areas = st.floats(0.1, 1000)
flows = st.floats(0.5, 20_000)


@given(net=depths, area=areas, flow=flows, even=st.floats(0.3, 1), leaching=st.floats(0, 0.9))
def test_minutes_turned_back_give_the_depth_that_was_asked_for(
    net: float, area: float, flow: float, even: float, leaching: float
):
    gross = drip.gross_depth(net, even, leaching)

    back = drip.run_depth(drip.run_minutes(gross, area, flow), area, flow)

    assert float(back) == pytest.approx(float(gross), rel=1e-12, abs=1e-15)
    assert float(back) * even * (1 - leaching) == pytest.approx(net, rel=1e-12, abs=1e-15)


def test_many_beds_are_worked_at_once():
    minutes = drip.run_minutes(np.array([0.005, 0.010]), np.array([7.5, 9.0]), 100.0)

    assert minutes == pytest.approx([22.5, 54.0])


def test_flow_falls_with_the_root_of_pressure_and_not_at_all_where_it_is_compensated():
    assert float(drip.emitter_flow(2.0, 25, 100, 0.5)) == pytest.approx(1.0)
    assert float(drip.emitter_flow(2.0, 25, 100, 0.0)) == pytest.approx(2.0)


def test_catch_cups_say_how_much_the_driest_quarter_gets():
    caught = drip.catch_cup_flow((30.0, 40.0, 40.0, 50.0), 2.0)

    assert caught.value == pytest.approx(40 / 1000 / 2 * 60)
    assert caught.uniformity == pytest.approx(0.75)


@pytest.mark.parametrize("cups", [(), (30.0, 30.0, 30.0)])
def test_too_few_cups_are_no_reading(cups: tuple[float, ...]):
    with pytest.raises(ValueError, match="4 or more are needed"):
        drip.catch_cup_flow(cups, 2.0)


def test_cups_that_stay_empty_are_a_blocked_line():
    with pytest.raises(ValueError, match="mean_of_cups_ml"):
        drip.catch_cup_flow((0.0, 0.0, 0.0, 0.0), 2.0)


@given(weekly=st.floats(0.001, 0.12), most=st.floats(0.002, 0.05), gap=st.integers(1, 7))
def test_runs_keep_within_what_the_soil_takes_and_the_gap_that_fruit_bears(
    weekly: float, most: float, gap: int
):
    runs = int(drip.runs_per_week(weekly, most, gap))

    assert weekly / runs <= most * (1 + 1e-8)
    if runs <= 7:
        assert drip.longest_gap(drip.run_days(runs)) <= gap
    fewer = runs - 1
    assert fewer == 0 or weekly / fewer > most or 7 / fewer > gap


def test_a_week_without_need_has_no_run():
    assert drip.runs_per_week(np.array([0.0, 0.02]), 0.01, 2).tolist() == [0, 4]


@pytest.mark.parametrize("runs", range(1, 8))
@pytest.mark.parametrize("shift", range(7))
def test_runs_fall_evenly_over_a_week_that_repeats(runs: int, shift: int):
    days = drip.run_days(runs, shift)

    gaps = [(b - a) % 7 or 7 for a, b in zip(days, days[1:] + days[:1], strict=True)]
    assert len(set(days)) == runs
    assert max(gaps) - min(gaps) <= 1
    assert max(gaps) == drip.longest_gap(days)


def test_a_gap_needs_a_run():
    with pytest.raises(ValueError, match="no run"):
        drip.longest_gap(())


@pytest.mark.parametrize(
    ("act", "name"),
    [
        (lambda: drip.run_minutes(-0.001, 7.5, 100), "gross_m"),
        (lambda: drip.run_minutes(0.001, 0, 100), "area_m2"),
        (lambda: drip.run_depth(30, 7.5, 0), "flow_l_h"),
        (lambda: drip.gross_depth(0.005, 0), "uniformity"),
        (lambda: drip.gross_depth(0.005, 0.8, 0.95), "leaching_share"),
        (lambda: drip.drip_flow(1, 0, 10, 2), "spacing_m"),
        (lambda: drip.runs_per_week(0.02, 0.01, 0.5), "longest_gap_days"),
        (lambda: drip.run_days(8), "runs"),
    ],
)
def test_what_cannot_be_is_named(act, name: str):
    with pytest.raises(ValueError, match=name):
        act()
