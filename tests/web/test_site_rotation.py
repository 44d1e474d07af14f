"""Rotation: wishes and what became of them, clashes, each bed's seasons, pins tried and kept."""

import json
from dataclasses import replace

import pytest
from django.urls import reverse
from pages_read import words_of
from years_made import GARLIC, PEPPER, W2, W3, placed, years_made

from bedwright.reports.rotation_words import clash_words
from bedwright.web import jobs
from bedwright.web.documents import save_revision
from bedwright.web.models import Job
from bedwright.web.standing import standing_of
from bedwright.web.years_store import forget_years, keep_years, stored_years, years_that_stand

pytestmark = pytest.mark.django_db
WISHES = """
[[wish]]
crop = "sweet pepper"
beds = 2

[[wish]]
crop = "tomato"
beds = 1
must = true

[[pin]]
bed = "W3"
crop = "garlic"
year = 2028
"""


@pytest.fixture
def wished(bare):
    """The demo garden with two wishes and a pin, and no years kept from another test."""
    save_revision(bare, bare.standing.text + WISHES, read_from=bare.standing.pk, change="wishes",
                  user=None)  # fmt: skip
    keys = standing_of(bare).key, standing_of(bare).text_key
    yield bare
    for each in keys:
        forget_years(each)
    forget_years(years_that_stand(bare))


@pytest.fixture
def years(wished):
    """Its years ahead, kept as the worker keeps them."""
    made = years_made()
    keep_years(standing_of(wished).key, made)
    keep_years(years_that_stand(wished), made)
    return made


def test_a_garden_that_says_nothing_of_the_years_is_led_to_its_first_wish(client, bare):
    page = client.get(reverse("rotation"))

    assert not Job.objects.filter(kind="years").exists()
    assert reverse("wish", args=["new"]) in page.content.decode()


def test_wishes_say_what_became_of_them_and_in_which_beds(client, years):
    page = client.get(reverse("rotation"))
    first, second = page.context["wishes"]

    assert [(each.year, each.met, each.beds) for each in first.years] == [
        (2027, False, ("W2",)), (2028, True, ()),
    ]  # fmt: skip
    assert second.must and not second.years
    said = words_of(page)
    assert "2027: 1 of 2" in said and "open to it: W2" in said
    assert "No plan that keeps the rules is better by more than 0.65 %" in said


def test_a_clash_is_said_in_words_with_what_giving_up_each_gains(client, years):
    page = words_of(client.get(reverse("rotation")))
    first, *gains = clash_words(years.clashes[0])

    assert (
        first
        == "3 beds of nightshades wanted, but only B4 and B9 have been free of them for 3 years."
    )
    assert first in page and len(gains) == 2
    assert all(each in page for each in gains)


def test_each_beds_seasons_stand_under_the_drawing_and_their_reasons_on_its_page(client, years):
    garden = client.get(reverse("garden"))
    lines = {each.id: each.seasons for _, beds in garden.context["blocks"] for each in beds}
    assert [each.line for each in lines["W2"][0].seasons] == [
        "2027: sweet pepper, set out May 15, harvest July 20 to October 3"
    ]
    assert "settled by you" in words_of(garden)

    bed = words_of(client.get(reverse("bed", args=["W2"])))
    assert "The history has no nightshades on this bed." in bed
    assert (
        "Next best for this bed: 2027 garlic instead of 2027 sweet pepper; it costs as much as 0.4 "
        "beds of a wish unmet." in bed
    )
    assert "Not here that year: tomato, eggplant (too soon after its own family)." in bed
    resting = words_of(client.get(reverse("bed", args=["W3"])))
    assert "2027: no crop" in resting and "gains by standing here" in resting


def test_the_pages_of_the_years_wait_for_no_search_and_show_the_first_plan_meanwhile(
    client, wished
):
    page = client.get(reverse("rotation"))
    job = Job.objects.get(kind="years")
    assert page.context["years"] is None and page.context["job"] is not None

    Job.objects.filter(kind="plan").update(state=Job.State.DONE)
    Job.objects.filter(pk=job.pk).update(
        state=Job.State.RUNNING, step=json.dumps(["better", 30.0, 31.0, 0.042])
    )
    part = client.get(reverse("work", args=[job.pk]))
    assert "better by more than 4.2 %" in words_of(part)
    assert "HX-Refresh" not in part.headers
    keep_years(job.key, years_made(), first=True)
    assert client.get(reverse("work", args=[job.pk])).headers["HX-Refresh"] == "true"
    assert "HX-Refresh" not in client.get(f"{reverse('work', args=[job.pk])}?first=shown").headers
    shown = client.get(reverse("rotation"))
    assert shown.context["years"] is not None
    assert "a better one is being looked for" in words_of(shown)


