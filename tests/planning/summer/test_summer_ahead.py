"""The summer of small gardens: heat days, shade cloth and when it is not worth its light."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.garden.load import load_text
from bedwright.light.needs import LightNeed
from bedwright.planning.summer.ahead import summer_ahead
from bedwright.planning.summer.cloth import shades_of, trials_of
from bedwright.planning.summer.heat_days import limits_of, overlap
from bedwright.planning.summer.model import PlantingSummer, Summer
from bedwright.planning.timing import dated
from bedwright.reference import Library

LIBRARY = Library()
AS_OF = date(2026, 11, 25)
HOT = [15, 18, 22, 26, 31, 36, 39, 38, 34, 28, 21, 15]
NAMES = ("t_max", "t_min")


def months(values: list[float]) -> str:
    return "[" + ", ".join(f'"{each} C"' for each in values) + "]"


def garden(
    crop: str,
    set_out: str = "2027-05-10",
    *,
    highs: list[float] = HOT,
    latitude: str = "36",
    sun: str = "",
    more: str = "",
) -> Summer:
    """The summer of one bed at a corner of its garden."""
    text = (
        f'format = 2\n[garden]\nname = "Small"\nlatitude = "{latitude} deg"\n'
        f"[weather.monthly]\nt_max = {months(highs)}\n"
        f"t_min = {months([each - 15 for each in highs])}\nyears = 10\n{sun}\n"
        '[[bed]]\nid = "A"\ncorner = ["0 m", "0 m"]\nlength = "10 m"\nwidth = "1.2 m"\n'
        'long_axis = "0 deg"\ntexture = "loam"\n'
        f'[[want]]\ncrop = "{crop}"\nbeds = ["A"]\nset_out = {set_out}\n{more}\n'
    )
    document = load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, AS_OF)
    made, dates = dated(document, LIBRARY, AS_OF)
    found = summer_ahead(made, LIBRARY, dates, AS_OF)
    assert found is not None
    return found


@pytest.fixture(scope="module")
def peppers() -> Summer:
    return garden("sweet pepper")


def only(summer: Summer) -> PlantingSummer:
    (planting,) = summer.plantings
    return planting


def test_a_pepper_in_a_hot_summer_gets_the_cloth_of_its_trial(peppers: Summer):
    """University of Delaware, 30 % black cloth over bell pepper: three times the yield."""
    cloth = only(peppers).cloth

    assert (cloth.verdict, cloth.why, cloth.percent) == ("hang", "trial", pytest.approx(0.30))
    assert cloth.heat is not None and cloth.heat[0] < date(2027, 6, 15) < cloth.heat[1]
    assert cloth.gain_days is not None and cloth.gain_days.low <= cloth.gain_days.high


def test_the_heat_days_are_those_of_the_crops_own_limits(peppers: Summer):
    """Ontario: flowers drop above 30 C by day; Delaware: skin of pepper dies at 105 to 108 F."""
    found = {(each.harm, each.driver): each for each in only(peppers).heat}
    by_day = found["fruit_set", "max"]

    assert by_day.limit.value == pytest.approx(30.0)
    assert found["sunscald", "skin"].limit.value == pytest.approx((105 - 32) / 1.8)
    assert 0 < by_day.days.low <= by_day.days.mean <= by_day.days.high <= by_day.span_days
    assert by_day.under_cloth is not None and by_day.under_cloth < by_day.days.mean
    assert found["sunscald", "skin"].under_cloth is None


def test_no_cloth_is_advised_where_it_would_leave_too_little_light():
    dim = "radiation = [" + ", ".join(['"11 MJ/m2"'] * 12) + "]"
    cloth = only(garden("sweet pepper", sun=dim)).cloth

    assert (cloth.verdict, cloth.why) == ("none", "light")
    assert cloth.need is not None
    assert all(e.light_mol_m2_d < cloth.need.value for e in cloth.shades if e.percent > 0)


def test_no_cloth_is_advised_in_a_cool_summer():
    cool = garden("tomato", highs=[each - 10 for each in HOT])
    cloth = only(cool).cloth

    assert (cloth.verdict, cloth.why, cloth.heat) == ("none", "no_heat", None)
    assert cloth.years_share < 0.5


@pytest.mark.parametrize(("crop", "why"), [("chile pepper", "trial_loss"), ("okra", "no_trial")])
def test_a_crop_that_no_trial_speaks_for_gets_none(crop: str, why: str):
    """El Paso: chile under 50 % bore fewer fruit fit to sell; of okra no trial was read."""
    cloth = only(garden(crop)).cloth

    assert (cloth.verdict, cloth.why, cloth.percent) == ("none", why, 0.0)


def test_the_other_hemisphere_has_its_summer_at_the_turn_of_the_year():
    south = garden("sweet pepper", "2027-11-10", highs=HOT[6:] + HOT[:6], latitude="-36")
    cloth = only(south).cloth

    assert cloth.verdict == "hang"
    assert cloth.heat is not None and cloth.heat[0].month in (11, 12)
    assert cloth.heat[1].year == 2028
    assert {1, 12} <= {each.month for each in south.work}


def test_a_cloth_of_the_document_is_known_and_not_counted_twice(peppers: Summer):
    hung = """
