"""A wrong input to an answer of decay is refused by its name."""

import math

import pytest

from bedwright.feeding import response

RIGHT = {
    "mineralization_rate_campbell_1981": {
        "temperature": 298.15, "intercept": 6.14, "slope": 2285.0,
    },
    "temperature_factor_q10": {"temperature": 288.15, "reference": 298.15, "q10": 2.0},
    "temperature_factor_ceres": {"temperature": 293.15},
    "temperature_factor_rothc": {"temperature": 293.15},
    "temperature_factor_daisy": {"temperature": 293.15},
    "moisture_factor_ceres": {
        "water": 0.2, "air_dry": 0.05, "drained_limit": 0.25, "saturation": 0.45,
    },
    "leached_share": {"drainage": 10.0, "water_held": 75.0},
}  # fmt: skip


@pytest.mark.parametrize("wrong", [math.nan, -1.0])
@pytest.mark.parametrize(
    ("name", "key"), [(name, key) for name, right in RIGHT.items() for key in right]
)
def test_a_wrong_input_is_refused_by_name(name: str, key: str, wrong: float):
    with pytest.raises(ValueError, match=rf"\b{key}\b"):
        getattr(response, name)(**RIGHT[name] | {key: wrong})


def test_celsius_given_for_kelvin_is_refused():
    with pytest.raises(ValueError, match="temperature is 25"):
        response.temperature_factor_rothc(25.0)


def test_decay_stops_where_the_models_stop_it():
    assert response.temperature_factor_ceres(273.15) == 0
    assert response.temperature_factor_rothc(273.15 - 20) == 0
    assert response.temperature_factor_daisy(273.15 + 60) == 0
    assert response.temperature_factor_daisy(273.15 - 5) == 0
