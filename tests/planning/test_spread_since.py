"""What was spread since the soil was sampled is not asked for again."""

import pytest
from small_gardens import NEUTRAL, RICH, bed_of, codes

from bedwright.units import to_si


def spread(material: str, amount: str, on: str) -> str:
    return (
        '[[history]]\nbed = "A"\nyear = 2026\n'
        f'applied = [{{ material = "{material}", amount = "{amount}", on = {on} }}]\n'
    )


def amount(bed, nutrient: str) -> float:
    return next(each.amount.value for each in bed.needs if each.nutrient == nutrient)


def test_potash_spread_after_the_sampling_is_taken_off_what_the_test_asks_for():
    plain = bed_of(NEUTRAL)
    later = bed_of(NEUTRAL, more=spread("potassium sulfate", "0.1 lb/100 ft2", "2026-11-02"))

    # 50 % K2O, all of it soluble: the table's own row, by hand.
    brought = to_si(0.1, "lb/100 ft2", "mass_per_area") * 0.5
    assert amount(later, "k2o") == pytest.approx(amount(plain, "k2o") - brought, rel=0.02)
    assert "spread_since_counted" in codes(later)


def test_what_was_spread_before_the_sampling_is_in_the_test_already():
    plain = bed_of(NEUTRAL)
    earlier = bed_of(NEUTRAL, more=spread("potassium sulfate", "1 lb/100 ft2", "2026-10-01"))

    assert amount(earlier, "k2o") == amount(plain, "k2o")
    assert "spread_since_counted" not in codes(earlier)


def test_more_than_was_asked_for_leaves_no_need_and_no_debt():
    bed = bed_of(NEUTRAL, more=spread("potassium sulfate", "20 lb/100 ft2", "2026-11-02"))

    assert amount(bed, "k2o") == 0
    assert all("potassium" not in line.material.key for line in bed.lines)


def test_phosphate_spread_takes_off_the_ceiling_all_that_it_holds():
    bones = spread("steamed bone meal", "0.05 lb/100 ft2", "2026-11-02")
    plain, later = (
        next(each for each in bed.needs if each.nutrient == "p2o5")
        for bed in (bed_of(RICH), bed_of(RICH, more=bones))
    )

    assert 0 < later.ceiling.value < plain.ceiling.value
    assert amount(bed_of(NEUTRAL, more=bones), "p2o5") < amount(bed_of(NEUTRAL), "p2o5")
