"""The record of the beds on the site: the document and the journal, each act once."""

from __future__ import annotations

import csv
import io
import re

import pytest
from django.urls import reverse

pytestmark = pytest.mark.django_db


@pytest.fixture
def written(client, demo):
    for fields in (
        {"what": "spread", "material": "gypsum", "pounds": "4", "ounces": "2"},
        {"what": "worked", "words": "=1+1"},
    ):
        sent = {"kind": "did", "bed": "W2", "on": "2026-11-24", **fields,
                "note": fields.get("words", "")}  # fmt: skip
        sent["id"] = "00000000-0000-4000-8000-0000000000" + ("01" if "material" in sent else "02")
        assert client.post("/journal/write/", sent).status_code == 302
    return demo


def test_the_page_tells_a_beds_acts_with_their_source(client, written):
    page = client.get(reverse("bed_record"), {"bed": "W2"}).content.decode()
    text = re.sub(r"\s+", " ", re.sub("<[^>]+>", " ", page))

    assert "Record of bed W2" in text
    assert "November 24, 2026" in text and "Spread: gypsum, 4 lb 2 oz" in text
    assert "garden document" in text and "journal" in text
    assert 'href="/bed/W3/"' not in page.split("<main")[1].split("</main")[0]


def test_files_hold_the_same_and_no_formula(client, written):
    asked = {"bed": "W2"}
    text = client.get(reverse("bed-record-text"), asked)
    table = client.get(reverse("bed-record-csv"), asked)

    assert text["Content-Type"] == "text/plain; charset=utf-8"
    assert "Spread: gypsum, 4 lb 2 oz (journal)" in text.content.decode()
    rows = list(csv.DictReader(io.StringIO(table.content.decode("utf-8-sig"))))
    assert {each["bed"] for each in rows} == {"W2"}
    assert [each["note"] for each in rows if each["act"] == "Worked"] == ["'=1+1"]
    assert table["Content-Disposition"].startswith("attachment; filename=")


def test_what_is_taken_back_is_not_told_and_an_unknown_bed_is_not_there(client, written):
    key = "00000000-0000-4000-8000-000000000001"
    client.post(reverse("journal-undo", args=[key]))

    page = client.get(reverse("bed-record-text"), {"bed": "W2"}).content.decode()
    assert "4 lb 2 oz" not in page
    assert client.get(reverse("bed_record"), {"bed": "Z9"}).status_code == 404
