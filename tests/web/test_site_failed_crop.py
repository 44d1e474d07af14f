"""A crop that failed: written down from its bed's page, and taken back again."""

from __future__ import annotations

from datetime import date
from uuid import UUID

import pytest
from django.urls import reverse
from forms_sent import sent_of
from pages_read import words_of

from bedwright.drawings import BedState
from bedwright.garden.failed import failed_wants
from bedwright.web.bed_states import bed_states
from bedwright.web.documents import make_garden, save_revision
from bedwright.web.journal_evening import grows
from bedwright.web.part_forms import items
from bedwright.web.standing import standing_of

pytestmark = pytest.mark.django_db
JUNE = "2027-06-14"
GARDEN = """format = 2
[garden]
name = "Failed"
[[bed]]
id = "A"
length = "20 ft"
width = "4 ft"
[[bed]]
id = "B"
length = "20 ft"
width = "4 ft"
[[want]]
crop = "tomato"
beds = ["A"]
set_out = 2027-05-10
[[want]]
crop = "bush bean"
beds = ["B"]
set_out = 2027-07-01
"""
SPREAD = """[[history]]
bed = "A"
year = 2027
crop = "tomato"
applied = [{ material = "blood meal", amount = "2 lb", on = 2027-04-26 }]
note = "By hand."
"""
AFTER = '[[want]]\ncrop = "lettuce"\nbeds = ["A"]\n'


@pytest.fixture(autouse=True)
def _in_june(monkeypatch):
    monkeypatch.setenv("BEDWRIGHT_AS_OF", JUNE)


@pytest.fixture
def made(db):
    """A garden of two beds; nobody needs its plan."""

    def make(text: str = GARDEN):
        return make_garden(text, "Failed", None, change="made")

    return make


def history(garden) -> list[dict[str, object]]:
    garden.refresh_from_db()
    return items(garden.standing.text, "history")


def bed_page(client, bed: str = "A"):
    return client.get(reverse("bed", args=[bed]))


def send(client, bed: str = "A", **typed: object):
    """The form as it is shown, filled in and sent."""
    address = reverse("bed-failed", args=[bed])
    shown = sent_of(client.get(address).content.decode())
    return client.post(address, {**shown, "reason": "storm", **typed}, follow=True)


def undo(client, garden, at: int, bed: str = "A", **typed: object):
    sent = {"read_from": str(garden.standing.pk), **typed}
    return client.post(reverse("bed-failed-undo", args=[bed, at]), sent, follow=True)


def test_the_bed_leads_to_the_form_and_the_form_knows_its_crop_and_today(client, made):
    made()
    address = reverse("bed-failed", args=["A"])
    assert address in bed_page(client).content.decode()

    shown = sent_of(client.get(address).content.decode())

    assert (shown["crop"], shown["failed"]) == (["tomato"], [JUNE])


def test_what_failed_stands_in_the_document_and_its_bed_is_free(client, made):
    garden = made()
    before = standing_of(garden)

    page = words_of(send(client, failed="2027-06-12", words="Big as eggs."))
    after = standing_of(garden)

    assert [{**each, "failed": str(each["failed"])} for each in history(garden)] == [
        {
            "bed": "A", "year": 2027, "crop": "tomato", "failed": "2027-06-12",
            "note": "Hail, wind or heavy rain. Big as eggs.",
        }
    ]  # fmt: skip
    garden.refresh_from_db()
    after = standing_of(garden)
    assert set(failed_wants(after.document.garden)) == {(0, "A")}
    assert after.key != before.key  # a new plan is asked for
    assert "Tomato failed here on June 12, 2027." in page
    assert f"{reverse('want', args=['new'])}?bed=A" in bed_page(client).content.decode()
    assert reverse("bed-failed", args=["A"]) + '"' not in bed_page(client).content.decode()


def test_the_evening_form_and_the_garden_know_it_no_more(client, made):
    garden = made()
    send(client, failed="2027-06-12")
    garden.refresh_from_db()
    standing = standing_of(garden)

    assert bed_states(standing.document, None, standing.as_of)["A"] is BedState.EMPTY
    assert grows(standing, "A", date(2027, 6, 11)) == ("tomato", "tomato")
    assert grows(standing, "A", standing.as_of) is None


def test_what_was_spread_for_it_stays_in_its_season(client, made):
    garden = made(GARDEN + SPREAD)

    send(client)
    (found,) = history(garden)

    assert found["note"] == "By hand. Hail, wind or heavy rain."
    assert len(found["applied"]) == 1
    assert str(found["failed"]) == JUNE


