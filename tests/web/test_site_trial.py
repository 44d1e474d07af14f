"""What if: a change is tried beside the standing plan, and only kept when the gardener says so."""

import tomllib
from dataclasses import replace
from datetime import date, timedelta

import pytest
from django.urls import reverse

from bedwright.garden.model_work import Work
from bedwright.planning.work.hours import hours_of_week
from bedwright.web import jobs
from bedwright.web.models import Job
from bedwright.web.standing import standing_of
from bedwright.web.whatif.changes import tried

pytestmark = pytest.mark.django_db


def want_of(garden, bed: str) -> int:
    return next(at for at, want in enumerate(garden.want) if bed in want.beds)


def begin(client, **asked):
    return client.post(reverse("trial-begin"), asked)


def worked(client, answer):
    """The page of a trial once its plan is made, as the worker would make it."""
    page = client.get(answer["Location"])
    for job in Job.objects.filter(state=Job.State.WAITING):
        jobs.run(job)
    return client.get(answer["Location"]) if page.context["job"] else page


@pytest.fixture
def want(document) -> int:
    return want_of(document.garden, "W2")


def test_less_compost_and_fewer_hours_show_what_changes_and_leave_the_standing_plan_alone(
    client, few
):
    standing = few.standing.number
    want = want_of(standing_of(few).document.garden, "W2")

    page = worked(client, begin(client, want=want, compost="0", hours="0.1"))
    few.refresh_from_db()

    assert few.standing.number == standing
    beds = {each.bed: each for each in page.context["told"].beds}
    assert set(beds) == {"W2", "W3"}  # one want is of both
    assert any("compost" in row.what and not row.after for row in beds["W2"].rows)
    assert [each.bed for each in page.context["balances"]] == ["W2", "W3"]
    garden = {row.what: row for row in page.context["told"].garden}
    assert garden["phosphate that is spread"].by.endswith("less")
    assert page.context["told"].dropped
    assert "fit the hours" in page.content.decode()


def test_a_change_is_tried_on_top_of_another(client, planned, want):
    first = begin(client, want=want, compost="2")["Location"]
    key = first.strip("/").split("/")[-1]
    form = client.get(reverse("what_if"), {"on": key})

    second = begin(client, on=key, avoid="feather meal")["Location"]
    made = planned.revisions.get(pk=second.strip("/").split("/")[-1])

    assert form.context["base"].pk == int(key)
    assert "feather meal" in made.text
    assert '2 in"' in made.text
    assert made.change.startswith("sweet pepper")
    assert made.change.endswith("without feather meal")
    assert made.parent == planned.standing


@pytest.mark.parametrize("on", ["0", "999999", "x"])
def test_a_trial_that_is_not_there_cannot_be_built_on(client, planned, on):
    assert client.get(reverse("what_if"), {"on": on}).status_code == 404


def test_a_trial_that_is_kept_becomes_the_standing_revision(client, planned, want):
    address = begin(client, want=want, set_out="2027-05-25")["Location"]
    client.post(f"{address}keep/")
    planned.refresh_from_db()

    assert planned.standing.number == 2
    assert "2027-05-25" in planned.standing.text
    assert "set out 2027-05-25" in planned.standing.change
    assert not planned.revisions.filter(number=None).exists()


def test_a_trial_that_is_dropped_leaves_nothing(client, planned, want):
    address = begin(client, want=want, compost="2")["Location"]
    client.post(f"{address}drop/")

    assert not planned.revisions.filter(number=None).exists()
    assert client.get(address).status_code == 404


def test_a_trial_on_a_garden_that_changed_meanwhile_is_not_kept_over_it(client, planned, want):
    address = begin(client, want=want, compost="2")["Location"]
    other = begin(client, avoid="feather meal")["Location"]
    client.post(f"{other}keep/")
    answer = client.post(f"{address}keep/", follow=True)
    planned.refresh_from_db()

    assert planned.standing.number == 2
    assert "changed meanwhile" in answer.content.decode()


