"""Reckon: a formula worked alone on a page gives what the engine gives, and says what is wrong."""

import pytest
from django.urls import reverse

from bedwright.reckon import formulas, reckon
from bedwright.reference import Library
from bedwright.reports.fill import figure
from bedwright.units import UnitSystem

pytestmark = pytest.mark.django_db


def filled(info) -> dict[str, str]:
    """The example of a formula as its form would send it."""
    sent: dict[str, str] = {}
    for key, text in info.example.items():
        kind, _ = info.inputs[key]
        number, _, unit = text.partition(" ")
        sent |= {key: text} if kind == "word" else {key: number, f"{key}-unit": unit}
    return sent


@pytest.mark.parametrize("info", formulas(), ids=lambda each: each.name)
def test_the_example_of_every_formula_is_worked_on_its_page(client, info):
    answer = client.get(reverse("formula", args=[info.name]), filled(info))

    assert answer.status_code == 200
    expected = figure(reckon(info.name, dict(info.example), Library()), UnitSystem.US)
    assert answer.context["answer"] == expected


def test_the_forms_own_first_values_are_the_example(client):
    info = next(each for each in formulas() if each.name == "relative_yield")
    page = client.get(reverse("formula", args=[info.name]))

    assert [each.value for each in page.context["fields"]] == [
        text.partition(" ")[0] for text in (info.example[key] for key in info.inputs)
    ]


def test_a_missing_input_is_named_and_what_was_typed_stays(client):
    page = client.get(
        reverse("formula", args=["relative_yield"]), {"ec_e": "4", "ec_e-unit": "dS/m", "slope": ""}
    )

    assert page.context["fields"][0].value == "4"
    assert any("threshold is missing" in each for each in page.context["faults"])


def test_formulas_are_found_by_a_word(client):
    found = client.get(reverse("reckon"), {"find": "gypsum"}).context["found"]

    assert 0 < len(found) < 10
    assert b"No formula holds" in client.get(reverse("reckon"), {"find": "zzz"}).content


def test_a_formula_that_is_not_there_is_not_found(client):
    assert client.get("/reckon/nothing/").status_code == 404
