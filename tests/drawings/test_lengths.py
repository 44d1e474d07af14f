"""Lengths as on a tape."""

import pytest

from bedwright.drawings.lengths import round_step, tape
from bedwright.units import UnitSystem

US, METRIC = UnitSystem.US, UnitSystem.METRIC
INCH = 0.0254


@pytest.mark.parametrize(
    ("inches", "words"),
    [
        (0.5, "0.5 in"),
        (17, "17 in"),
        (17.5, "17.5 in"),
        (24, "2 ft"),
        (30, "30 in"),
        (36, "3 ft"),
        (48, "4 ft"),
        (48.4, "4 ft"),
        (150, "12 ft 6 in"),
        (599.9, "50 ft"),
        (1416, "118 ft"),
        (1199.7, "100 ft"),
        (1204, "100 ft"),
    ],
)
def test_feet_and_inches(inches, words):
    assert tape(inches * INCH, US) == words


@pytest.mark.parametrize(
    ("meters", "words"),
    [
        (0.9, "90 cm"),
        (0.999, "1 m"),
        (1.2, "1.2 m"),
        (1.25, "1.25 m"),
        (15, "15 m"),
        (27.91, "27.9 m"),
        (1234.56, "1234.6 m"),
    ],
)
def test_meters(meters, words):
    assert tape(meters, METRIC) == words


@pytest.mark.parametrize(
    ("span", "parts", "system", "step", "number"),
    [
        (36.0, 5, US, 20 * 0.3048, 20),
        (3.2, 5, US, 2 * 0.3048, 2),
        (30.0, 5, METRIC, 5.0, 5),
        (0.9, 5, METRIC, 0.1, 0.1),
    ],
)
def test_a_scale_bar_has_round_steps_that_fit(span, parts, system, step, number):
    found = round_step(span, parts, system)

    assert found == (pytest.approx(step), pytest.approx(number))
    assert found[0] * parts <= span * 1.001
