"""Comparisons on the site: how they lie, writing results down by telephone, what they say."""

from __future__ import annotations

import re
from uuid import UUID

import pytest
from django.urls import reverse
from pages_read import words_of

from planning.compare.compare_gardens import FIRST, HEAD, SECOND, comparison, six_pairs

pytestmark = pytest.mark.django_db
NAME = "carrots"
_HISTORY = (
    '[[history]]\nbed = "C"\nyear = 2024\ncrop = "tomato"\nharvested = "80 lb"\n'
    '[[history]]\nbed = "C"\nyear = 2025\ncrop = "tomato"\nharvested = "90 lb"\n'
    'applied = [{ material = "plant compost", amount = "1 in", on = 2025-03-20 }]\n'
)


@pytest.fixture
def made(db):
    """A garden with a comparison; nobody needs its plan."""
    from bedwright.web.documents import make_garden

    def make(text: str):
        return make_garden(text, "Small", None, change="made")

    return make


def said(client, name: str, *args: str) -> str:
    answer = client.get(reverse(name, args=args))
    assert answer.status_code == 200
    return words_of(answer)


def test_the_list_tells_what_was_shown_and_what_the_years_have(client, made):
    made(six_pairs() + _HISTORY)

    page = said(client, "compare")

    assert "A difference was shown: compost gave most" in page
    assert "Tomato: harvests 2, beds 1, seasons 2" in page
    assert "can't be told apart from the year" in page.replace("&#x27;", "'")
    assert "Yours and the table" in page


def test_a_garden_without_any_says_how_to_state_one(client, made):
    made(HEAD)

    assert "No comparison is stated" in said(client, "compare")
    assert client.get(reverse("compare-one", args=["nothing"])).status_code == 404


def test_a_comparison_is_drawn_and_its_plots_stand_in_their_order(client, made):
    made(six_pairs())
    page = said(client, "compare-one", NAME)
    raw = client.get(reverse("compare-one", args=[NAME])).content.decode()

    assert "compost less none: 0.85 lb a plot" in page
    assert raw.count("<circle") == 6 and 'role="img"' in raw
    assert page.index("bed A, strip 1 of 6") < page.index("bed B, strip 6 of 6")
    assert "Drawn at random from seed 7" in page and "14.2 lb" in page


def test_results_are_written_down_and_a_day_is_written_anew(client, made):
    garden = made(HEAD + comparison('[["A"], ["A"], ["A"], ["B"], ["B"], ["B"]]'))
    address = reverse("compare-results", args=[NAME])
    plots = re.findall(r'name="(plot_\d_\d)"', client.get(address).content.decode())
    assert len(plots) == 12

    from bedwright.web.compare.views import comparisons
    from bedwright.web.standing import standing_of

    standing = standing_of(garden)
    (found,) = comparisons(standing.document, standing.library)
    pairs = dict(zip(range(1, 7), zip(FIRST, SECOND, strict=True), strict=True))
    sent = {
        f"plot_{p.block}_{p.place}": str(pairs[p.block][0 if p.way == "compost" else 1])
        for p in found.plots
    }
    sent |= {"on": "2026-07-14", "read_from": str(garden.standing.pk)}

    assert client.post(address, sent).status_code == 302
    assert "compost less none: 0.85 lb a plot" in said(client, "compare-one", NAME)

    garden.refresh_from_db()
    again = {"on": "2026-07-14", "plot_1_1": "20,5", "read_from": str(garden.standing.pk)}
    assert client.post(address, again).status_code == 302
    garden.refresh_from_db()
    text = garden.standing.text
    assert '"20.5 lb"' in text and text.count("block = ") == 12


def test_what_cannot_be_saved_is_told_beside_its_field(client, made):
    garden = made(HEAD + comparison('[["A"]]'))
    address = reverse("compare-results", args=[NAME])
    sent = {"read_from": str(garden.standing.pk), "on": "2026-07-14"}

    none = client.post(address, sent)
    word = client.post(address, {**sent, "plot_1_1": "many"})
    tomorrow = client.post(address, {**sent, "plot_1_1": "3", "on": "2027-01-01"})

    assert [each.status_code for each in (none, word, tomorrow)] == [422] * 3
    assert "No plot has a value yet." in none.content.decode()
    assert "many" in word.content.decode()
    assert "the day of reading" in tomorrow.content.decode()


def test_pickings_of_the_journal_are_the_results_and_are_not_typed_twice(client, made):
    span = "seed = 7\njournal = { from_day = 2026-06-01, to_day = 2026-11-24 }\n"
    made(HEAD + comparison('[["C", "D"]]', more=span))
    picked = {
        "id": str(UUID(int=5)), "kind": "picked", "bed": "C", "on": "2026-11-20",
        "crop": "carrot", "pounds": "7", "ounces": "0",
    }  # fmt: skip
    assert client.post("/journal/write/", picked).status_code == 302

    assert "7 lb" in said(client, "compare-one", NAME)
    assert client.get(reverse("compare-results", args=[NAME])).status_code == 404
