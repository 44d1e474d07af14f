"""What the years have shown, what can't be told apart, and the garden's own figures."""

import pytest

from bedwright.planning.compare.own_figures import own_figures
from bedwright.planning.compare.years import over_the_years
from bedwright.planning.own import library_of
from bedwright.planning.work.rates import Rates
from bedwright.reports.compare_own import own_said
from bedwright.reports.compare_years import split_said
from bedwright.units import UnitSystem
from planning.compare.compare_gardens import HEAD, read

_COMPOST = 'applied = [{ material = "plant compost", amount = "1 in", on = %d-03-20 }]\n'


def season(bed: str, year: int, pounds: int, *, compost: bool = False, crop: str = "tomato") -> str:
    text = (
        f'[[history]]\nbed = "{bed}"\nyear = {year}\ncrop = "{crop}"\nharvested = "{pounds} lb"\n'
    )
    return text + (_COMPOST % year if compost else "")


def years_of(text: str, library):
    document = read(HEAD + text, library)
    (found,) = over_the_years(document, library)
    return document, found


def test_what_moved_together_is_told(library):
    text = season("C", 2024, 80) + season("C", 2025, 120, compost=True)

    _, found = years_of(text, library)

    (split,) = found.splits
    assert split.together == ("year",)  # the same bed, another year
    assert split.within is None
    told = " ".join(split_said(split, UnitSystem.US, library))
    assert "can't be told apart from the year" in told and "little weight" in told


def test_within_years_that_have_both_the_difference_stands_apart(library):
    text = (
        season("C", 2024, 80) + season("D", 2024, 90, compost=True)
        + season("C", 2025, 60) + season("F", 2025, 40)
    )  # fmt: skip

    _, found = years_of(text, library)

    (split,) = found.splits
    bed = 80 * 0.09290304  # m2 of 20 ft by 4 ft
    assert split.within == pytest.approx(10 * 0.45359237 / bed)
    assert split.difference == pytest.approx(30 * 0.45359237 / bed)  # 90 less the mean of three
    assert split.common_years == (2024,) and split.together == ("bed",)


def test_a_yield_is_the_tables_until_two_seasons_are_in(library):
    origins = []
    for text in (season("C", 2024, 80), season("C", 2024, 80) + season("D", 2025, 90)):
        document, crop = years_of(text, library)
        (own,) = own_figures(document, library, (crop,))
        origins.append((own.origin, own.weight))

    assert origins == [("table", pytest.approx(1 / 3)), ("mixed", pytest.approx(0.5))]
    assert "50 %" in own_said(own, UnitSystem.US)
    assert own.value.value == pytest.approx((own.own.value + own.table.value) / 2)


def test_own_times_are_weighed_by_how_often_they_were_taken(library):
    table = Rates(library).time("clear", "m2", 1.0)
    stated = '[[labor_time]]\ntask = "clear"\ntime = "60 min"\narea = "10 m2"\n'
    timed = stated + "timed = 3\n" + stated.replace("60", "120") + "timed = 1\n"

    alone, weighed = (
        Rates(library, tuple(read(HEAD + text, library).garden.labor_time)).time("clear", "m2", 1.0)
        for text in (stated, timed)
    )

    assert alone.value == pytest.approx(0.1)  # 60 min on 10 m2, the table's gone
    own = (3 * 0.1 + 1 * 0.2) / 4
    assert weighed.value == pytest.approx((own + table.value) / 2)  # 4 timings of 4 + 4


def test_own_germination_changes_the_seed_to_buy(library):
    test = '[[germination_test]]\ncrop = "tomato"\non = 2026-02-01\nsown = 50\ncame_up = 41\n'
    document = read(HEAD + test, library)
    table = library.fact("crop_growing", "tomato", "germination", "-")

    found = library_of(document, library).fact("crop_growing", "tomato", "germination", "-")

    assert found.value == pytest.approx((41 + 50 * table.value) / 100)
    assert found.inputs and found.formula
    twice = library_of(document, library_of(document, library))
    again = twice.fact("crop_growing", "tomato", "germination", "-")
    assert again.value == pytest.approx(found.value)  # weighed once, however often it is read
    (own,) = own_figures(document, library_of(document, library), ())
    assert (own.kind, own.origin, own.count) == ("germination", "mixed", 50)
    assert own.weight == pytest.approx(0.5)
