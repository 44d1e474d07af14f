"""Random gardens: no plan breaks a demand without saying so, by numbers reckoned anew."""

import json

import jsonschema
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from recheck import broken, fact, reaction, salts, season
from small_gardens import BED, LIBRARY, RAISED, garden_text, plan_of

from bedwright.feeding.materials import material, supply
from bedwright.reports.plan_json import plan_dict
from bedwright.reports.plan_schema import plan_schema

KEYS = sorted(row["material"] for row in LIBRARY.rows("materials"))
CROPS = sorted(row["crop"] for row in LIBRARY.rows("crops"))
_SCHEMA = jsonschema.Draft202012Validator(plan_schema())
# A failing garden is short enough to read as it is: to shrink it takes minutes and helps little.
_CASES = settings(
    max_examples=20 if settings().max_examples < 1000 else 1000,
    phases=(Phase.explicit, Phase.generate),
    report_multiple_bugs=False,
)


def _line(analyte: str, low: float, high: float, unit: str, *methods: str):
    values = st.integers(0, 100).map(lambda part: low + (high - low) * part / 100)
    return st.builds(
        lambda value, method: f"{analyte}, {value:.4g}{unit}, {method}",
        values,
        st.sampled_from(methods),
    )


def _reports():
    lines = [
        _line("pH", 4.5, 8.8, "", "1:1 soil:water", "saturated paste"),
        _line("Organic matter", 0.3, 18, " %", "loss on ignition"),
        _line("NO3-N", 0, 90, " ppm", "KCl"),
        _line("Phosphorus", 0, 200, " ppm", "Olsen", "Bray P1", "Mehlich-3"),
        _line("Potassium", 20, 700, " ppm", "ammonium acetate", "Mehlich-3"),
        _line("EC", 0.1, 9, " dS/m", "saturated paste", "1:2"),
        _line("Free lime", 0, 6, " %", "calcimeter"),
        _line("Boron", 0.05, 2, " ppm", "hot water"),
        _line("Zinc", 0.1, 8, " ppm", "DTPA"),
        _line("Iron", 1, 30, " ppm", "DTPA"),
        _line("Magnesium", 10, 600, " ppm", "ammonium acetate"),
        _line("Calcium", 100, 5000, " ppm", "ammonium acetate"),
        _line("Sodium", 5, 900, " ppm", "ammonium acetate"),
        _line("CEC", 3, 30, " meq/100 g", "ammonium acetate"),
        _line("SO4-S", 1, 60, " ppm", "calcium phosphate"),
    ]
    some = st.tuples(*(st.one_of(each, each, each, st.none()) for each in lines))
    return some.map(lambda found: tuple(each for each in found if each is not None) or None)


_SHEDS = st.lists(st.sampled_from(KEYS), unique=True, min_size=0, max_size=10).map(tuple)


@st.composite
def _gardens(draw):
    tolerance, most = draw(st.sampled_from([5, 10, 20])), draw(st.integers(1, 6))
    wish = draw(st.sampled_from(["", "", "plant compost", "dairy manure compost"]))
    depth = draw(st.sampled_from(["0.5 in", "2 in", "4 in"]))
    text = garden_text(
        draw(st.one_of(_reports(), _reports(), _reports(), st.none())),
        bed=draw(st.sampled_from([BED, RAISED, BED.replace("silt loam", "sandy loam")])),
        shed=draw(_SHEDS),
        crop=draw(st.sampled_from(CROPS)),
        want=f'compost = {{ material = "{wish}", depth = "{depth}" }}' if wish else "",
        limits=f'tolerance = "{tolerance} %"\nmost_materials = {most}\n'
        f"organic_only = {draw(st.sampled_from(['true', 'false']))}",
    )
    return text, tolerance / 100, most


@given(garden=_gardens())
@_CASES
def test_no_random_garden_is_given_amounts_that_break_a_demand_unsaid(garden):
    text, tolerance, most = garden
    plan = plan_of(text)

    data = plan_dict(plan)

    ph = {bed.prescription.bed.id: bed.prescription.evidence.ph for bed in plan.beds}
    for bed in data["beds"]:
        found = ph[bed["bed"]]
        bed["ph"] = None if found is None else found.value
        assert broken(bed, tolerance, most) == []


@given(garden=_gardens())
@_CASES
def test_every_random_garden_makes_json_that_its_schema_accepts(garden):
    data = json.loads(json.dumps(plan_dict(plan_of(garden[0])), allow_nan=False))

    assert [error.message for error in _SCHEMA.iter_errors(data)] == []


@pytest.mark.parametrize("ph", [5.0, 7.0, 8.0, None])
@pytest.mark.parametrize("key", KEYS)
def test_the_tables_make_a_material_what_the_engine_takes_it_for(key: str, ph: float | None):
    taken = supply(LIBRARY, material(LIBRARY, key), ph)

    for nutrient in ("n", "p2o5", "k2o"):
        figure = getattr(taken, f"{nutrient}_season")
        value = 0.0 if figure is None else figure.value
        assert value == pytest.approx(season(key, nutrient, ph), rel=1e-9)
        assert getattr(taken, f"{nutrient}_total").value == pytest.approx(
            fact(key, f"{nutrient}_total") or 0.0
        )
    assert taken.reaction.value == pytest.approx(reaction(key))
    assert (0.0 if taken.salts is None else taken.salts.value) == pytest.approx(salts(key))
