"""The charts of planting dates carry the figures that the text tells."""

from collections.abc import Iterator
from datetime import date
from importlib import resources
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from bedwright.charts.dates_chart import frost_chart, set_chart, soil_chart
from bedwright.face import text_width
from bedwright.garden.load import load, load_text
from bedwright.planning.timing import garden_dates
from bedwright.planning.timing_model import GardenDates
from bedwright.reference import Library
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_dates import DATES_CHARTS
from bedwright.units import UnitSystem

AS_OF = date(2026, 11, 25)
WORDS = {**CHART_WORDS, **DATES_CHARTS}
GARDEN = """format = 2
[garden]
name = "North field"
latitude = "46 N"
[[bed]]
id = "1"
length = "50 ft"
width = "4 ft"
[[bed]]
id = "2"
length = "50 ft"
width = "4 ft"
[weather.monthly]
t_max = ["40 F", "47 F", "57 F", "66 F", "76 F", "85 F", "93 F", "92 F", "82 F", "67 F", "51 F", "40 F"]
t_min = ["26 F", "28 F", "33 F", "40 F", "47 F", "54 F", "60 F", "58 F", "50 F", "40 F", "32 F", "26 F"]
years = 20
[[want]]
crop = "tomato"
beds = ["1"]
set_out = 2027-05-20
[[want]]
crop = "lettuce"
beds = ["2"]
"""  # noqa: E501


@pytest.fixture(scope="module")
def dates() -> GardenDates:
    library = Library()
    return garden_dates(load_text(GARDEN, "g.toml", Path(), library, AS_OF), library, AS_OF)


def columns(chart: dict[str, Any] | None) -> dict[str, list[float]]:
    """The figures of a chart by the name of their column."""
    assert chart is not None
    rows = chart["datasets"]["table"]
    names = {field for row in rows for field in row} - {"at"}
    return {name: [row[name] for row in rows if name in row] for name in names}


def test_the_odds_of_frost_fall_through_spring_and_rise_through_fall(dates: GardenDates):
    found = columns(frost_chart(dates, "North field", 2027, UnitSystem.US, WORDS))

    spring, fall = found["curve_1_typical"], found["curve_2_typical"]
    assert spring == sorted(spring, reverse=True)
    assert fall == sorted(fall)
    assert spring[0] > 99 > 1 > spring[-1]  # noqa: PLR0133


@pytest.mark.parametrize("curve", ["curve_1", "curve_2"])
def test_a_band_holds_its_curve(dates: GardenDates, curve: str):
    found = columns(frost_chart(dates, "North field", 2027, UnitSystem.US, WORDS))

    rows = zip(*(found[f"{curve}_{end}"] for end in ("low", "typical", "high")), strict=True)
    assert all(0 <= low <= middle <= high <= 100 for low, middle, high in rows)


def test_the_flowering_window_is_drawn_for_fruit_and_peaks_near_its_best_date(dates: GardenDates):
    tomato, lettuce = dates.wants
    chart = set_chart(tomato, WORDS)
    rows = chart["datasets"]["table"]
    peak = max(rows, key=lambda row: row["curve_1_typical"])

    assert set_chart(lettuce, WORDS) is None
    first, last = tomato.turns[0].window
    assert first <= date.fromisoformat(peak["at"]) <= last
    text = str(chart)
    assert "yours, May 20" in text
    assert "best about May" in text


def words_and_curves(chart: dict[str, Any]) -> Iterator[tuple[str, list[float]]]:
    """Each piece of words on the drawing with the curve heights [px] over its width."""
    sets, (left, right) = chart["datasets"], _x_ends(chart)
    bottom, top = _y_ends(chart)

    def height(name: str, px: float) -> float | None:
        points = sets[name]
        xs = [_number(each["x"]) for each in points]
        x = left + px / chart["width"] * (right - left)
        if not xs[0] <= x <= xs[-1]:
            return None
        y = float(np.interp(x, xs, [each["y"] for each in points]))
        return (top - y) / (top - bottom) * chart["height"]

    for layer in chart["layer"]:
        if layer["mark"]["type"] != "text" or layer["encoding"]["y"]["value"] < 0:
            continue
        (row,) = sets[layer["data"]["name"]]
        lines = row["words"].split("\n")
        size = layer["mark"]["fontSize"]
        x, y = (layer["encoding"][axis]["value"] for axis in "xy")
        wide = max(text_width(each, size) for each in lines)
        head, foot = y - size * 0.7, y + (len(lines) - 1) * layer["mark"]["lineHeight"]
        inside = [
            at
            for name in sets
            if name.startswith(("curve_", "level_")) and "y" in sets[name][0]
            for px in np.arange(x, x + wide)
            if (at := height(name, px)) is not None and head <= at <= foot
        ]
        yield row["words"], inside


def _number(x: str) -> int:
    return date.fromisoformat(x[:10]).toordinal()


def _x_ends(chart: dict[str, Any]) -> tuple[float, float]:
    (scale,) = (each["encoding"]["x"]["scale"] for each in chart["layer"]
                if "scale" in each["encoding"]["x"])  # fmt: skip
    first, last = (
        date(each["year"], each["month"], each["date"]).toordinal() for each in scale["domain"]
    )
    return first, last


def _y_ends(chart: dict[str, Any]) -> tuple[float, float]:
    (scale,) = (each["encoding"]["y"]["scale"] for each in chart["layer"]
                if "scale" in each["encoding"]["y"])  # fmt: skip
    return tuple(scale["domain"])


def test_no_words_touch_a_curve(dates: GardenDates):
    library = Library()
    demo = load(Path(str(resources.files("bedwright.demo"))) / "kestrel_bend.toml", library, AS_OF)
    charts = [
        chart
        for each in (dates, garden_dates(demo, library, AS_OF))
        for chart in (
            frost_chart(each, "North field", 2027, UnitSystem.US, WORDS),
            soil_chart(each.weather, each.wants, 2027, UnitSystem.US, WORDS),
            set_chart(each.wants[0], WORDS),
        )
    ]
    found = [each for chart in charts for each in words_and_curves(chart)]

    assert {"soil", "days of good set"} < {words for words, _ in found}
    assert any("freeze still to" in words for words, _ in found)
    assert [words for words, heights in found if heights] == []


def test_the_soil_is_drawn_in_the_readers_degrees_with_what_the_crops_want(dates: GardenDates):
    us, metric = (
        columns(soil_chart(dates.weather, dates.wants, 2027, system, WORDS))["curve_1_typical"]
        for system in (UnitSystem.US, UnitSystem.METRIC)
    )
    chart = soil_chart(dates.weather, dates.wants, 2027, UnitSystem.US, WORDS)

    assert us == pytest.approx([each * 9 / 5 + 32 for each in metric], abs=0.2)
    assert max(us) > 75
    assert "Tomato" in str(chart)
    assert "Lettuce" in str(chart)
