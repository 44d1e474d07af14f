"""The bed sheets from the pages: of one bed or of all, on paper and in language as the page is."""

from __future__ import annotations

import io

import pytest
from django.utils.translation import deactivate
from pypdf import PdfReader

from bedwright.sheets.paper import SheetError
from bedwright.units import UnitSystem
from bedwright.web import reached
from bedwright.web.standing import Standing
from bedwright.web.views import sheet

pytestmark = pytest.mark.django_db
NO_WEATHER = """\
format = 2
[garden]
name = "Without weather"
latitude = "46.2 N"
longitude = "119 W"
units = "US customary"
[[bed]]
id = "A"
length = "30 ft"
width = "4 ft"
kind = "in-ground"
texture = "silt loam"
[[want]]
crop = "sweet pepper"
beds = ["A"]
"""
LETTER_PT, A4_PT = (612, 792), (595, 842)


@pytest.fixture(autouse=True)
def _leave_no_language_behind():
    yield
    deactivate()


@pytest.fixture
def asked(monkeypatch):
    """What the typesetter is asked for, which it answers as ever."""
    seen: list[dict[str, object]] = []

    def noted(sheets, **given):
        seen.append(given)
        return printed(sheets, **given)

    printed = sheet.printed
    monkeypatch.setattr(sheet, "printed", noted)
    return seen


def pages(answer) -> list[str]:
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
    return [
        " ".join(each.extract_text().split())
        for each in PdfReader(io.BytesIO(answer.content)).pages
    ]


def size_pt(answer) -> tuple[int, int]:
    box = PdfReader(io.BytesIO(answer.content)).pages[0].mediabox
    return round(float(box.width)), round(float(box.height))


def test_a_beds_page_leads_to_its_sheet(client, planned):
    assert 'href="/bed/W2/sheet.pdf"' in client.get("/bed/W2/").content.decode()

    answer = client.get("/bed/W2/sheet.pdf")
    page, back = pages(answer)

    assert "Work in this bed, in order" in back

    assert "W2" in page and "Kestrel Bend" in page and "sweet pepper" in page.lower()
    assert answer["Content-Disposition"] == 'inline; filename="bed sheet W2.pdf"'
    assert size_pt(answer) == LETTER_PT


def test_the_garden_leads_to_the_sheets_of_all_beds_with_a_plan(client, planned, demo_plan):
    assert 'href="/sheets.pdf"' in client.get("/garden/").content.decode()

    found = pages(client.get("/sheets.pdf"))

    ids = [each.prescription.bed.id for each in demo_plan.beds]
    assert len(found) == 2 * len(ids) > 2  # a sheet has a back
    assert all(each in page for each, page in zip(ids, found[::2], strict=True))
    assert all(f"{each}, page 2" in page for each, page in zip(ids, found[1::2], strict=True))


def test_a_garden_in_metric_units_prints_on_a4(client, planned, monkeypatch):
    monkeypatch.setattr(Standing, "system", property(lambda self: UnitSystem.METRIC))

    answer = client.get("/bed/W2/sheet.pdf")

    assert size_pt(answer) == A4_PT
    assert " kg " in pages(answer)[0]


def test_the_sheet_speaks_the_language_of_the_page(client, planned):
    client.post("/language/", {"language": "es", "next": "/"})

    answer = client.get("/bed/W2/sheet.pdf")

    assert "pimiento" in pages(answer)[0].lower()
    assert PdfReader(io.BytesIO(answer.content)).trailer["/Root"]["/Lang"] == "es"


@pytest.mark.parametrize("bed", ["W7", "no-such-bed", "%2e%2e"])
def test_a_bed_without_a_crop_or_that_is_not_there_has_no_sheet(client, planned, bed: str):
    assert client.get(f"/bed/{bed}/sheet.pdf").status_code == 404
    assert "sheet.pdf" not in client.get("/bed/W7/").content.decode()


def test_while_there_is_no_plan_one_is_led_to_the_page_that_says_so(client, demo, monkeypatch):
    from bedwright.web import standing

    monkeypatch.setattr(standing, "stored_plan", lambda key: None)

    assert client.get("/bed/W2/sheet.pdf").url == "/bed/W2/"
    assert client.get("/sheets.pdf").url == "/garden/"
    assert "sheet.pdf" not in client.get("/bed/W2/").content.decode()
    assert "sheets.pdf" not in client.get("/garden/").content.decode()


def test_the_code_leads_to_the_name_by_which_the_page_was_called(client, planned, asked, settings):
    settings.ALLOWED_HOSTS = ["192.0.2.7"]

    client.get("/bed/W2/sheet.pdf", headers={"host": "192.0.2.7:8477"})

    assert asked[0]["address"] == "http://192.0.2.7:8477/"


@pytest.mark.parametrize(
    ("lan", "addresses", "leads_to"),
    [
        (True, ("192.0.2.7", "192.0.2.8"), "http://192.0.2.7:8477/"),
        (True, (), None),
        (False, ("192.0.2.7",), None),
    ],
)
@pytest.mark.parametrize("here", ["localhost", "127.0.0.1", "[::1]"])
def test_no_code_leads_a_telephone_to_itself(
    client, planned, asked, settings, monkeypatch, admin_user, here, lan, addresses, leads_to
):
    client.force_login(admin_user)
    settings.LAN = lan
    settings.ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]"]
    monkeypatch.setattr(reached, "own_addresses", lambda: addresses)

    client.get("/bed/W2/sheet.pdf", headers={"host": f"{here}:8477"})

    assert asked[0]["address"] == leads_to


def test_a_sheet_that_cannot_be_set_is_told_on_a_page(client, planned, monkeypatch):
    def fails(*_sheets, **_given):
        raise SheetError("the face is missing")

    monkeypatch.setattr(sheet, "printed", fails)

    answer = client.get("/bed/W2/sheet.pdf")

    assert answer.status_code == 500
    assert "The bed sheet cannot be printed." in answer.content.decode()


def test_without_a_day_or_weather_no_stand_in_is_printed_as_a_date(client, db):
    """Peppers were once told to go out on April 1, for the working counts from there."""
    from bedwright.season import season_plan
    from bedwright.web.documents import make_garden
    from bedwright.web.plan_store import keep_plan
    from bedwright.web.standing import standing_of, tables

    garden = make_garden(NO_WEATHER, "", None, change="made by a test")
    standing = standing_of(garden)
    plan = season_plan(standing.document, tables(), standing.as_of)
    keep_plan(standing.key, plan)
    (stand_in,) = (bed.nitrogen.set_out for bed in plan.beds)

    page = " ".join(pages(client.get("/bed/A/sheet.pdf")))
    today, drawn = (client.get(each).content.decode() for each in ("/", "/garden/"))

    assert (stand_in.month, stand_in.day) == (4, 1)
    assert "No planting date is known: write yours under Crops and dates." in page
    assert "April 1" not in page + today + drawn
    assert "No weather is known here" in client.get("/crops/").content.decode()

    stated = NO_WEATHER.replace('beds = ["A"]', 'beds = ["A"]\nset_out = 2027-05-15')
    garden = make_garden(stated, "", None, change="made by a test")
    standing = standing_of(garden)
    keep_plan(standing.key, season_plan(standing.document, tables(), standing.as_of))
    client.post("/settings/choose/", {"garden": str(garden.pk)})

    page = " ".join(pages(client.get("/bed/A/sheet.pdf")))

    assert "May 15" in page and "No planting date" not in page
