"""Crops and dates: every crop wanted says when, and can be changed, added and given up."""

import pytest
from django.urls import reverse
from forms_sent import form_of as sent_form

from bedwright.reports.dates_text import want_lines
from bedwright.units import UnitSystem

pytestmark = pytest.mark.django_db


def form_of(client, at) -> dict[str, object]:
    return sent_form(client, "want", at)


def test_each_crop_says_when_in_the_plans_own_sentences(client, planned, demo_plan):
    page = client.get(reverse("crops"))

    for (_at, want, lines, _chart), dates in zip(
        page.context["wants"], demo_plan.dates.wants, strict=True
    ):
        assert list(want.beds) == list(dates.beds)
        assert lines == want_lines(dates, UnitSystem.US)


@pytest.mark.parametrize("kind", ["frost", "soil", "fruit-set"])
def test_a_chart_of_the_dates_is_drawn_from_the_figures_in_its_table(client, planned, kind):
    fruiting = [chart for *_, chart in client.get(reverse("crops")).context["wants"] if chart]
    name = fruiting[0] if kind == "fruit-set" else kind
    spec = client.get(reverse("dates-chart", args=[name])).json()
    page = client.get(reverse("dates-figures", args=[name]))

    assert len(page.context["rows"]) == len(spec["datasets"]["table"]) > 10
    assert client.get(reverse("dates-chart", args=["rainfall"])).status_code == 404


def test_every_want_saved_as_it_stands_changes_nothing(client, planned):
    for at in range(len(client.get(reverse("crops")).context["wants"])):
        assert client.post(reverse("want", args=[at]), form_of(client, at)).status_code == 302
    planned.refresh_from_db()

    assert planned.standing.number == 1


def test_another_crop_is_wanted_in_an_open_bed_and_given_up_again(client, planned):
    before = planned.standing.text
    wants = client.get(reverse("crops")).context["wants"]
    bed = client.get(reverse("crops")).context["open_beds"][0]
    new = {**form_of(client, "new"), "crop": "carrot", "beds": [bed], "compost_depth": "0,5"}
    assert client.post(reverse("want", args=["new"]), new).status_code == 302
    planned.refresh_from_db()
    assert planned.standing.change == f"carrot wanted in {bed}"
    assert 'depth = "0.5 in"' in planned.standing.text

    client.post(reverse("want-remove", args=[len(wants)]), {"read_from": planned.standing.pk})
    planned.refresh_from_db()
    assert planned.standing.text == before


@pytest.mark.parametrize(
    ("typed", "problem"),
    [
        ({"crop": ""}, "which crop"),
        ({"crop": "moonflower seed"}, "not a known crop"),
        ({"beds": []}, "at least one bed"),
        ({"set_out": "in May"}, "not a date"),
        ({"days_to_maturity": "soon"}, "whole number from"),
        ({"yield_goal": "plenty"}, "not an amount"),
        ({"beds": ["W1", "W2"]}, "W1"),
    ],
)
def test_what_is_wrong_is_said_and_what_was_typed_stays(client, planned, typed, problem):
    right = {**form_of(client, "new"), "crop": "carrot", "beds": ["W7"]}
    page = client.post(reverse("want", args=["new"]), {**right, **typed})

    assert page.status_code == 422
    assert problem in page.content.decode()
    assert page.context["paper"].text("crop") == typed.get("crop", "carrot")
    assert 'class="bare faulty"' in page.content.decode() or (
        'aria-invalid="true"' in page.content.decode()
    )  # said at its field
