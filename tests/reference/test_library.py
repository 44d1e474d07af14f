"""The library answers with the fact in use, its source and its range, and knows what it lacks."""

import pytest

from bedwright.reference import Library, OwnFact
from bedwright.reference.library import fold
from bedwright.reference.tables import read_rows, shipped


@pytest.fixture(scope="module")
def library() -> Library:
    return Library()


def test_a_fact_carries_its_source(library: Library):
    fact = library.fact("material_facts", "blood_meal", "n_total", "%")

    assert fact is not None
    assert 10 < fact.value < 16
    assert (fact.origin, fact.unit) == ("table", "%")
    assert fact.sources[0].source_id in library.sources


def test_a_fact_is_given_in_the_unit_asked_for(library: Library):
    percent = library.fact("material_facts", "blood_meal", "n_total", "%")
    share = library.fact("material_facts", "blood_meal", "n_total", "kg/kg")

    assert percent is not None and share is not None
    assert share.value == pytest.approx(percent.value / 100)


def test_a_unit_of_another_dimension_is_refused(library: Library):
    with pytest.raises(ValueError, match="cannot be turned into"):
        library.fact("material_facts", "blood_meal", "n_total", "lb/ac")


def test_what_no_table_holds_is_unknown_and_not_zero(library: Library):
    assert library.fact("material_facts", "blood_meal", "max_rate", "lb/ac") is None
    assert library.fact("material_facts", "moon_dust", "n_total", "%") is None


@pytest.fixture
def two_conditions(monkeypatch: pytest.MonkeyPatch) -> Library:
    """A library whose blood meal has a general row and one for alkaline soil."""
    rows = (
        "material,property,condition,low,typical,high,unit,use,source_id,place,note\n"
        "blood_meal,p_available_first_season,,,0.8,,fraction,yes,judgement,,\n"
        "blood_meal,p_available_first_season,ph_above_7_3,,0.2,,fraction,yes,judgement,,\n"
        "blood_meal,p_available_first_season,ph_above_7_3,,0.9,,fraction,,judgement,,\n"
    )
    monkeypatch.setattr(
        "bedwright.reference.library.shipped",
        lambda table: rows if table == "material_facts" else shipped(table),
    )
    return Library()


@pytest.mark.parametrize(
    ("condition", "value"), [("", 0.8), ("ph_above_7_3", 0.2), ("ph_below_6_5", 0.8)]
)
def test_the_row_of_a_condition_outranks_the_general_row(two_conditions, condition, value):
    fact = two_conditions.fact(
        "material_facts", "blood_meal", "p_available_first_season", "fraction", condition
    )

    assert fact is not None
    assert fact.value == value


def test_the_gardeners_own_fact_outranks_the_tables():
    own = OwnFact("blood_meal", "n_total", 9.0, "%", "material 1 of the document")

    fact = Library((own,)).fact("material_facts", "blood_meal", "n_total", "kg/kg")

    assert fact is not None
    assert (fact.value, fact.origin, fact.note) == (
        pytest.approx(0.09),
        "stated",
        "material 1 of the document",
    )


def test_a_range_without_a_typical_value_is_taken_at_its_middle_and_says_so(library: Library):
    row = next(row for row in library.rows("crop_facts")
               if row.used and row.number("typical") is None)  # fmt: skip

    fact = library.fact("crop_facts", row["crop"], row["property"], row["unit"], row["condition"])

    assert fact is not None
    assert (fact.low, fact.high) == (row.number("low"), row.number("high"))
    assert fact.value == pytest.approx((fact.low + fact.high) / 2)
    assert fact.sources[0].note.startswith("middle of the range")


def test_facts_that_disagree_are_kept_side_by_side(library: Library):
    others = [row for row in library.rows("material_facts") if not row.used]

    assert others
    for row in others:
        assert row in library.other_facts("material_facts", row["material"], row["property"])


def test_a_parameter_is_given_with_its_source(library: Library):
    area = library.parameter("acre_area", "ft2")

    assert area.value == pytest.approx(43560)
    assert area.sources[0].source_id in library.sources


def test_a_parameter_that_no_table_holds_is_refused(library: Library):
    with pytest.raises(LookupError, match="holds no 'moon_phase' in use"):
        library.parameter("moon_phase", "-")


@pytest.mark.parametrize("written", ["blood meal", "Blood  Meal", " BLOOD_MEAL ", "blood_meal"])
def test_a_name_is_known_however_it_is_written(library: Library, written: str):
    assert library.resolve("material_names", "material", written) == "blood_meal"


def test_folding_a_name_twice_changes_nothing(library: Library):
    for row in library.rows("material_names"):
        assert fold(fold(row["phrase"])) == fold(row["phrase"])


def test_a_source_is_cited_in_one_line(library: Library):
    cited = library.sources["cfr_205_203"].cite()

    assert "7 CFR 205.203" in cited
    assert "\n" not in cited


def test_a_row_with_one_end_is_taken_at_that_end():
    row = read_rows(
        "parameters",
        "parameter,low,typical,high,unit,use,source_id,place,note\na,,,5,kg,yes,judgement,,\n",
        frozenset({"judgement"}),
    )[0]

    assert row.typical() == 5
