"""The blend alone: what the whole plan holds of it, without the rest being worked."""

from pathlib import Path

import pytest
from small_gardens import AS_OF, LIBRARY, NEUTRAL, garden_text

from bedwright.garden.load import load_text
from bedwright.season import blend, make, season_blend, season_plan

TWO = garden_text(
    NEUTRAL,
    crop="lettuce",
    want='turn = "spring"',
    more='[[bed]]\nid = "B"\nlength = "30 ft"\nwidth = "4 ft"\ntexture = "silt loam"\n'
    '[[want]]\ncrop = "cabbage"\nbeds = ["B"]\nset_out = 2027-04-10\n'
    '[[want]]\ncrop = "carrot"\nbeds = ["A"]\nturn = "late summer"\nset_out = 2027-09-01\n',
)


def document_of(text: str):
    return load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, AS_OF)


def spread(prescriptions) -> list[tuple[str, str, dict[str, float]]]:
    return [
        (each.bed.id, each.crop.key, {line.material.key: line.per_area for line in each.lines})
        for each in prescriptions
    ]


def test_the_blend_alone_is_that_of_the_whole_plan():
    document = document_of(TWO)

    alone = season_blend(document, LIBRARY, AS_OF)
    whole = season_plan(document, LIBRARY, AS_OF, ahead=False)

    assert alone.totals == whole.totals
    assert spread(alone.prescriptions) == spread(each.prescription for each in whole.plantings)
    assert [each.crop.key for each in alone.prescriptions] == ["lettuce", "cabbage", "carrot"]
    assert alone.shared.money == whole.shared.money
    assert alone.prices_stated == whole.prices_stated
    assert alone.document == whole.document


def test_no_water_summer_or_layout_is_worked_for_the_blend_alone(monkeypatch: pytest.MonkeyPatch):
    def worked(*_given, **_more):
        raise AssertionError("worked, though only the blend is asked for")

    for name in ("garden_water", "grounds_of", "bed_layouts", "summer_ahead", "rested_course"):
        monkeypatch.setattr(make, name, worked)

    assert season_blend(document_of(TWO), LIBRARY, AS_OF).totals


@pytest.mark.parametrize(("stated", "asked"), [(True, 0), (False, 1)])
def test_the_weather_is_asked_only_where_a_want_states_no_day(
    stated: bool, asked: int, monkeypatch: pytest.MonkeyPatch
):
    text = TWO if stated else TWO.replace("set_out = 2027-04-10\n", "")
    calls = []
    dated = blend.dated
    monkeypatch.setattr(blend, "dated", lambda *given: calls.append(1) or dated(*given))

    season_blend(document_of(text), LIBRARY, AS_OF)

    assert len(calls) == asked


def test_the_steps_of_the_blend_are_told():
    told: list[str] = []

    season_blend(document_of(TWO), LIBRARY, AS_OF, progress=told.append)

    assert told == ["assessing the beds", "blending for the whole garden", "writing the plan"]
