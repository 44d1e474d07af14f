"""The chart of the harvest: a drawing a crop, gaps in words and hatched, its figures behind it."""

import json

import altair
import pytest

from bedwright.charts import theme
from bedwright.charts.export import chart_rows
from bedwright.charts.harvest_chart import harvest_chart
from bedwright.planning.harvest.model import HarvestPlan
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_harvest import HARVEST_CHARTS
from bedwright.units import UnitSystem
from planning.harvest.harvest_gardens import POUND, TOMATO, harvest_of, weekly

WORDS = {**CHART_WORDS, **HARVEST_CHARTS}
CARROT = '[[want]]\ncrop = "carrot"\nbeds = ["B"]\nset_out = 2027-04-20\n'


@pytest.fixture(scope="module")
def harvest() -> HarvestPlan:
    return harvest_of(TOMATO + CARROT + weekly("60 lb", "07-26", "09-12"), ("A", "B"))


def chart(harvest: HarvestPlan, **other):
    return harvest_chart(harvest, "Small", UnitSystem.US, WORDS, **other)


def test_it_is_a_right_vega_lite_specification_told_in_sentences(harvest):
    spec = chart(harvest)

    altair.Chart.from_dict(spec, validate=True)
    assert spec["description"].startswith("Small: harvest by week. Tomato: too little")
    for drawing in spec["concat"]:
        assert all(spec["datasets"][each["data"]["name"]] for each in drawing["layer"])


def test_the_figures_behind_it_are_those_of_the_plan(harvest):
    heads, rows = chart_rows(chart(harvest))
    tomato = harvest.of("tomato")
    mine = [row for row in rows if row[0] == "Tomato"]

    assert heads[:4] == ["crop", "week of", "low", "fit to sell"]
    assert [row[1] for row in mine] == [week.monday.isoformat() for week in tomato.weeks]
    for row, week in zip(mine, tomato.weeks, strict=True):
        assert float(row[3]) == pytest.approx(week.to_sell.typical / POUND, rel=0.006)
        assert row[7] == {"gap": "too little", "glut": "too much", "enough": "enough"}[week.balance]


def test_a_gap_is_named_in_the_title_and_hatched_where_it_is(harvest):
    spec = chart(harvest)
    titles = ["".join(each["title"]["text"]) for each in spec["concat"]]

    assert any(each.startswith("Tomato: too little") for each in titles)
    assert any(each.startswith("Carrot:") and "picked in all" in each for each in titles)
    crop = next(at for at, each in enumerate(titles, 1) if each.startswith("Tomato"))
    assert spec["datasets"][f"crop_{crop}_gap"]
    assert f"crop_{3 - crop}_gap" not in spec["datasets"]


def test_it_has_no_color_beside_ink_gray_and_ochre(harvest):
    used = set(json.dumps(chart(harvest)).replace('"', " ").split("#")[1:])

    assert {f"#{each[:6]}" for each in used} <= {
        theme.PAPER, theme.INK, theme.QUIET, theme.BAND, theme.OCHRE,
    }  # fmt: skip


def test_on_a_telephone_the_drawings_stand_one_under_the_other_and_month_names_apart(harvest):
    narrow, wide = chart(harvest, width=330), chart(harvest, width=640)

    assert narrow["columns"] == 1 and wide["columns"] == 2
    assert all(each["width"] <= 330 for each in narrow["concat"])


def test_a_garden_that_picks_nothing_has_no_chart():
    assert chart(HarvestPlan((), ())) is None
