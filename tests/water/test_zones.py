"""The zones' week: nothing runs together, nothing exceeds the tap or the hours, or it says why."""

import itertools
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.water.irrigation import longest_gap, run_days
from bedwright.water.zones import Supply, Week, Zone, zone_week

HAIR = 1e-6
EXAMPLES = max(50, settings().max_examples // 5)

zone_lists = st.lists(
    st.tuples(st.floats(50, 900), st.floats(0, 200), st.integers(0, 7)), min_size=1, max_size=5
).map(lambda rows: [Zone(f"zone {k}", *row) for k, row in enumerate(rows)])
supplies = st.tuples(
    st.floats(100, 1500), st.lists(st.integers(0, 1440), min_size=2, max_size=4, unique=True),
    st.sampled_from([0.0, 5.0]),
).map(
    lambda row: Supply(
        row[0], tuple(zip(sorted(row[1])[::2], sorted(row[1])[1::2], strict=False)), row[2]
    )
)  # fmt: skip


def check(week: Week, zones: list[Zone], supply: Supply) -> None:
    by_name = {zone.name: zone for zone in zones}
    for run in week.runs:
        zone = by_name[run.zone]
        assert zone.flow_l_h <= supply.flow_l_h + HAIR
        assert run.end_min - run.start_min == pytest.approx(zone.minutes)
        assert any(
            start - HAIR <= run.start_min and run.end_min <= end + HAIR
            for start, end in supply.spells
        )
    for one, other in itertools.combinations(week.runs, 2):
        if one.day == other.day:
            apart = other.start_min >= one.end_min - HAIR or one.start_min >= other.end_min - HAIR
            assert apart, (one, other)
    if not week.short:
        for zone in zones:
            days = [run.day for run in week.runs if run.zone == zone.name]
            assert len(days) == (zone.runs if zone.minutes > 0 else 0)
            if days:
                assert longest_gap(tuple(days)) == longest_gap(run_days(zone.runs))


@settings(max_examples=EXAMPLES)
@given(zones=zone_lists, supply=supplies)
def test_no_schedule_exceeds_the_flow_or_the_hours_or_overlaps(zones: list[Zone], supply: Supply):
    week = zone_week(zones, supply)

    check(week, zones, supply)
    assert not (week.runs and week.short)


def fits(zones: list[Zone], supply: Supply) -> bool:
    """Whether some choice of shifts and spells fits, by trying them all."""
    options = list(itertools.product(range(7), range(len(supply.spells))))
    for picked in itertools.product(options, repeat=len(zones)):
        load = {(day, spell): -supply.pause_minutes for day in range(7) for spell in
                range(len(supply.spells))}  # fmt: skip
        for zone, (shift, spell) in zip(zones, picked, strict=True):
            for day in run_days(zone.runs, shift):
                load[day, spell] += zone.minutes + supply.pause_minutes
        if all(
            load[day, spell] <= supply.spells[spell][1] - supply.spells[spell][0] + HAIR
            for day, spell in load
        ):
            return True
    return False


small = st.lists(
    st.tuples(st.just(100.0), st.floats(20, 60), st.integers(1, 7)), min_size=2, max_size=3
).map(lambda rows: [Zone(f"zone {k}", *row) for k, row in enumerate(rows)])


@settings(max_examples=30)
@given(zones=small, minutes=st.integers(60, 120))
def test_where_it_says_that_nothing_fits_nothing_does(zones: list[Zone], minutes: int):
    supply = Supply(200.0, ((240, 240 + minutes),))

    week = zone_week(zones, supply)

    assert bool(week.short) != fits(zones, supply)


def test_zones_follow_each_other_with_a_pause_in_the_order_given():
    zones = [Zone("peppers", 400, 30, 7), Zone("melons", 500, 45, 7)]

    week = zone_week(zones, Supply(600, ((300, 480),), pause_minutes=5))

    assert [(r.zone, r.start_min, r.end_min) for r in week.runs if r.day == 0] == [
        ("peppers", 300, 330), ("melons", 335, 380),
    ]  # fmt: skip
    assert len(week.runs) == 14


def test_two_zones_that_do_not_fit_one_morning_take_turns():
    zones = [Zone("a", 400, 100, 3), Zone("b", 400, 100, 3)]

    week = zone_week(zones, Supply(600, ((300, 420),)))

    assert not week.short
    assert not {r.day for r in week.runs if r.zone == "a"} & {
        r.day for r in week.runs if r.zone == "b"
    }


def test_a_zone_that_asks_more_than_the_tap_gives_says_by_how_much():
    week = zone_week([Zone("long rows", 520, 30, 3)], Supply(480, ((300, 480),)))

    assert week.runs == ()
    assert [(each.zone, each.flow_l_h) for each in week.short] == [("long rows", 40)]


def test_a_run_that_is_longer_than_the_longest_spell_says_by_how_much():
    week = zone_week([Zone("a", 400, 200, 2)], Supply(480, ((300, 420), (1200, 1350))))

    assert [each.run_minutes for each in week.short] == [50]


def test_a_week_that_is_too_full_says_how_many_minutes_do_not_fit():
    zones = [Zone("a", 400, 60, 7), Zone("b", 400, 60, 7)]

    week = zone_week(zones, Supply(480, ((300, 400),)))

    assert [(each.zone, each.minutes) for each in week.short] == [("", pytest.approx(7 * 20))]


def test_nothing_to_water_is_an_empty_week():
    assert zone_week(
        [Zone("a", 400, 0, 3), Zone("b", 400, 30, 0)], Supply(100, ((0, 60),))
    ) == Week((), ())


@pytest.mark.parametrize("spells", [(), ((400, 300),), ((300, 400), (350, 500)), ((0, 1500),)])
def test_hours_that_cannot_be_are_errors(spells: tuple[tuple[float, float], ...]):
    with pytest.raises(ValueError, match="spells"):
        Supply(100, spells)


def test_a_name_stands_for_one_zone():
    with pytest.raises(ValueError, match="names of their own"):
        zone_week([Zone("a", 1, 1, 1), Zone("a", 1, 1, 1)], Supply(100, ((0, 60),)))


def test_the_solver_is_loaded_only_when_a_week_is_asked_for():
    import subprocess

    code = "import sys, bedwright.water.zones; sys.exit('scipy.optimize' in sys.modules)"

    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
