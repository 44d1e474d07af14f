"""Laws of salt and sodium: more salt is never better, and what is asked for is enough."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bedwright.reference import Library
from bedwright.soil import salinity, sodium
from bedwright.working import Figure

LIBRARY = Library()
EXTRACTS = ("water_1_1", "water_1_2", "water_2_5", "water_1_5")
GROUPS = ("coarse", "medium", "fine", "any")
near = 1 + 1e-9


@given(st.floats(0, 30), st.floats(0, 10), st.floats(0.1, 10), st.floats(0.5, 40))
def test_more_salt_never_gives_more_yield(ec_e: float, more: float, threshold: float, slope: float):
    less_salt = salinity.relative_yield(ec_e, threshold, slope)
    assert 0 <= salinity.relative_yield(ec_e + more, threshold, slope) <= less_salt <= 100
    if ec_e <= threshold:
        assert less_salt == 100


@given(st.floats(0, 100), st.floats(0.1, 10), st.floats(0.5, 40))
def test_the_salt_at_a_yield_gives_that_yield(kept: float, threshold: float, slope: float):
    ec_e = salinity.ec_e_at_yield(kept, threshold, slope)
    assert ec_e >= threshold
    assert salinity.relative_yield(ec_e, threshold, slope) == pytest.approx(kept, abs=1e-6)


@given(st.floats(0.05, 5), st.floats(0.5, 10), st.floats(0.01, 2))
def test_saltier_water_must_leach_more_and_a_hardier_crop_less(
    water: float, ec_e: float, more: float
):
    assume(water + more < 2.4 * ec_e)
    leaching = salinity.leaching_requirement(water, ec_e)
    assert 0 < leaching.value < 1
    assert salinity.leaching_requirement(water + more, ec_e).value > leaching.value
    assert salinity.leaching_requirement(water, ec_e + more).value < leaching.value
    assert leaching.water_per_use * (1 - leaching.value) == pytest.approx(1)


@given(st.floats(0.1, 10), st.floats(1, 10))
def test_water_too_salty_to_leach_with_is_refused(ec_e: float, times: float):
    with pytest.raises(ValueError, match="cannot hold"):
        salinity.leaching_requirement(2.5001 * ec_e * times, ec_e)


@pytest.mark.parametrize("extract", EXTRACTS)
@pytest.mark.parametrize("group", GROUPS)
@given(reading=st.floats(0, 10), more=st.floats(0, 5))
def test_a_thinner_extract_never_reads_saltier_than_the_paste(
    extract: str, group: str, reading: float, more: float
):
    def paste(value: float) -> Figure:
        given_reading = Figure("ec", value, "dS/m", "measured")
        return salinity.to_saturation(LIBRARY, extract, given_reading, group)

    figure = paste(reading)
    assert reading <= figure.least <= figure.value <= figure.most
    assert paste(reading + more).value >= figure.value / near


def test_a_saturated_paste_is_taken_as_it_is_and_an_unknown_extract_refused():
    reading = Figure("ec", 3.2, "dS/m", "measured")
    assert salinity.to_saturation(LIBRARY, "saturated_paste", reading, "any").value == 3.2
    with pytest.raises(LookupError, match="water_1_9"):
        salinity.to_saturation(LIBRARY, "water_1_9", reading, "any")


def test_a_form_of_conversion_that_is_not_known_is_refused():
    with pytest.raises(ValueError, match="cubic"):
        salinity.ec_e_of_extract(1.0, "cubic", 2.0, 0.0)


@given(st.floats(0, 10), st.floats(1, 5), st.floats(20, 100), st.floats(0.01, 20))
def test_soil_that_holds_more_water_dilutes_its_salt(
    reading: float, parts: float, water: float, more: float
):
    ec_e = salinity.ec_e_by_dilution(reading, parts, water)
    assert salinity.ec_e_by_dilution(reading, parts, water + more) <= ec_e
    assert ec_e * water == pytest.approx(reading * 100 * parts)


@given(st.floats(0, 2), st.floats(600, 1800), st.floats(0.05, 0.5), st.floats(20, 80))
def test_salt_rises_with_what_is_spread_and_falls_with_depth(
    salts: float, density: float, depth: float, water: float
):
    rise = salinity.salt_rise(salts, density, depth, water)
    assert salinity.salt_rise(2 * salts, density, depth, water).value == pytest.approx(
        2 * rise.value
    )
    assert salinity.salt_rise(salts, density, 2 * depth, water).value == pytest.approx(
        rise.value / 2
    )
    assert rise.concentration * rise.water_at_saturation == pytest.approx(1000 * salts)
    assert rise.concentration == pytest.approx(0.640 * rise.value)  # 640 mg/l for each dS/m


@given(st.floats(0, 100), st.floats(0.1, 50), st.floats(0.1, 50), st.floats(0.01, 20))
def test_calcium_lowers_the_adsorption_ratio(na: float, ca: float, mg: float, more: float):
    ratio = sodium.sodium_adsorption_ratio(na, ca, mg)
    assert sodium.sodium_adsorption_ratio(na, ca + more, mg) <= ratio
    assert sodium.sodium_adsorption_ratio(na + more, ca, mg) >= ratio
    assert sodium.sodium_adsorption_ratio(na, mg, ca) == pytest.approx(ratio)


def test_water_without_calcium_and_magnesium_has_no_ratio():
    with pytest.raises(ValueError, match="calcium_and_magnesium"):
        sodium.sodium_adsorption_ratio(1.0, 0.0, 0.0)


@given(st.floats(0, 100), st.floats(0, 20))
def test_exchangeable_sodium_rises_with_the_ratio_and_stays_a_share(sar: float, more: float):
    esp = sodium.exchangeable_sodium_percentage(sar)
    assert 0 <= esp <= sodium.exchangeable_sodium_percentage(sar + more) < 100


@given(
    st.floats(0, 100), st.floats(0, 100), st.floats(1, 60), st.floats(800, 1800), st.floats(0.05, 1)
)
def test_gypsum_rises_with_the_sodium_to_displace(
    esp: float, target: float, cec: float, density: float, depth: float
):
    need = sodium.gypsum_requirement(esp, target, cec, density, depth)
    assert need >= 0
    assert sodium.gypsum_requirement(esp, target, 2 * cec, density, depth) == pytest.approx(
        2 * need
    )
    assert sodium.gypsum_requirement(min(100, esp + 1), target, cec, density, depth) >= need
    if esp <= target:
        assert need == 0


@given(st.floats(0, 100), st.floats(1, 60), st.floats(1, 60), st.floats(20, 80))
def test_gypsum_for_soluble_sodium_is_nothing_at_the_goal(
    na: float, sar: float, target: float, water: float
):
    need = sodium.gypsum_for_soluble_sodium(na, sar, target, water)
    assert need >= 0
    assert sodium.gypsum_for_soluble_sodium(na, sar + 1, target, water) >= need
    if sar <= target:
        assert need == 0


@given(*[st.floats(0, 50)] * 4)
def test_residual_carbonate_is_a_balance(
    bicarbonate: float, carbonate: float, ca: float, mg: float
):
    rest = sodium.residual_sodium_carbonate(bicarbonate, carbonate, ca, mg)
    assert rest + ca + mg == pytest.approx(bicarbonate + carbonate)
    assert sodium.residual_sodium_carbonate(bicarbonate, carbonate, ca + 1, mg) < rest