[[structure]]
id = "net"
kind = "shade cloth"
outline = [["-1 m", "-1 m"], ["3 m", "-1 m"], ["3 m", "12 m"], ["-1 m", "12 m"]]
height = "2 m"
openness = "30 %"
from_day = "06-01"
to_day = "08-31"
"""
    found = only(garden("sweet pepper", more=hung))
    bare = only(peppers)

    (cloth,) = found.hung
    assert (cloth.structure, cloth.percent) == ("net", pytest.approx(0.7))
    assert cloth.from_day == (6, 1)
    assert [e.light_mol_m2_d for e in found.cloth.shades] == pytest.approx(
        [e.light_mol_m2_d for e in bare.cloth.shades]
    )
    # 70 % of shade: El Paso's trial found a loss there, and it is below what pepper wants
    assert {each.code for each in found.findings} == {"cloth_hangs", "cloth_hangs_dark"}


def test_tomato_color_and_its_picking_in_heat_are_told():
    found = only(garden("tomato"))

    assert any(each.stage == "picking" for each in found.heat)
    assert found.pick == "color"
    assert found.cloth.percent == pytest.approx(0.40)  # yield rose up to 40 %, fell at 50 %


def test_without_weather_there_is_no_summer():
    text = (
        'format = 2\n[garden]\nname = "Small"\n[[bed]]\nid = "A"\nlength = "10 m"\n'
        'width = "1.2 m"\n[[want]]\ncrop = "tomato"\nbeds = ["A"]\nset_out = 2027-05-10\n'
    )
    document = load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, AS_OF)
    made, dates = dated(document, LIBRARY, AS_OF)

    assert summer_ahead(made, LIBRARY, dates, AS_OF) is None


def test_the_mulch_goes_on_once_the_soil_is_warm_and_the_wind_is_not_known(peppers: Summer):
    """Iran, lysimeters: straw saved 27 % on loam, 8 % on sand; swing 17.5 to 11.5 C."""
    mulch = peppers.mulch

    assert mulch.from_day is not None and mulch.from_day.month in (3, 4, 5)
    assert [e.value for e in mulch.evaporation_saved] == pytest.approx([0.27, 0.08])
    assert (mulch.swing_bare.value, mulch.swing_mulched.value) == (17.5, 11.5)
    assert peppers.wind.windy_days is None
    assert peppers.wind.take_down.value > peppers.wind.hang.value
    assert "wind_not_recorded" in {each.code for each in peppers.findings}


def test_a_bed_whose_mulch_is_stated_is_told_of(peppers: Summer):
    covered = garden("sweet pepper", more='mulch = { of = "straw" }')

    assert (covered.mulch.stated, peppers.mulch.stated) == (("A",), ())


@given(
    light=st.floats(0, 70),
    percents=st.lists(st.floats(0, 1), min_size=2, max_size=6).map(sorted),
    least=st.floats(0, 20),
    more=st.floats(1, 10),
)
@settings(max_examples=25)
def test_shade_never_raises_light(light, percents, least, more):
    found = shades_of(percents, light, LightNeed(least, least + more))
    lights = [each.light_mol_m2_d for each in found]

    assert lights == sorted(lights, reverse=True)
    assert all(each <= light for each in lights)
    assert all((e.fit == "enough") == (e.light_mol_m2_d >= least + more) for e in found)


def test_shade_is_a_share():
    with pytest.raises(ValueError, match="between 0 and 1"):
        shades_of([30.0], 40.0, LightNeed(20, 25))


def test_every_crop_has_a_limit_that_a_cloth_can_act_on():
    for row in LIBRARY.rows("crops"):
        assert any(
            each.driver in ("max", "mean") and each.stage != "picking"
            for each in limits_of(row["crop"], LIBRARY)
        ), row["crop"]


def test_the_trials_in_use_never_gain_where_another_in_use_loses():
    for row in LIBRARY.rows("crops"):
        used = [each for each in trials_of(row["crop"], LIBRARY) if each.used]
        gains = [each.shade.value for each in used if each.effect == "gain"]
        losses = [each.shade.value for each in used if each.effect == "loss"]
        assert max(gains, default=0.0) < min(losses, default=2.0), row["crop"]


def test_spans_overlap_or_not():
    assert overlap((0, 10), (5, 20)) == (5, 10)
    assert overlap((0, 5), (5, 20)) is None
    assert np.diff(overlap((3, 9), (0, 20)) or (0, 0)).item() == 6
