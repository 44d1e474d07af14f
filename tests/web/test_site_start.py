"""The first start: a garden from a few answers, from a document, from an export."""

import io
import tomllib
from datetime import UTC, datetime

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from bedwright.web.models import Garden

pytestmark = pytest.mark.django_db

PLACE = {"name": "My \"own\" garden", "units": "US customary", "currency": "USD",
         "latitude": "46.1 N", "longitude": "119.2 W", "elevation": "590",
         "elevation_unit": "ft"}  # fmt: skip
BEDS = {
    "rows": "4", "many_0": "3", "called_0": "A", "length_0": "50", "length_0_unit": "ft",
    "width_0": "4", "width_0_unit": "ft", "kind_0": "in-ground", "axis_0": "N-S",
    "texture_0": "silt loam", "fill_depth_0": "", "fill_depth_0_unit": "in", "fill_0": "soil",
    "many_1": "1", "called_1": "box", "length_1": "8", "length_1_unit": "ft", "width_1": "4",
    "width_1_unit": "ft", "kind_1": "raised", "fill_depth_1": "11", "fill_depth_1_unit": "in",
    "fill_1": "compost mix",
}  # fmt: skip
CROPS = {"crop_A1": "onion", "crop_A2": "Onion", "crop_box": "lettuce"}


def go(client, step: str, **typed: str):
    return client.post(reverse("start-garden", args=[step]), {**typed, "on": "yes"})


def walked(client):
    go(client, "place", **PLACE)
    go(client, "beds", **BEDS)
    return go(client, "crops", **CROPS)


def test_a_few_answers_make_a_garden_that_can_be_planned(client):
    assert walked(client).url == reverse("start-garden", args=["look"])
    shown = client.get(reverse("start-garden", args=["look"])).content.decode()
    assert "# BEDS" in shown

    answer = client.post(reverse("start-garden", args=["look"]), {"then": "soil"})

    garden = Garden.objects.get()
    assert answer.url == reverse("soil-report-new")
    assert garden.name == 'My "own" garden'
    data = tomllib.loads(garden.standing.text)
    assert [each["id"] for each in data["bed"]] == ["A1", "A2", "A3", "box"]
    assert data["bed"][3]["fill_depth"] == "11 in"
    assert data["want"] == [
        {"crop": "onion", "beds": ["A1", "A2"]},
        {"crop": "lettuce", "beds": ["box"]},
    ]
    assert "making" not in client.session
    assert client.get(reverse("soil-report-new")).status_code == 200


def test_a_wrong_answer_is_told_at_its_field_and_kept(client):
    answer = go(client, "place", **{**PLACE, "latitude": "ninety", "elevation": "high"})

    assert answer.status_code == 422
    fields = {each.name: each for each in answer.context["fields"]}
    assert fields["latitude"].value == "ninety" and fields["latitude"].faults
    assert fields["elevation"].faults
    assert fields["longitude"].value == "119.2 W" and not fields["longitude"].faults


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"many_0": "three"}, "many_0"),
        ({"many_0": "9999"}, "many_0"),
        ({"length_0": ""}, "length_0"),
        ({"width_0": "-4"}, "width_0"),
        ({"fill_depth_1": ""}, "fill_depth_1"),
        ({"called_1": "a/b"}, "called_1"),
        ({"many_0": "", "many_1": ""}, "many_0"),
    ],
)
def test_wrong_beds_are_told_in_their_line(client, typed, field):
    go(client, "place", **PLACE)

    answer = go(client, "beds", **{**BEDS, **typed})

    assert answer.status_code == 422
    assert field in answer.context["paper"].faults


def test_an_unknown_crop_is_told_at_its_bed(client):
    go(client, "place", **PLACE)
    go(client, "beds", **BEDS)

    answer = go(client, "crops", **{**CROPS, "crop_A3": "moonshine"})

    assert answer.status_code == 422
    assert "moonshine" in answer.context["paper"].faults["crop_A3"][0]


