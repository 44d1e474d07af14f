"""Bands of freeze odds hold the truth as often as they say, and widen for short records."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.freeze_bands import chance_band, day_band
from bedwright.climate.freeze_odds import FreezeDays, FreezeOdds, freeze_odds

CHANCES = np.array([0.1, 0.5, 0.9])
DAYS = np.arange(180.0, 320.0, 7)


def odds(seasons: int, seed: int, freezing: int | None = None, which: str = "last") -> FreezeOdds:
    """Last freezes drawn from a normal of mean 250 and deviation 14 days."""
    days = np.random.default_rng(seed).normal(250, 14, (1, seasons))
    days[:, freezing if freezing is not None else seasons :] = np.nan
    known = np.ones(days.shape, bool)
    return freeze_odds(FreezeDays(np.zeros(1), days, days, known, known), which)


@pytest.mark.parametrize("seasons", [6, 15, 30])
def test_a_90_percent_band_holds_the_true_date_nine_times_of_ten(seasons: int):
    truth = 250 + 14 * np.array([1.281552, 0.0, -1.281552])
    inside = np.zeros(3)
    times = 400
    for seed in range(times):
        band = day_band(odds(seasons, seed), CHANCES, level=0.9, draws=400, seed=seed)
        low = np.nan_to_num(band.low[0], nan=-np.inf)  # no such date is earlier than any
        inside += (low <= truth) & (truth <= band.high[0])

    # the 90 % date of few seasons runs into doubt whether each has a freeze, so it may hold more
    error = np.sqrt(0.9 * 0.1 / times)
    assert np.all(inside / times > 0.9 - 4 * error)
    assert np.all(inside[:2] / times < 0.9 + 4 * error)


@pytest.mark.parametrize("which", ["last", "first"])
def test_a_short_record_has_the_wider_band(which: str):
    widths = []
    for seasons in (60, 20, 6):
        mean_width = []
        for seed in range(20):
            band = chance_band(odds(seasons, seed, which=which), DAYS, level=0.9, draws=500, seed=1)
            mean_width.append((band.high - band.low).mean())
        widths.append(np.mean(mean_width))

    assert widths[0] < widths[1] < widths[2]


@given(st.integers(0, 1000), st.integers(3, 40), st.sampled_from(["last", "first"]))
def test_the_band_holds_its_estimate_and_stays_a_chance(seed: int, seasons: int, which: str):
    band = chance_band(odds(seasons, seed, which=which), DAYS, level=0.8, draws=200, seed=seed)

    assert np.all((band.low <= band.estimate) & (band.estimate <= band.high))
    assert np.all((band.low >= 0) & (band.high <= 1))


def test_the_same_seed_gives_the_same_band_and_another_seed_another():
    bands = [chance_band(odds(20, 1), DAYS, level=0.9, draws=300, seed=s) for s in (7, 7, 8)]

    np.testing.assert_array_equal(bands[0].low, bands[1].low)
    assert not np.array_equal(bands[0].low, bands[2].low)


def test_the_band_of_a_weighted_record_is_that_of_its_effective_seasons():
    days = np.random.default_rng(3).normal(250, 14, (1, 30))
    known = np.ones(days.shape, bool)
    record = FreezeDays(np.zeros(1), days, days, known, known)
    plain = day_band(freeze_odds(record, "last"), [0.5], level=0.9, draws=400, seed=1)
    weights = 0.5 ** (np.arange(30)[::-1] / 5)
    recent = day_band(freeze_odds(record, "last", weights), [0.5], level=0.9, draws=400, seed=1)

    assert (recent.high - recent.low).item() > (plain.high - plain.low).item()


def test_a_date_that_may_not_exist_has_no_end():
    band = day_band(odds(20, 2, freezing=14), [0.1, 0.65], level=0.9, draws=500, seed=1)

    assert np.isfinite([band.low[0, 0], band.high[0, 0]]).all()
    assert np.isnan(band.low[0, 1])
    assert np.isfinite(band.high[0, 1])


def test_no_freeze_in_ten_seasons_does_not_say_that_there_never_will_be():
    band = chance_band(odds(10, 1, freezing=0), [200.0], level=0.9, draws=2000, seed=1)

    assert band.estimate[0, 0] == 0
    assert band.low[0, 0] == 0
    assert 0.05 < band.high[0, 0] < 0.3


@pytest.mark.parametrize(
    ("change", "told"),
    [({"level": 1.0}, "level"), ({"draws": 10}, "draws"), ({"seed": -1}, "seed")],
)
def test_a_wrong_setting_is_named(change: dict, told: str):
    setting = {"level": 0.9, "draws": 200, "seed": 1} | change
    for band, at in ((chance_band, DAYS), (day_band, CHANCES)):
        with pytest.raises(ValueError, match=told):
            band(odds(10, 1), at, **setting)
