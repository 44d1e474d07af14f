"""Covers: the cold that ends them, and the wait after them."""

import numpy as np
import pytest

from bedwright.crops.covers import killed_on, wait_after
from bedwright.crops.growing import growing
from bedwright.crops.timing_tables import TimingTables
from bedwright.reference import Library

LIBRARY = Library()
TABLES = ("crop_timing", "crop_habits", "emergence", "fruit_set_responses", "protection")
TIMING = TimingTables.of(*(LIBRARY.rows(table) for table in TABLES))


def wait(crop: str, *, dead: bool = False) -> float:
    ratio = growing(LIBRARY, crop).residue_c_to_n
    return wait_after(TIMING, crop, None if ratio is None else ratio.value, dead=dead)


def test_a_cover_ends_on_the_first_night_that_kills_it():
    nights = np.array([5.0, 1.0, -4.0, -7.0, -9.0, -2.0])
    starts, ends = np.array([0.0, 4.0]), np.array([5.0, 5.0])

    assert killed_on(nights, -6.5, starts, ends).tolist() == [3, 4]
    assert np.isnan(killed_on(nights, -12.0, starts, ends)).all()
    assert np.isnan(killed_on(nights, -6.5, starts, np.array([2.0, 5.0]))).tolist() == [True, False]


def test_green_legumes_are_followed_sooner_than_straw_and_sudangrass_last():
    # Southern Cover Crops Council: about three weeks, three to four; an advisory service: six to
    # eight after sorghum-sudangrass.
    waits = [
        wait(each) for each in ("hairy_vetch", "phacelia", "pearl_millet", "sorghum_sudangrass")
    ]

    assert waits == sorted(waits)
    assert waits[0] == pytest.approx(14)
    assert waits[2] == pytest.approx(28)
    assert waits[3] == pytest.approx(42)


def test_after_rye_small_seed_waits_four_weeks():
    assert wait("cereal_rye") == pytest.approx(28)


def test_a_dead_stand_keeps_its_bed_shorter_than_one_that_is_dug_in_green():
    assert wait("phacelia", dead=True) < wait("phacelia")


def test_between_the_ends_of_c_to_n_the_usual_three_weeks_hold():
    assert wait_after(TIMING, "oat", 25.0, dead=False) == pytest.approx(21)
    assert wait_after(TIMING, "oat", None, dead=False) == pytest.approx(21)
    with pytest.raises(ValueError, match="c_to_n"):
        wait_after(TIMING, "oat", 0.0, dead=False)
