"""Charts of water: the balance between full and dry, and salt over the years."""

import altair
import pytest
from test_charts import READ, layers, words_of

from bedwright.charts.salt_chart import salt_chart
from bedwright.charts.water_chart import water_chart
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_water import SALT_CHARTS, WATER_CHARTS
from bedwright.units import UnitSystem


@pytest.fixture(scope="module")
def pepper(kestrel_plan):
    return kestrel_plan.water.stand_of("W2", "pepper_sweet")


@pytest.fixture(scope="module")
def balance(pepper):
    words = {**CHART_WORDS, **WATER_CHARTS}
    return water_chart(pepper.stand, pepper.years, UnitSystem.US, words)


def test_the_water_stays_between_full_and_empty_and_every_run_is_a_stick(balance, pepper):
    data = balance["datasets"]
    rows = data["table"]

    assert len(rows) == pepper.stand.days
    assert all(0 <= row["water"] <= row["full"] and row["dry"] < row["full"] for row in rows)
    runs = [row["at"] for row in rows if row["run"] > 0.02]
    assert [stick["x"] for stick in data["run"]] == runs
    assert all(stick["y2"] == 0 for stick in data["run"])


def test_the_lines_and_the_biggest_rain_are_named_beside_them(balance):
    said = words_of(balance)

    for words in ("full", "water at the roots", "below this the crop suffers", "runs"):
        assert words in said
    biggest = max(row["rain_day"] for row in balance["datasets"]["table"])
    assert f"rain {biggest:.2g} in" in said


@pytest.mark.parametrize("width", [230, 640])
def test_words_are_dark_and_metric_readers_get_millimeters(pepper, width):
    words = {**CHART_WORDS, **WATER_CHARTS}
    spec = water_chart(pepper.stand, pepper.years, UnitSystem.METRIC, words, width=width)

    altair.Chart.from_dict(spec, validate=True)
    assert spec["width"] == width
    assert all(spec["datasets"][each["data"]["name"]] for each in layers(spec))
    assert all(each["mark"]["color"] in READ for each in layers(spec))
    assert "millimeters" in spec["description"]
    assert max(row["full"] for row in spec["datasets"]["table"]) > 50


def test_salt_is_drawn_from_now_with_and_without_leaching_and_the_limit(kestrel_plan, pepper):
    salt = next(each for each in kestrel_plan.water.salt if each.bed == "W2")
    words = {**CHART_WORDS, **SALT_CHARTS}
    limit = pepper.leaching.limit.value
    spec = salt_chart(salt, pepper.stand.name, limit, words, width=300)
    rows = spec["datasets"]["table"]

    assert len(rows) == 11
    assert rows[0]["curve_1_typical"] == rows[0]["curve_2_typical"]
    assert rows[-1]["curve_1_typical"] < limit < rows[-1]["curve_2_typical"]
    said = words_of(spec)
    assert "with leaching" in said and "above this it costs yield" in said
