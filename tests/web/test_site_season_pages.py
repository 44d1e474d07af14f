"""What comes out of beds, the harvest by week, and what to buy, on their pages; and the bar."""

import json
import re

import pytest
from django.urls import reverse
from pages_read import words_of
from small_site import AS_OF, small_garden

pytestmark = pytest.mark.django_db


@pytest.fixture
def small(monkeypatch):
    monkeypatch.setenv("BEDWRIGHT_AS_OF", AS_OF)
    return small_garden()


def said(client, name: str, *args: str, language: str = "en") -> str:
    answer = client.get(reverse(name, args=args), headers={"accept-language": language})
    assert answer.status_code == 200
    return words_of(answer)


def test_a_bed_tells_what_stands_in_it_until_when_and_where_it_may_go(client, small):
    page = said(client, "bed-turnover", "A")

    assert "the bed is needed for tomato" in page
    assert "Left in it: about 3 lb" in page
    assert page.index("Ways out, the best first") < page.index("Pick and sell")
    assert page.index("Feed to ducks") < page.index("Not these") < page.index("Feed to goats")
    assert "is not known here, so it is not fed" in page
    assert said(client, "turnover").count("needed for tomato") == 1
    assert 'href="/bed/A/turnover/"' in client.get(reverse("bed", args=["A"])).content.decode()


def test_a_bed_with_nothing_in_it_says_so(client, small):
    assert "tells of nothing that stands in this bed" in said(client, "bed-turnover", "B")
    assert client.get(reverse("bed-turnover", args=["nowhere"])).status_code == 404


def test_the_harvest_names_gaps_by_week_and_says_where_its_figures_are_from(client, small):
    page = said(client, "harvest")

    assert "less than the stall wants" in page
    assert "60 lb" in page and "too little" in page
    assert "From the table, not from your garden." in page
    assert page.index("Tomato") < page.index("Carrot")  # what the stall wants stands first


def test_the_harvest_is_one_chart_with_its_figures_in_the_page(client, small):
    spec = json.loads(client.get(reverse("harvest-chart"), {"width": "640"}).content)
    raw = client.get(reverse("harvest")).content.decode()

    assert len(spec["concat"]) == 2
    assert "too little" in spec["description"]
    rows = spec["datasets"]["table"]
    assert f">{rows[0]['typical']:.10g}</td>" in raw
    assert rows[0]["week"] in raw


def test_purchases_stand_by_date_with_packages_cost_and_what_is_on_hand(client, small):
    page = said(client, "purchases")

    assert "Carrot seed : 2 packages of 10 g" in page
    assert "8.00 USD in all at the prices that you state" in page
    assert page.index("Order by May 4, 2027") < page.index("By May 24, 2027")
    netted = page[page.index("Needed, on hand, bought") :]
    assert "Twine 264 ft 300 ft none" in netted  # what is on hand is enough
    assert "price not stated" in page


@pytest.mark.parametrize("name", ["turnover", "harvest", "purchases"])
def test_the_pages_are_in_spanish_too(client, small, name):
    page = said(client, name, language="es")

    assert not re.search(r"\b(Needed|Clear it|picked in all|What stands|Best way)\b", page)


@pytest.mark.parametrize("name", ["turnover", "harvest", "purchases"])
def test_while_the_plan_is_made_the_pages_say_so(client, bare, name):
    assert 'class="work"' in client.get(reverse(name)).content.decode()


def test_the_bar_is_short_and_all_rooms_stand_behind_one_word(client, small):
    raw = client.get(reverse("soil")).content.decode()
    bar = raw[raw.index('<ul class="bar">') : raw.index("<details><summary>")]
    at_hand = [each for each in re.findall("<li.*?</li>", bar) if "wide-only" not in each]

    assert len(at_hand) == 5  # four at hand, and the room looked at
    assert 'aria-current="page">Soil' in bar
    rooms = raw[raw.index('<div class="rooms">') : raw.index("</nav>")]
    for name in ("today", "week", "season-work", "turnover", "harvest", "purchases", "settings"):
        assert f'href="{reverse(name)}"' in rooms


def test_the_season_book_is_printed_from_the_bar(client, small):
    answer = client.get(reverse("book"))

    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