@pytest.mark.parametrize(
    "text", [GARDEN, GARDEN + SPREAD, GARDEN + SPREAD[: SPREAD.index("applied")]]
)
def test_taking_it_back_leaves_the_document_as_it_was(client, made, text):
    garden = made(text)
    send(client)
    garden.refresh_from_db()
    assert reverse("bed-failed-undo", args=["A", 0]) in bed_page(client).content.decode()

    page = words_of(undo(client, garden, 0))
    garden.refresh_from_db()

    assert garden.standing.text == text
    assert "Taken back: tomato did not fail." in page


def test_it_is_not_taken_back_over_another_hand_or_a_crop_that_follows(client, made):
    garden = made()
    send(client)
    garden.refresh_from_db()
    stale = words_of(undo(client, garden, 0, read_from="0"))
    text = garden.standing.text + AFTER
    save_revision(garden, text, read_from=garden.standing.pk, change="lettuce", user=None)

    followed = words_of(undo(client, garden, 0))

    assert "The garden was changed meanwhile" in stale
    assert "Not taken back." in followed and "wanted for two crops" in followed
    assert len(history(garden)) == 1
    assert undo(client, garden, 1).status_code == undo(client, garden, 0, "B").status_code == 404


def test_the_crop_that_follows_may_fail_too_and_each_is_taken_back_alone(client, made):
    garden = made(GARDEN + AFTER.replace('["A"]', '["A"]\nset_out = 2027-06-10') + SPREAD.replace(
        "note", "failed = 2027-06-05\nnote"))  # fmt: skip

    send(client, reason="dry")
    assert [each["crop"] for each in history(garden)] == ["tomato", "lettuce"]
    undo(client, garden, 1)

    assert [each["crop"] for each in history(garden)] == ["tomato"]


def test_an_autumn_planting_fails_in_the_season_of_its_harvest(client, made):
    garden = made(GARDEN.replace('"tomato"', '"garlic"').replace("2027-05-10", "2026-10-15"))

    send(client, failed="2026-12-20", reason="wet")

    assert [each["year"] for each in history(garden)] == [2027]


def test_what_the_journal_says_was_planted_may_fail_without_a_want(client, made):
    garden = made()
    planted = {
        "id": str(UUID(int=7)), "kind": "did", "what": "sowed", "bed": "B", "on": "2027-05-02",
        "crop": "spinach",
    }  # fmt: skip
    assert client.post("/journal/write/", planted).status_code == 302

    send(client, "B", reason="bolted")

    assert [(each["bed"], each["crop"], each["year"]) for each in history(garden)] == [
        ("B", "spinach", 2027)
    ]


def test_what_stands_from_before_comes_out_and_is_not_asked_for(client, made):
    made(GARDEN + '[[standing]]\nbed = "B"\ncrop = "kale"\n')

    page = client.get(reverse("bed-failed", args=["B"])).content.decode()

    assert reverse("bed-turnover", args=["B"]) in page and 'value="kale"' not in page


def test_what_is_not_planted_yet_cannot_have_failed(client, made):
    made()
    assert reverse("bed-failed", args=["B"]) not in bed_page(client, "B").content.decode()

    page = words_of(client.get(reverse("bed-failed", args=["B"])))

    assert "none grows here" in page and "bush bean, July 1, 2027" in page


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"crop": "kale"}, "crop", "Say which crop failed."),
        ({"failed": ""}, "failed", "Say on which day"),
        ({"failed": "soon"}, "failed", "soon is not a date"),
        ({"failed": "2027-06-15"}, "failed", "still to come"),
        ({"failed": "2027-05-09"}, "failed", "no planting of it stood here"),
        ({"reason": ""}, "reason", "Say what it was lost to"),
        ({"reason": "other"}, "words", "in a few words"),
        ({"words": "x" * 600}, "words", "600 letters"),
        ({"read_from": "0"}, "", "The garden was changed meanwhile"),
    ],
)
def test_what_is_wrong_is_told_at_its_field_and_nothing_is_saved(client, made, typed, field, words):
    garden = made()

    answer = send(client, **typed)

    assert answer.status_code == 422
    assert words in words_of(answer)
    assert not field or f'href="#{field}"' in answer.content.decode()
    assert history(garden) == []


def test_of_a_bed_that_is_not_there_nothing_is_shown(client, made):
    made()

    assert client.get(reverse("bed-failed", args=["Z"])).status_code == 404