@pytest.mark.parametrize(
    ("asked", "problem"),
    [
        ({}, "Nothing was changed"),
        ({"compost": "2"}, "which crop"),
        ({"want": "0", "compost": "deep"}, "not an amount"),
        ({"want": "0", "rate": "2"}, "which material"),
        ({"want": "0", "rate": "2", "material": "moon dust"}, "not a known material"),
        ({"want": "0", "set_out": "someday"}, "not a date"),
        ({"price": "12"}, "which package"),
        ({"crop": "kale"}, "which crop"),
        ({"hours": "many"}, "not an amount"),
        ({"budget": "-4"}, "not an amount"),
        ({"other-hours": "3"}, "first day, last day and hours"),
        ({"other-hours": "3", "other-from": "soon", "other-to": "2027-05-09"}, "not a date"),
        ({"other-hours": "3", "other-from": "2027-05-09", "other-to": "2027-05-03"}, "lies before"),
        ({"want": "0", "crop": "moon fruit"}, "not a known crop"),
    ],
)
def test_what_is_wrong_with_the_form_is_said_and_what_was_typed_stays(
    client, planned, asked, problem
):
    page = begin(client, **asked)

    assert page.status_code == 422
    assert problem in page.content.decode()
    assert page.context["asked"].get("compost", "") == asked.get("compost", "")
    assert not planned.revisions.filter(number=None).exists()


def test_every_change_of_the_form_lands_in_the_document(document):
    asked = {
        "want": "1", "compost": "0.5", "compost-unit": "in", "material": "gypsum", "rate": "2",
        "rate-unit": "lb/100 ft2", "set_out": "2027-05-20", "stock": "0", "price": "31.5",
        "avoid": "feather meal", "hours": "9", "budget": "120", "water-price": "8", "salt": "2.5",
    }  # fmt: skip
    found = tried(document.text, document, asked)

    data = tomllib.loads(found.text)
    assert data["work"]["hours_per_week"] == 9
    assert data["limits"]["budget"] == "120 USD"
    assert data["watering"]["price"] == "8 USD/1000 gal"
    (salt,) = (each for each in data["water_report"][0]["results"] if each["analyte"] == "EC")
    assert salt["value"] == "2.5 dS/m"
    assert data["want"][1]["compost"]["depth"] == "0.5 in"
    assert data["want"][1]["dressing"] == {"material": "gypsum", "rate": "2 lb/100 ft2"}
    assert data["want"][1]["set_out"].isoformat() == "2027-05-20"
    assert data["stock"][0]["price"] == "31.5 USD"
    assert data["limits"]["avoid"] == ["feather meal"]


def test_other_hours_of_one_week_go_before_those_that_are_stated_of_it(document):
    asked = {"other-hours": "0", "other-from": "2027-05-03", "other-to": "2027-05-09"}
    found = tried(document.text, document, asked)
    work = Work.model_validate(tomllib.loads(found.text)["work"])
    week = date(2027, 5, 3)

    assert found.change == "0 hours a week from 2027-05-03 to 2027-05-09"
    assert hours_of_week(document.garden.work, week, week) > 0
    assert hours_of_week(work, week, week) == 0
    after = week + timedelta(days=7)
    assert hours_of_week(work, after, after) == hours_of_week(document.garden.work, after, after)


def test_other_hours_need_usual_ones_beside_them(document):
    bare = replace(document, garden=document.garden.model_copy(update={"work": None}))
    asked = {"other-hours": "3", "other-from": "2027-05-03", "other-to": "2027-05-09"}

    (fault,) = tried('format = 2\n[garden]\nname = "A"\n', bare, asked)
    found = tried('format = 2\n[garden]\nname = "A"\n', bare, {**asked, "hours": "9"})

    assert fault.field == "hours"
    work = tomllib.loads(found.text)["work"]
    assert (work["hours_per_week"], work["other_hours"][0]["hours_per_week"]) == (9, 3)


def test_another_crop_takes_what_was_stated_of_the_first_one_with_it(document):
    at = want_of(document.garden, "W2")
    assert document.garden.want[at].yield_goal is not None

    found = tried(document.text, document, {"want": str(at), "crop": "kale"})

    want = tomllib.loads(found.text)["want"][at]
    assert want["crop"] == "kale"
    assert "yield_goal" not in want
    assert want["set_out"] == document.garden.want[at].set_out
    assert found.change == "W2, W3: kale instead of sweet pepper"


def test_water_without_a_report_or_a_way_of_watering_is_not_made_up(document):
    garden = document.garden.model_copy(update={"water_report": [], "watering": None})
    bare = replace(document, garden=garden)

    faults = tried(document.text, bare, {"water-price": "3", "salt": "2"})

    assert {each.field for each in faults} == {"water-price", "salt"}