def test_going_back_keeps_what_was_typed_even_where_it_is_wrong(client):
    go(client, "place", **PLACE)
    back = client.post(
        reverse("start-garden", args=["beds"]), {**BEDS, "many_0": "three", "back": "yes"}
    )

    assert back.url == reverse("start-garden", args=["place"])
    page = client.get(reverse("start-garden", args=["beds"])).content.decode()
    assert 'value="three"' in page and 'value="box"' in page
    assert 'value="46.1 N"' in client.get(back.url).content.decode()


def test_more_lines_keep_what_was_typed(client):
    go(client, "place", **PLACE)
    client.post(reverse("start-garden", args=["beds"]), {**BEDS, "more_rows": "yes"})

    page = client.get(reverse("start-garden", args=["beds"]))

    assert page.context["count"] == 6
    assert 'value="box"' in page.content.decode()


def test_the_last_step_leads_back_to_what_is_missing(client):
    answer = client.post(reverse("start-garden", args=["look"]), {"then": "later"})

    assert answer.url == reverse("start-garden", args=["place"])
    assert not Garden.objects.exists()


def test_a_document_is_opened_with_its_file_and_a_faulty_one_is_not(client, demo):
    text = demo.standing.text
    report = bytes(demo.files.get().content)
    files = [
        SimpleUploadedFile("mine.toml", text.encode()),
        SimpleUploadedFile("kestrel_bend_east_block.csv", report),
    ]

    assert client.post(reverse("start-open"), {"files": files}).url == reverse("today")
    assert Garden.objects.count() == 2

    alone = [SimpleUploadedFile("mine.toml", text.replace('"50 ft"', '"50 fm"').encode())]
    answer = client.post(reverse("start-open"), {"files": alone})
    assert answer.status_code == 422
    told = " ".join(answer.context["faults"])
    first = next(n for n, line in enumerate(text.splitlines(), 1) if '"50 ft"' in line)
    assert "'fm'" in told and f"mine.toml, line {first}" in told
    assert "cache" not in told and "/" not in told
    assert Garden.objects.count() == 2


@pytest.mark.parametrize(
    "files",
    [
        [],
        [SimpleUploadedFile("a.toml", b"\xff\xfe")],
        [SimpleUploadedFile("a.toml", b""), SimpleUploadedFile("b.toml", b"")],
        [SimpleUploadedFile("a.zip", b"no zip")],
        [SimpleUploadedFile("a.csv", b"1,2")],
    ],
    ids=["none", "no-text", "two", "no-zip", "no-document"],
)  # fmt: skip
def test_what_is_no_document_is_refused_in_words(client, files):
    for each in files:
        each.seek(0)

    answer = client.post(reverse("start-open"), {"files": files})

    assert answer.status_code == 422
    assert 'role="alert"' in answer.content.decode()
    assert not Garden.objects.exists()


def test_an_export_is_opened(client, demo):
    from bedwright.web.taking_out import take_out

    made = io.BytesIO()
    take_out(demo, made, datetime(2026, 11, 25, tzinfo=UTC))

    answer = client.post(
        reverse("start-open"), {"files": [SimpleUploadedFile("g.zip", made.getvalue())]}
    )

    assert answer.url == reverse("today")
    assert Garden.objects.count() == 2


@pytest.mark.parametrize(
    ("typed", "stated"),
    [("46.2", "46.2 deg"), ("-33.9", "-33.9 deg"), ("46.2 N", "46.2 N"), ("", None)],
)
def test_a_position_is_taken_as_a_map_gives_it(client, typed, stated):
    go(client, "place", **{**PLACE, "latitude": typed})
    go(client, "beds", **BEDS)
    go(client, "crops", **CROPS)

    client.post(reverse("start-garden", args=["look"]), {"then": "later"})

    place = tomllib.loads(Garden.objects.get().standing.text)["garden"]
    assert place.get("latitude") == stated
