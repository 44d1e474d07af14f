"""Charts: read in gray, say in words what matters, and carry their figures with them."""

import re
from collections import Counter
from dataclasses import replace
from datetime import date, timedelta

import altair
import numpy as np
import pytest

from bedwright.charts import theme
from bedwright.charts.curve_chart import Saying, Series, Threshold, curve_chart, growth_chart
from bedwright.charts.export import chart_rows, chart_table
from bedwright.charts.ledger_chart import ledger_chart
from bedwright.charts.ledger_paths import ledger_paths
from bedwright.charts.release_chart import release_chart
from bedwright.charts.sheet import Upright
from bedwright.face import lacking, text_width, wrapped
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.units import UnitSystem

LEDGER_BEDS = ["R1", "W2", "E5", "E10"]
RELEASE_BEDS = ["W2", "W11", "R1", "W5"]
READ = (theme.INK, theme.QUIET, theme.OCHRE, theme.WATER)


def luminance(color: str) -> float:
    """Relative luminance as WCAG 2 has it."""
    parts = [int(color[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def layers(spec):
    for each in spec.get("concat", [spec]):
        yield from each["layer"]


def words_of(spec) -> str:
    data = spec["datasets"]
    return "\n".join(
        row["words"].replace("\n", " ")
        for each in layers(spec)
        if each["mark"]["type"] == "text"
        for row in data[each["data"]["name"]]
    )


def frost():
    days = tuple(date(2027, 4, 1) + timedelta(days=5 * at) for at in range(13))
    odds = tuple(np.linspace(9, 0.2, 13))
    return curve_chart(
        [Series("frost", days, odds, tuple(o * 0.7 for o in odds), tuple(o * 1.1 for o in odds))],
        Saying("Frost is past by the end of May.", "Years of ten.", "day", "years of ten"),
        CHART_WORDS,
        thresholds=[Threshold(1.0, "1 year of 10", "ochre")],
        uprights=[Upright(date(2027, 5, 20), "set out from May 20 on")],
    )


def growth(**more):
    rows = [
        {"beds": str(beds), "seconds": str(seconds), "how": how}
        for how, took in (("grouped", (1, 3, 9)), ("alone", (4, 20, 60)))
        for beds, seconds in zip((10, 40, 200), took, strict=True)
    ]
    words = CHART_WORDS | {"title": "It grows.", "below": "", "x": "beds", "y": "seconds"}
    return growth_chart(rows, "beds", "seconds", words, series="how", **more)


@pytest.fixture(scope="module")
def charts(release, of_ledger):
    found = {f"release-{bed}-{w}": release(bed, width=w)
             for bed in RELEASE_BEDS for w in (330, 640)}  # fmt: skip
    found |= {f"ledger-{bed}-{w}": of_ledger(bed, width=w)
              for bed in LEDGER_BEDS for w in (340, 640)}  # fmt: skip
    return found | {"frost": frost(), "growth": growth()}


# The specification.


def test_every_chart_is_a_right_vega_lite_specification(charts):
    for spec in charts.values():
        read = altair.Chart.from_dict(spec, validate=True)
        assert read.to_dict(validate=False)["description"] == spec["description"]


def test_every_mark_has_its_data_inside_the_chart(charts):
    for name, spec in charts.items():
        for each in layers(spec):
            rows = spec["datasets"][each["data"]["name"]]
            fields = {part["field"] for part in each["encoding"].values() if "field" in part}
            assert rows, (name, each["name"])
            assert all(fields <= row.keys() for row in rows), (name, each["name"])
            assert all(row[f] is not None for row in rows for f in fields), (name, each["name"])
        assert "url" not in repr(spec)


def test_a_chart_is_told_in_sentences_to_those_who_do_not_see_it(charts):
    for spec in charts.values():
        assert " ".join(spec["title"]["text"]).rstrip(".") in spec["description"]
        assert spec["description"].endswith(".")


def test_a_chart_has_no_legend_and_every_curve_its_own_look():
    spec = growth()
    looks = [(e["mark"]["strokeWidth"], str(e["mark"].get("strokeDash")))
             for e in layers(spec) if e["mark"]["type"] == "line"]  # fmt: skip

    assert spec["config"]["legend"] == {"disable": True}
    assert len(set(looks)) == len(looks) == 2
    assert words_of(spec).split("\n") == ["grouped", "alone"]


# Gray and contrast.


def test_what_is_read_has_a_contrast_of_seven_on_paper_and_on_the_gray_band():
    for color in READ:
        assert contrast(color, theme.PAPER) >= 7
        assert contrast(color, theme.BAND) >= 7


def test_no_chart_has_a_color_that_the_theme_has_not(charts):
    known = {*READ, theme.PAPER, theme.BAND}
    for spec in charts.values():
        assert set(re.findall(r"#[0-9a-fA-F]{6}", repr(spec))) <= known


def test_in_gray_a_band_stands_apart_from_paper_and_from_lines():
    assert luminance(theme.PAPER) - luminance(theme.BAND) > 0.25
    assert all(luminance(theme.BAND) - luminance(each) > 0.5 for each in READ)


def test_what_only_a_color_would_tell_apart_differs_in_dash_or_weight_too(release):
    marks = {e["name"]: e["mark"] for e in layers(release("W11"))}
    plain = marks["day_3"]  # the side-dressing of the plan
    urgent = marks["day_4"]  # the one more that must be given
    assert plain["color"] != urgent["color"]
    assert "strokeDash" in urgent
    assert "strokeDash" not in plain


# Release against uptake.


def test_the_crop_goes_short_by_what_its_wish_lies_over_what_is_within_reach(courses):
    for course in courses.values():
        reach = course.in_soil + course.season.leached + course.season.uptake
        assert np.maximum(course.uptake - reach, 0) == pytest.approx(course.short, abs=1e-12)


def test_the_cabbage_is_told_the_week_in_which_it_runs_short_and_what_to_do(release):
    spec = release("W11")
    said = words_of(spec)

    assert "runs short from June 13, week 12" in " ".join(spec["title"]["text"])
    assert "short from June 13" in said
    assert re.search(r"side-dress June 6: another [\d.]+ oz feather meal", said)
    assert any(e["name"] == "short" for e in layers(spec))


def test_a_bed_whose_nitrogen_lasts_has_no_shortage_marked(release):
    spec = release("R1")

    assert "lasts to the last harvest" in " ".join(spec["title"]["text"])
    assert all(e["name"] != "short" for e in layers(spec))


def test_every_bed_of_the_garden_can_be_drawn_with_no_words_on_words(courses, release):
    on_words = []
    for bed in courses:
        boxes = []
        spec = release(bed)
        for each in layers(spec):
            if each["mark"]["type"] != "text":
                continue
            lines = spec["datasets"][each["data"]["name"]][0]["words"].split("\n")
            x, y = each["encoding"]["x"]["value"], each["encoding"]["y"]["value"]
            size = each["mark"]["fontSize"]
            wide = max(text_width(line, size) for line in lines)
            boxes.append((x, y - size * 0.75, x + wide, y + (len(lines) - 1) * size * 1.25))
        on_words += [
            (bed, a, b)
            for at, a in enumerate(boxes)
            for b in boxes[:at]
            if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
        ]

    assert len(courses) >= 20
    assert on_words == []


def test_without_soil_temperature_there_is_nothing_to_draw(courses):
    empty = replace(courses["W2"], season=None, starts=())

    assert release_chart(empty, "pepper", {}, UnitSystem.US, CHART_WORDS) is None


def test_other_units_change_numbers_and_labels_only(release, of_ledger):
    def shape(spec):
        kinds = Counter(e["name"] for e in layers(spec) if "words" not in e["name"])
        return kinds, [e["mark"]["type"] for e in layers(spec) if e["mark"]["type"] != "text"]

    for draw, bed in ((release, "W2"), (of_ledger, "W2")):
        us, metric = draw(bed), draw(bed, UnitSystem.METRIC)
        assert shape(us) == shape(metric)
        assert "lb/100 ft2" in repr(us)
        assert "lb/100 ft2" not in repr(metric)
    (_, us), (_, metric) = (chart_rows(release("W2", s)) for s in UnitSystem)
    for one, other in zip(us, metric, strict=True):
        assert float(other[2]) == pytest.approx(float(one[2]) * 48.8243, rel=2e-3)  # lb/100 ft2


def test_the_table_behind_the_release_is_the_course_itself(courses, release):
    headings, rows = chart_rows(release("W11", UnitSystem.METRIC))
    course = courses["W11"]

    assert [row[0] for row in rows] == [each.isoformat() for each in course.starts]
    wanted = [float(row[headings.index("the crop wants, g/m2")]) for row in rows]
    assert wanted == pytest.approx(course.uptake * 1000, rel=1e-3)


# The ledger.


def test_where_a_ceiling_is_drawn_the_year_it_is_reached_is_told(of_ledger, ledger):
    spec = of_ledger("W2")
    level = ledger.outlooks[ledger.row("W2")].levels[0]
    title = " ".join(spec["concat"][0]["title"]["text"])

    assert title == "Phosphorus (Olsen) passes 50 ppm in 2040, earliest 2032, latest 2047"
    assert level.years == (2032, 2040, 2047)
    assert "2040" in words_of(spec)
    assert "50 ppm: bring no more than is picked" in words_of(spec)


def test_the_line_of_the_outlook_meets_the_ceiling_in_the_typical_year(ledger):
    olsen = ledger_paths(ledger, "W2")[0]
    level = olsen.levels[0]
    at = np.interp(level.start_year + level.reach.typical, olsen.years, olsen.ahead[1])

    assert olsen.nutrient == "olsen"
    assert at == pytest.approx(level.level)


def test_salt_draws_near_to_where_the_ledger_says_it_settles(ledger):
    row = ledger.row("R1")
    salt = next(each for each in ledger_paths(ledger, "R1") if each.nutrient == "salt")

    assert salt.ahead[1, -1] == pytest.approx(ledger.outlooks[row].salt_settles[1], rel=0.01)
    assert (salt.ahead[0] <= salt.ahead[1]).all()
    assert (salt.ahead[1] <= salt.ahead[2]).all()


def test_organic_matter_is_reckoned_back_from_its_test_season_by_season(ledger):
    row = ledger.row("W2")
    matter = next(e for e in ledger_paths(ledger, "W2") if e.nutrient == "organic_matter")
    stocks = [stock for _, stock in matter.past]

    assert matter.past[-1] == (2026.0, pytest.approx(ledger.soils[row].organic_matter))
    kept = (
        ledger.organic_matter.incoming["materials"] - ledger.organic_matter.outgoing["rotted_fresh"]
    )
    decay = (
        ledger.organic_matter.outgoing["mineralized"][row, 0] / ledger.organic_matter.opening[row]
    )
    percent = 100 / ledger.soils[row].layer
    for before, after, added in zip(stocks[:-1], stocks[1:], kept[row], strict=True):
        assert after == pytest.approx(before * (1 - decay) + added * percent)


def test_what_was_not_tested_is_not_drawn(of_ledger, ledger):
    drawn = [each.nutrient for each in ledger_paths(ledger, "E10")]

    assert drawn == ["phosphate", "potash", "nitrogen"]
    assert len(of_ledger("E10")["concat"]) == 3


def test_every_bed_with_a_history_has_its_drawing(ledger):
    for bed in ledger.beds:
        told = ledger.told[ledger.row(bed)].any()
        assert (ledger_chart(ledger, bed, UnitSystem.US, CHART_WORDS) is not None) == told


# Curves and tables.


def test_a_threshold_has_its_words_on_it():
    assert "1 year of 10" in words_of(frost())
    assert "set out from May 20 on" in words_of(frost())


def test_months_stand_in_words_on_an_axis_of_days():
    axis = next(layers(frost()))["encoding"]["x"]["axis"]

    assert "'April', 'May'" in axis["labelExpr"]


def test_a_growth_chart_says_which_column_is_not_there():
    with pytest.raises(KeyError, match="no column minutes; there are: beds, seconds"):
        growth_chart([{"beds": "1", "seconds": "2"}], "beds", "minutes", CHART_WORDS)


def test_a_curve_of_one_point_is_refused():
    with pytest.raises(ValueError, match="a curve needs two points"):
        curve_chart([Series("one", (1.0,), (2.0,))], Saying("", "", "", ""), CHART_WORDS)


def test_the_table_in_text_lines_up_and_begins_with_the_description(release):
    lines = chart_table(release("W2")).splitlines()

    assert lines[0].startswith("W2, sweet pepper: the nitrogen lasts")
    rule = next(at for at, line in enumerate(lines) if line.startswith("---"))
    first, second = (len(part) for part in lines[rule].split("  ")[:2])
    for line in lines[rule + 1 :]:
        date.fromisoformat(line[:first])
        assert line[: first + 2 + second].endswith(line.split()[1])  # figures end in one line
    assert len(lines) - rule - 1 == 20


# The face.


def test_the_width_of_words_is_that_of_the_face():
    assert text_width("iii", 15) < text_width("mmm", 15)
    assert text_width("ab", 30) == pytest.approx(2 * text_width("ab", 15))
    assert all(text_width(line, 15) <= 200 for line in wrapped("to be or not to be " * 9, 200, 15))


def test_a_sign_that_the_face_lacks_is_named():
    assert lacking("jalapeño, 5 °C") == ""
    assert lacking("bed 一") == "一"
