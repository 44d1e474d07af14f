"""What if: a change is tried beside the standing plan, and only kept when the gardener says so."""

import pytest
from django.urls import reverse

from bedwright.web import jobs
from bedwright.web.models import Job
from bedwright.web.standing import standing_of
from bedwright.web.trying import tried

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


def test_less_compost_shows_what_changes_and_leaves_the_standing_plan_alone(client, few):
    standing = few.standing.number
    want = want_of(standing_of(few).document.garden, "W2")

    page = worked(client, begin(client, want=want, compost="0"))
    few.refresh_from_db()

    assert few.standing.number == standing
    assert {row.bed for row in page.context["amounts"]} >= {"W2"}
    assert any("compost" in row.material and not row.tried for row in page.context["amounts"])
    assert any(row.what == "W2" for row in page.context["ledgers"])


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
        "avoid": "feather meal",
    }  # fmt: skip
    found = tried(document.text, document.garden, asked)

    import tomllib

    data = tomllib.loads(found.text)
    assert data["want"][1]["compost"]["depth"] == "0.5 in"
    assert data["want"][1]["dressing"] == {"material": "gypsum", "rate": "2 lb/100 ft2"}
    assert data["want"][1]["set_out"].isoformat() == "2027-05-20"
    assert data["stock"][0]["price"] == "31.5 USD"
    assert data["limits"]["avoid"] == ["feather meal"]