def test_on_another_day_the_years_that_were_found_are_shown_while_they_are_looked_at_anew(
    client, wished
):
    keep_years(standing_of(wished).text_key, years_made())
    page = client.get(reverse("rotation"))

    assert page.context["years"] is not None
    assert Job.objects.filter(kind="years").exists()
    assert reverse("rotation-settle") not in page.content.decode()  # not before they are found


def test_a_search_goes_after_other_work_and_is_called_off_where_its_garden_changed(client, wished):
    client.get(reverse("rotation"))
    jobs.ask(wished, "backup", "later")
    old = Job.objects.get(kind="years")
    assert [jobs.claim().kind for _ in range(Job.objects.count())][-1] == "years"

    save_revision(wished, wished.standing.text + "\n", read_from=wished.standing.pk, change="more",
                  user=None)  # fmt: skip
    client.get(reverse("rotation"))
    old.refresh_from_db()
    assert old.stop_asked
    assert Job.objects.filter(kind="years").count() == 2


def pinned(client, **asked):
    page = client.get(reverse("pin", args=["new"])).context
    sent = {"bed": "W2", "crop": "garlic", "year": "2027", "read_from": page["read_from"]}
    return client.post(reverse("pin", args=["new"]), {**sent, **asked})


def test_a_pin_is_tried_beside_the_plan_that_stands_and_kept_with_its_years(client, wished, years):
    answer = pinned(client, **{"try": "yes"})
    wished.refresh_from_db()
    assert "W2" not in str([each.bed for each in standing_of(wished).stated.garden.pin])
    trial = wished.revisions.get(number=None)
    other = replace(years, placements=(placed(W2, GARLIC, 2027), placed(W3, PEPPER, 2028)),
                    clashes=(), objective=29.5)  # fmt: skip
    keep_years(standing_of(wished, trial).key, other)

    page = client.get(answer["Location"])
    assert page.context["ahead"].beds == (
        ("W2", 2027, "sweet pepper", "garlic"), ("W3", 2028, "garlic", "sweet pepper"),
    )  # fmt: skip
    assert page.context["ahead"].stands
    assert not Job.objects.filter(kind="plan", asked__revision=trial.pk).exists()

    client.post(reverse("trial-keep", args=[trial.pk]))
    wished.refresh_from_db()
    assert [each.bed for each in standing_of(wished).stated.garden.pin] == ["W3", "W2"]
    for key in (standing_of(wished).key, years_that_stand(wished)):
        assert stored_years(key).objective == 29.5


def test_a_pin_that_names_no_known_crop_is_not_tried(client, wished):
    answer = pinned(client, crop="moonflower seed", **{"try": "yes"})

    assert answer.status_code == 422
    assert not wished.revisions.filter(number=None).exists()


def test_planning_afresh_forgets_what_stood(client, wished, years):
    assert client.post(reverse("rotation-afresh")).status_code == 302

    assert stored_years(years_that_stand(wished)) is None
    assert client.get(reverse("rotation")).context["years"] is None


def test_the_first_year_is_written_into_the_document_as_wanted_crops(client, wished, years):
    sent = {"read_from": wished.standing.pk}
    before = standing_of(wished).stated.garden
    client.post(reverse("rotation-settle"), sent)
    wished.refresh_from_db()
    after = standing_of(wished).stated.garden

    assert wished.standing.change == "2027 written into the garden document"
    assert len(after.want) + len(after.pin) > len(before.want) + len(before.pin)


def test_years_in_spanish_hold_no_english_sentence(client, wished, years):
    client.post("/language/", {"language": "es", "next": "/"})
    page = words_of(client.get(reverse("bed", args=["W2"])))

    assert "The history has" not in page and "Next best" not in page
    assert clash_words(years.clashes[0])[0] not in words_of(client.get(reverse("rotation")))
