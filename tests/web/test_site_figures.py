"""Every number of the reading pages is a door, and behind it stands how it was worked."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse

from bedwright.reports.bed_why import why_sentences
from bedwright.reports.fill import sentence, sentence_parts
from bedwright.reports.given import given, released
from bedwright.reports.parts import Number, joined
from bedwright.reports.worked import worked
from bedwright.web.figures import bed_doors, garden_figures

pytestmark = pytest.mark.django_db


def test_a_sentence_says_the_same_with_and_without_doors(demo_plan):
    system = demo_plan.document.garden.garden.units
    count = 0
    for bed in demo_plan.beds:
        for each in bed.findings:
            parts = sentence_parts(each, system)
            assert joined(parts) == sentence(each, system)
            assert "{" not in joined(parts)
            count += sum(isinstance(part, Number) for part in parts)
    assert count > 100


def test_every_figure_in_a_sentence_of_a_bed_has_a_key(demo_plan):
    system = demo_plan.document.garden.garden.units
    for bed in demo_plan.beds:
        doors = bed_doors(bed)
        said = why_sentences(bed.prescription, system)
        said += [sentence_parts(each, system) for each in bed.findings]
        for parts in said:
            for part in parts:
                if isinstance(part, Number):
                    key = doors.key_of(part.figure)
                    assert key is not None, (bed.prescription.bed.id, part.text)
                    assert doors.by_key[key].value == part.figure.value


def test_every_door_of_a_bed_opens(client, planned, demo_plan):
    for bed_id in ("W2", "R1", "E1"):
        page = client.get(reverse("bed", args=[bed_id])).content.decode()
        doors = set(re.findall(r'class="door" href="([^"]+)"', page))
        assert len(doors) > 10, bed_id
        for address in doors:
            assert client.get(address).status_code == 200, address


def test_every_door_of_today_opens(client, planned):
    page = client.get("/").content.decode()
    doors = set(re.findall(r'class="door" href="([^"]+)"', page))
    assert doors
    for address in doors:
        assert client.get(address).status_code == 200, address


def test_what_a_blend_brings_is_the_sum_of_its_materials(demo_plan):
    checked = 0
    for bed in demo_plan.beds:
        plan = bed.prescription
        for key, total in plan.blend.supplied.items():
            brought = given(plan, key)
            if brought is not None:
                parts = sum(each.value for each in brought.inputs)
                assert parts == pytest.approx(total, rel=1e-6)
                checked += 1
        freed = released(plan)
        if freed is not None:
            assert freed.low <= freed.value <= freed.high
            assert sum(each.value for each in freed.inputs) == pytest.approx(freed.value, rel=1e-6)
    assert checked > 20


def test_what_is_bought_and_paid_adds_up(demo_plan):
    figures = garden_figures(demo_plan)
    money = figures["money"]

    assert money.value == pytest.approx(sum(each.value for each in money.inputs))
    for key, each in figures.items():
        if key.startswith("needed-"):
            assert each.value == pytest.approx(sum(part.value for part in each.inputs), abs=1e-9)


def test_a_working_tells_formula_inputs_and_sources(client, planned, demo_plan):
    bed = next(each for each in demo_plan.beds if each.prescription.bed.id == "W2")
    told = worked(bed.prescription.nitrogen.to_supply, demo_plan.library, {})
    page = client.get("/bed/W2/working/nitrogen/").content.decode()

    assert told.formula in page
    assert [each.name for each in told.inputs] == [
        "nitrogen that the crop needs",
        "what the bed already gives",
    ]
    for source in told.inputs[0].sources:
        assert source.split(",")[0] in page
    assert "<pre" not in page


def test_a_working_that_is_not_there_is_not_found(client, planned):
    assert client.get("/bed/W2/working/nonsense/").status_code == 404
    assert client.get("/garden/working/nonsense/").status_code == 404
    assert client.get("/bed/W7/working/nitrogen/").status_code == 404
