"""What the gardener insists on: a rate of their own is kept, a material struck out is not used."""

import pytest
from small_gardens import ALKALINE, NEUTRAL, bed_of, codes, garden_text, plan_of

from bedwright.garden import GardenError
from bedwright.units import to_si


def dressing(material: str, rate: str) -> str:
    return f'dressing = {{ material = "{material}", rate = "{rate}" }}'


def line_of(bed, key: str):
    return next((each for each in bed.lines if each.material.key == key), None)


def test_a_rate_of_ones_own_is_spread_as_asked():
    line = line_of(bed_of(NEUTRAL, want=dressing("gypsum", "2 lb/100 ft2")), "gypsum")

    assert line.per_area == pytest.approx(to_si(2, "lb/100 ft2", "mass_per_area"), rel=1e-5)


def test_a_rate_against_our_advice_is_kept_and_the_advice_said():
    bed = bed_of(ALKALINE, want=dressing("dolomitic lime", "5 lb/100 ft2"))

    assert "own_rate_against_advice" in codes(bed)


def test_a_rate_that_the_rules_forbid_is_left_out_and_said():
    bed = bed_of(NEUTRAL, want=dressing("urea", "1 lb/100 ft2"), limits="organic_only = true")

    assert line_of(bed, "urea") is None
    assert "own_rate_refused" in codes(bed)


def test_a_material_struck_out_is_on_no_bed_and_the_reason_stands_there():
    used = bed_of(NEUTRAL).lines[0].material
    bed = bed_of(NEUTRAL, limits=f'avoid = ["{used.name.lower()}"]')

    assert line_of(bed, used.key) is None
    assert ("avoided", used.key) in {(each.code, each.material.key) for each in bed.strikes}


def test_an_unknown_name_among_those_to_avoid_is_a_fault_with_the_nearest():
    with pytest.raises(GardenError, match="blood meal"):
        plan_of(garden_text(NEUTRAL, limits='avoid = ["blod meal"]'))
