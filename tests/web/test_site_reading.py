"""The pages that are read: today, the garden drawn, one bed, its ledger and charts."""

from __future__ import annotations

import json
import re

import pytest

from bedwright.planning.bed_ledger import bed_ledger
from bedwright.planning.ledger_entries import planned_season
from bedwright.web.models import Job
from bedwright.web.plan_store import keep_ledger
from bedwright.web.standing import standing_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def with_ledger(planned, demo_plan):
    standing = standing_of(planned)
    seasons = tuple(planned_season(each.prescription) for each in demo_plan.beds)
    keep_ledger(standing.key, bed_ledger(standing.document, demo_plan.library, seasons))
    return planned


def words(page: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", page).split())


def test_today_says_first_what_to_do_this_week_then_what_is_urgent_then_the_rest(client, planned):
    page = words(client.get("/").content.decode().split("<main", 1)[1])
    order = ["Today, November 25, 2026", "This week", "Pick, wash, pack. About 0.13 h of work",
             "Act on this", "Too salty for this crop", "Coming up", "in 31 days", "Order seed",
             "To buy"]  # fmt: skip

    places = [page.index(each) for each in order]
    assert places == sorted(places)
    assert "Nothing is due" not in page, "the kale that stands is to be picked"
    assert "September 6" not in page  # what runs short in fall is not told in November


def test_on_a_day_on_which_nothing_is_due_today_names_the_next_day(client, planned, monkeypatch):
    from bedwright.web.views import today

    monkeypatch.setattr(today, "_AHEAD", today.timedelta(weeks=1))
    page = words(client.get("/").content.decode())

    assert "Nothing is due within 1 week." in page
    assert "After that, first:" in page and "December 26" in page


def test_while_there_is_no_plan_pages_say_what_the_document_knows(client, demo, monkeypatch):
    from bedwright.web import standing

    monkeypatch.setattr(standing, "stored_plan", lambda key: None)
    today = words(client.get("/").content.decode())
    garden = client.get("/garden/").content.decode()
    bed = words(client.get("/bed/W2/").content.decode())

    assert "Working out the plan" in today and "sweet pepper" in today
    assert "<svg" in garden
    assert "Amounts and dates come when the plan is made" in bed


def test_the_garden_is_drawn_with_each_bed_a_link(client, planned, document):
    page = client.get("/garden/").content.decode()

    for bed in document.garden.bed:
        assert page.count(f'href="/bed/{bed.id}/"') >= 3, bed.id  # two drawings and the list
    assert " style=" not in page


def test_a_bed_tells_cautions_before_amounts_and_reasons_after(client, planned, demo_plan):
    page = client.get("/bed/W2/").content.decode()
    said = words(page)
    order = ["Before planting", "Caution:", "plant compost from the bulk pile", "Later:", "Days",
             "Why", "Left to supply", "What not to add", "Soil, and what it means",
             "Nitrogen by week", "Ledger", "History", "Doubts", "Taken for granted"]  # fmt: skip

    places = [said.index(each) for each in order]
    assert places == sorted(places)
    assert " style=" not in page
    assert 'href="/bed/W1/" rel="prev"' in page and 'href="/bed/W3/" rel="next"' in page


def test_a_bed_without_a_crop_wanted_still_has_its_page(client, planned):
    page = words(client.get("/bed/W7/").content.decode())
    assert "No crop is wanted here." in page and "History" in page


def test_the_table_beside_a_chart_holds_the_charts_figures(client, planned):
    page = client.get("/bed/W2/").content.decode()
    spec = json.loads(client.get("/bed/W2/charts/nitrogen.json").content)
    rows = spec["datasets"]["table"]

    table = page[page.index('class="weeks"') :]
    assert table.count("data-day=") == len(rows)
    for row in rows:
        assert f'data-day="{row["week_from"]}"' in table
        assert f"{row['reach_typical']:.10g}</td>" in table


def test_a_ledger_that_is_not_kept_is_asked_for_and_the_page_says_so(client, planned, monkeypatch):
    from bedwright.web.views import bed

    monkeypatch.setattr(bed, "stored_ledger", lambda key: None)
    standing = standing_of(planned)
    waiting = client.get("/bed/W2/ledger/").content.decode()

    assert "is being worked out" in waiting
    assert Job.objects.filter(kind="ledger", key=standing.key).count() == 1
    assert client.get("/bed/W2/charts/ledger.json").status_code == 404


def test_a_ledger_tells_where_the_habit_leads_with_its_tables(client, with_ledger):
    page = client.get("/bed/W2/ledger/", headers={"HX-Request": "true"}).content.decode()
    spec = json.loads(client.get("/bed/W2/charts/ledger.json?width=350").content)

    assert "<html" not in page
    assert "Phosphate (P2O5), change since the start" in page and "as planned" in page
    assert spec["columns"] == 1  # narrow: one under the other
    for address in set(re.findall(r'class="door" href="([^"]+)"', page)):
        assert client.get(address).status_code == 200, address


@pytest.mark.parametrize("asked", ["", "x", "-5", "99999999", "²"])
def test_a_chart_of_an_odd_width_is_drawn_within_limits(client, planned, asked):
    spec = json.loads(client.get(f"/bed/W2/charts/nitrogen.json?width={asked}").content)
    assert 200 <= spec["width"] <= 720


def test_a_chart_that_is_not_there_is_not_found(client, planned):
    assert client.get("/bed/W2/charts/nonsense.json").status_code == 404
    assert client.get("/bed/W7/charts/nitrogen.json").status_code == 404
    assert client.get("/bed/nowhere/charts/nitrogen.json").status_code == 404


def test_methods_of_a_soil_test_are_written_as_the_trade_writes_them(client, planned):
    page = words(client.get("/bed/W2/").content.decode())

    assert "Phosphate (P2O5): Olsen test" in page and "phosphorus Olsen" in page
    assert not re.search(r"\b(olsen|dtpa|kcl)\b", page)
