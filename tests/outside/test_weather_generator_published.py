"""The published matrices of Richardson's generator, and its rules, as coded in a crop model.

Carry and shock: Richardson and Wright 1984 (ARS-8), read in WGEN.for of DSSAT-CSM. The
correlations that they imply were derived for the dossier (example W24) with other code.
"""

import numpy as np
import pytest

from bedwright.climate.carry_over import correlations
from bedwright.climate.generator_defaults import generator_defaults, weather_statistics
from bedwright.climate.monthly import stated_monthly
from bedwright.reference import Library

LIBRARY = Library()
DEFAULTS = generator_defaults(LIBRARY.rows("weather_generator"))


def test_the_published_matrices_keep_unit_variances():
    now, _ = correlations(DEFAULTS.carry, DEFAULTS.shock)

    np.testing.assert_allclose(np.diag(now), 1, atol=0.0015)


def test_the_correlations_that_they_imply():
    now, lag = correlations(DEFAULTS.carry, DEFAULTS.shock)

    # maximum with minimum, maximum with radiation, minimum with radiation
    np.testing.assert_allclose(
        [now[0, 1], now[0, 2], now[1, 2]], [0.634, 0.186, -0.193], atol=0.0005
    )
    np.testing.assert_allclose(
        lag,
        [[0.621, 0.446, 0.087], [0.563, 0.674, -0.100], [0.015, -0.090, 0.250]],
        atol=0.0006,
    )


def test_a_month_by_the_minimal_rules_worked_by_hand():
    """10 wet days of 30.4 bring 60 mm; means 25 and 10 C.

    PW = 10 / 31; P(W|D) = .75 PW; P(W|W) = .25 + .75 PW; scale = -2.16 + 1.83 x 6 = 8.82 and
    shape = 6 / 8.82; dry days warmer by |9.67 - 27.4 P(W|D)| F.
    """
    statistics = weather_statistics(
        stated_monthly(np.full(12, 25.0), np.full(12, 10.0), np.full(12, 60.0), np.full(12, 10.0)),
        DEFAULTS,
    )
    wet = 10 / 31

    assert statistics.p_wet_after_dry[0] == pytest.approx(0.75 * wet)
    assert statistics.p_wet_after_wet[0] == pytest.approx(0.25 + 0.75 * wet)
    assert statistics.rain_shape[0] == pytest.approx(6 / 8.82)
    dry, rainy = statistics.mean[0, :, 0]
    yearly = 0.75 * np.mean(10 / np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]))
    assert dry - rainy == pytest.approx(abs(9.67 - 27.4 * yearly) * 5 / 9, abs=1e-4)
    assert (1 - wet) * dry + wet * rainy == pytest.approx(25)
    assert statistics.sd[0, 0, 0] == pytest.approx(5.8 - 0.09 * dry)
    assert statistics.sd[1, 1, 0] == pytest.approx(5.2 - 0.13 * 10)
