"""The pages in Spanish: chosen at the foot, kept in the browser, one catalogue with the reports."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from django.template.defaultfilters import floatformat
from django.utils.translation import deactivate, override

from bedwright import web
from bedwright.charts.measure import unit_of
from bedwright.language import spoken, using
from bedwright.reports.words import CAUTIONS
from bedwright.season import SeasonPlan
from bedwright.units import UnitSystem, parse
from bedwright.web.forms_of_parts import number_and_unit
from bedwright.web.views.today import DONE_ON_A_DAY
from spoken_sheets import unseen_words

TEMPLATES = Path(web.__file__).parent / "templates" / "web"
pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _leave_no_language_behind():
    """The in-process client leaves the thread in the language of its last request."""
    yield
    deactivate()


def choose(client, code: str, leads_to: str = "/"):
    return client.post("/language/", {"language": code, "next": leads_to})


def test_a_language_is_chosen_at_the_foot_and_kept(client, demo):
    assert 'value="es" lang="es">Español</button>' in client.get("/").content.decode()

    answer = choose(client, "es", "/garden/")

    assert (answer.status_code, answer.url) == (302, "/garden/")
    page = client.get("/").content.decode()
    assert '<html lang="es">' in page and "Huerta" in page
    assert 'value="en-us" lang="en-us">English</button>' in page


def test_a_browser_that_asks_for_spanish_gets_it(client, demo):
    page = client.get("/", headers={"accept-language": "es-MX,es;q=0.9,en;q=0.5"})

    assert '<html lang="es">' in page.content.decode()


@pytest.mark.parametrize("code", ["fr", "", "../es", "es" * 200])
def test_a_language_that_is_not_there_changes_nothing(client, demo, code: str):
    choose(client, code)

    assert '<html lang="en-us">' in client.get("/").content.decode()


def test_choosing_leads_to_no_other_site_and_needs_a_form(client, demo):
    assert choose(client, "es", "https://elsewhere.invalid/").url == "/"
    assert client.get("/language/").status_code == 405


def test_reports_speak_as_the_page_does_and_only_for_that_request(client, planned, demo_plan):
    bed = next(
        each
        for each in demo_plan.beds
        if any(line.material.cautions for line in each.prescription.lines)
    )
    address = f"/bed/{bed.prescription.bed.id}/"
    caution = next(
        CAUTIONS[each.code] for line in bed.prescription.lines for each in line.material.cautions
    )
    before = client.get(address).content.decode()
    choose(client, "es")
    spanish = client.get(address).content.decode()
    choose(client, "en-us")

    assert spoken() == "en"
    assert caution in before and caution not in spanish
    assert "Nitrógeno: el cultivo necesita" in spanish and "Antes de plantar" in spanish
    assert "Nitrogen: the crop needs" in client.get(address).content.decode()


@pytest.mark.parametrize("page", ["/", "/garden/", "/journal/", "/soil/", "/shed/", "/crops/"])
def test_the_pages_answer_in_spanish(client, planned, page: str):
    choose(client, "es")
    answer = client.get(page)

    assert answer.status_code == 200
    assert 'lang="es"' in answer.content.decode()


def test_the_names_of_tasks_are_spanish_on_the_first_page(client, planned):
    choose(client, "es")
    page = client.get("/").content.decode()

    with override("en-us"):
        english = [str(each) for each in DONE_ON_A_DAY.values()]
    assert [each for each in english if f"<strong>{each}</strong>" in page] == []


def test_no_word_of_the_demos_sheets_escapes_the_catalogue(
    demo_plan: SeasonPlan, monkeypatch: pytest.MonkeyPatch
):
    assert unseen_words(demo_plan, monkeypatch) == set()


@pytest.mark.parametrize("system", list(UnitSystem))
@pytest.mark.parametrize(("text", "kind"), [("0.9144 m", "length"), ("7.5 cm", "depth")])
def test_what_a_field_holds_can_be_read_back_in_any_language(
    text: str, kind: str, system: UnitSystem
):
    stated = replace(parse(text, kind), text="as no field shows it")
    with using("es"):
        number, unit = number_and_unit(stated, kind, system)

    assert parse(f"{number} {unit}", kind).si == pytest.approx(stated.si, rel=5e-3)


def test_a_charts_unit_is_a_word_here_and_the_same_amount():
    english = unit_of("mass_per_area", UnitSystem.US)
    with using("es"):
        spanish = unit_of("mass_per_area", UnitSystem.US)

    assert (english[0], english[1], spanish[1]) == (spanish[0], "lb/100 ft2", "lb/100 pies2")


def test_numbers_keep_their_point_in_spanish():
    with override("es"):
        assert floatformat(1234.5, "2") == "1234.50"


def test_every_day_in_a_template_is_written_as_the_language_writes_it():
    english_only = [
        (path.name, found)
        for path in TEMPLATES.glob("*.html")
        for found in re.findall(r'\|date:"[^"]*[FMlND][^"]*"', path.read_text("utf-8"))
    ]

    assert english_only == [], 'write |date:_("F j, Y")'
