"""The spreadsheet on the site: the page that tells of it, and the file."""

import io
import re

import pytest
from django.urls import reverse
from python_calamine import CalamineWorkbook
from small_site import AS_OF, replan, small_garden, small_text

from bedwright.web.documents import make_garden

pytestmark = pytest.mark.django_db


@pytest.fixture
def garden(monkeypatch):
    monkeypatch.setenv("BEDWRIGHT_AS_OF", AS_OF)
    return small_garden()


def test_the_page_leads_to_the_file_and_the_file_is_the_plans(client, garden):
    page = client.get(reverse("spreadsheet")).content.decode()
    assert reverse("spreadsheet-file") in page
    assert page.count("<dt>") == 7

    sent = client.get(reverse("spreadsheet-file"))

    assert sent["Content-Type"].endswith("spreadsheetml.sheet")
    assert sent["Content-Disposition"] == f'attachment; filename="small-{AS_OF}.xlsx"'
    book = CalamineWorkbook.from_filelike(io.BytesIO(sent.content))
    heads, *rows = book.get_sheet_by_name("Tasks").to_python()
    states = [row[heads.index("State")] for row in rows]
    assert "planned" in states and "done" in states
    assert client.get(reverse("spreadsheet-file")).content == sent.content


def test_what_was_done_since_is_laid_anew_before_the_file_is_given(client, garden):
    week = client.get(reverse("week"), {"on": AS_OF}).content.decode()
    key = re.search(r'name="page" value="([^"]+)"', week)[1]
    fields = {"page": key, "on": AS_OF, "day": AS_OF, "task": "B/carrot/clear/1"}
    assert client.post(reverse("week-done"), fields).status_code == 302

    sent = client.get(reverse("spreadsheet-file"))
    assert (sent.status_code, sent["Location"]) == (302, reverse("spreadsheet"))
    page = client.get(reverse("spreadsheet")).content.decode()
    assert reverse("spreadsheet-file") not in page and "made anew" in page
    replan(garden, "work")

    sent = client.get(reverse("spreadsheet-file"))
    book = CalamineWorkbook.from_filelike(io.BytesIO(sent.content))
    heads, *rows = book.get_sheet_by_name("Tasks").to_python()
    (row,) = [
        row
        for row in rows
        if [row[heads.index(each)] for each in ("Bed", "Crop", "Task")] == ["B", "carrot", "clear"]
    ]
    assert row[heads.index("State")] == "done"


def test_while_no_plan_is_made_the_page_says_so(client, monkeypatch):
    monkeypatch.setenv("BEDWRIGHT_AS_OF", AS_OF)
    make_garden(small_text(7), "Small", None, change="made")  # not planned by others

    page = client.get(reverse("spreadsheet")).content.decode()

    assert reverse("spreadsheet-file") not in page and "Working out the plan" in page
    assert client.get(reverse("spreadsheet-file"))["Location"] == reverse("spreadsheet")
