"""What weather the flowers meet is counted day by day."""

from datetime import date

import numpy as np
import pytest

from bedwright.crops.fruit_set import SetResponse, off_range
from bedwright.planning.timing_flowers import met_by_flowers
from bedwright.planning.timing_model import DateOutlook, Spread

FIRSTS = np.array([-30, 335, 700])


def seen(flower: float, last: float) -> DateOutlook:
    nothing = dict.fromkeys(
        "killed damaged lost soil_warm bolted set_days harvest_days first_harvest cover_off "
        "hot_days".split()
    )
    return DateOutlook(
        on=date(2027, 5, 1),
        years=3,
        killed_range=(None, None),
        first_flower=Spread(flower, flower, flower),
        last_harvest=Spread(last, last, last),
        **nothing,
    )


def test_days_off_the_best_range_are_told_by_any_response():
    responses = [SetResponse("mean", 5, 15, 25, 35), SetResponse("night", 0, 5, 18, 25)]
    high, low = np.array([30.0, 20, 40, 22, np.nan]), np.array([10.0, 2, 10, 20, 10])

    hot, cool = off_range(responses, high, low)

    assert hot.tolist() == [False, False, False, True, False]
    assert cool.tolist() == [False, True, False, False, False]
    assert off_range(responses, high + 0.1, low)[0].tolist()[2]  # a mean of 25.05


def test_the_share_counts_the_days_from_flower_to_the_last_fruit_of_whole_seasons():
    hot, cool = np.zeros(1000, bool), np.zeros(1000, bool)
    at = 335 + 100 + 40  # the only season of the record that is whole
    hot[at : at + 10] = True
    cool[at + 10 : at + 15] = True

    found = met_by_flowers(seen(40, 90), 100, (hot, cool), np.array([-200, 335, 900]), 31)

    assert found == (pytest.approx(10 / 20), pytest.approx(5 / 20))


def test_without_flowers_or_whole_seasons_nothing_is_told():
    off = np.zeros(300, bool), np.zeros(300, bool)

    assert met_by_flowers(seen(40, 90), 100, None, FIRSTS, 30) == (None, None)
    assert met_by_flowers(seen(40, 90), 290, off, FIRSTS, 30) == (None, None)
