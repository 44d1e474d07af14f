"""A bed that bears two crops in a year: both stand on its page, in the days and in the journal."""

import re

import pytest
from django.urls import reverse

from bedwright.drawings import BedState
from bedwright.garden.edit import add_item, set_field
from bedwright.web import jobs
from bedwright.web.bed_states import bed_states
from bedwright.web.coming import coming
from bedwright.web.documents import save_revision
from bedwright.web.figures import bed_figures
from bedwright.web.models import Job
from bedwright.web.standing import standing_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def twice(demo):
    """The demo with lettuce after the garden's spinach, and its plan as the worker makes it."""
    wants = standing_of(demo).stated.garden.want
    at = next(n for n, want in enumerate(wants) if want.crop == "spinach")
    text = set_field(demo.standing.text, ("want", at, "turn"), "spring")
    bed = wants[at].beds[0]
    text = add_item(text, ("want",), {"crop": "lettuce", "beds": [bed], "turn": "late summer"})
    save_revision(demo, text, read_from=demo.standing.pk, change="lettuce after spinach", user=None)
    standing = standing_of(demo)
    job = jobs.ask(demo, "plan", standing.key, revision=demo.standing.pk)
    jobs.run(job)
    assert Job.objects.get(pk=job.pk).state == Job.State.DONE, Job.objects.get(pk=job.pk).fault
    return bed, standing


def test_both_crops_are_told_and_each_number_opens_its_own_working(client, twice):
    bed, standing = twice
    plan = standing.plan()
    second = next(each for each in plan.second if each.prescription.bed.id == bed)
    page = client.get(reverse("bed", args=[bed])).content.decode()

    assert "Then, in the same year: lettuce" in page
    keys = set(re.findall(rf"/bed/{bed}/working/(planting-2-[^/]+)/", page))
    assert keys and keys <= set(bed_figures(second))
    for key in sorted(keys)[:3]:
        assert client.get(reverse("working", args=[bed, key])).status_code == 200
    assert len([each for each in plan.layouts if each.planting.bed.id == bed]) == 2
    assert page.count('class="rows"') == 4  # two plantings, for desk and telephone

    days = {(each.crop, each.code) for each in coming(plan) if bed in each.beds}
    assert {crop for crop, _ in days} >= {"spinach", "lettuce"}

    def state(on) -> BedState:
        return bed_states(standing.document, plan, on)[bed]

    first = next(each for each in plan.beds if each.prescription.bed.id == bed)
    assert state(first.nitrogen.last_harvest) is BedState.STANDING
    assert state(second.nitrogen.last_harvest) is BedState.STANDING
    assert state(standing.as_of) is BedState.STANDING  # the kale, until it is cleared
    assert state(first.nitrogen.spread) is not BedState.STANDING
