"""Whether the light of a place is enough for a crop."""

import numpy as np
import pytest

from bedwright.light.needs import LightFit, LightNeed, light_fit

FRUITING = LightNeed(12.0, 20.0)


def test_light_is_enough_thin_or_dark():
    found = light_fit(np.array([[20.0, 12.0], [11.9, 0.0]]), FRUITING)

    assert found.tolist() == [[LightFit.ENOUGH, LightFit.THIN], [LightFit.DARK, LightFit.DARK]]
    assert str(light_fit(19.9, FRUITING)) == "thin"


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: LightNeed(20, 12), "must not be more than wanted_mol_m2, 12"),
        (lambda: LightNeed(-1, 12), "least_mol_m2 is -1"),
        (lambda: LightNeed(0, 0), "wanted_mol_m2 is 0"),
        (lambda: light_fit(-1.0, FRUITING), "light_mol_m2_d is -1"),
        (lambda: light_fit(np.array([np.nan]), FRUITING), "light_mol_m2_d is"),
    ],
)
def test_what_cannot_be_a_need_is_refused(make, said):
    with pytest.raises(ValueError, match=said):
        make()
