"""The forms of what a bed offers its crops, and of a second crop that shares it."""

import pytest
from django.urls import reverse
from forms_sent import form_of

from bedwright.web.part_forms import items

pytestmark = pytest.mark.django_db


def beds(garden) -> list[dict[str, object]]:
    garden.refresh_from_db()
    return items(garden.standing.text, "bed")


def test_a_bed_is_split_in_halves_and_gets_a_trellis(client, bare):
    before = beds(bare)[0]
    sent = {**form_of(client, "bed-form", 0), "parts": "2", "trellis": "yes"}

    answer = client.post(reverse("bed-form", args=[0]), sent)

    assert answer.status_code == 302
    assert beds(bare)[0] == {**before, "parts": 2, "trellis": True}


def test_a_bed_saved_as_it_stands_changes_no_letter(client, bare):
    before = bare.standing
    for at in (0, len(beds(bare)) - 1):
        assert client.post(
            reverse("bed-form", args=[at]), form_of(client, "bed-form", at)
        ).status_code == 302  # fmt: skip
    bare.refresh_from_db()

    assert bare.standing == before


@pytest.mark.parametrize("parts", ["", "0", "13", "half"])
def test_a_bed_has_one_part_to_twelve(client, bare, parts):
    before = bare.standing
    sent = {**form_of(client, "bed-form", 0), "parts": parts}

    answer = client.post(reverse("bed-form", args=[0]), sent)
    bare.refresh_from_db()

    assert answer.status_code == 422
    assert bare.standing == before


def test_new_beds_are_not_made_here(client, bare):
    assert client.get(reverse("bed-form", args=["new"])).status_code == 404
    assert client.post(reverse("bed-form", args=["new"]), {"parts": "2"}).status_code == 404


def test_a_second_crop_shares_the_bed_and_an_unknown_one_is_told_at_its_field(client, bare):
    sent = form_of(client, "want", 0)
    wrong = client.post(reverse("want", args=[0]), {**sent, "companion": "moonflower pie"})
    assert wrong.status_code == 422
    assert "moonflower pie" in wrong.content.decode()

    right = client.post(reverse("want", args=[0]), {**sent, "companion": "basil"})

    assert right.status_code == 302
    bare.refresh_from_db()
    assert items(bare.standing.text, "want")[0]["companion"] == "basil"
