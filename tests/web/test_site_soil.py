"""The soil page and the form that takes a paper report's numbers."""

import tomllib

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

pytestmark = pytest.mark.django_db


def form_of(page) -> dict[str, object]:
    """What a browser would send back from the form as it stands."""
    sent: dict[str, object] = {
        "read_from": page.context["read_from"],
        "was": page.context["was"],
        "beds": [name for name, _, ticked in page.context["beds"] if ticked],
    }
    for name, field in page.context["fields"].items():
        sent[name] = field.value
        if field.unit:
            sent[f"{name}_unit"] = field.unit
    for row in [*page.context["rows"], *page.context["others"]]:
        sent |= {f"of_{row.at}": row.of, f"analyte_{row.at}": row.analyte,
                 f"value_{row.at}": row.value, f"unit_{row.at}": row.unit,
                 f"method_{row.at}": row.method}  # fmt: skip
    return sent


def row_of(page, key: str):
    return next(each for each in page.context["rows"] if each.key == key)


def typed(page, key: str, value: str, unit: str = "", method: str = "") -> dict[str, str]:
    row = row_of(page, key)
    assert not unit or unit in row.units
    assert not method or method in dict(row.methods)
    return {f"value_{row.at}": value, f"unit_{row.at}": unit, f"method_{row.at}": method}


def paper(client, **more) -> dict[str, object]:
    page = client.get(reverse("soil-report-new"))
    return form_of(page) | {
        "beds": ["E9"], "sampled": "2026-11-02", "depth": "12", "lab": "A laboratory",
        **typed(page, "ph", "7.40", method="Water, 1 soil : 1 water"),
        **typed(page, "phosphorus", "18", "ppm", "Olsen (0.5 M sodium bicarbonate, pH 8.5)"),
        **typed(page, "ec", "0.9", "mmho/cm", "Saturated paste or its extract"),
        **more,
    }  # fmt: skip


def test_every_report_is_told_with_its_classes_and_sources(client, planned):
    page = client.get(reverse("soil")).content.decode()

    for each in ("west upper, fall 2026", "As printed", "classes and source", "Olsen"):
        assert each in page


def test_a_paper_report_is_saved_as_it_is_printed(client, planned):
    answer = client.post(reverse("soil-report-new"), paper(client))
    planned.refresh_from_db()

    assert answer.status_code == 302
    made = tomllib.loads(planned.standing.text)["soil_report"][-1]
    assert made["beds"] == ["E9"]
    assert made["depth"] == "12 in"
    assert made["id"] == "A laboratory 2026-11-02"
    assert made["results"] == [
        {"analyte": "Soil reaction (pH)", "value": "7.40", "method": "Water, 1 soil : 1 water"},
        {"analyte": "Soluble salts (electrical conductivity)", "value": 0.9, "unit": "mmho/cm",
         "method": "Saturated paste or its extract"},
        {"analyte": "Phosphorus", "value": 18, "unit": "ppm",
         "method": "Olsen (0.5 M sodium bicarbonate, pH 8.5)"},
    ]  # fmt: skip
    assert "E9" in client.get(reverse("soil")).content.decode()


def test_each_wrong_row_says_so_and_keeps_what_was_typed(client, planned):
    page = client.get(reverse("soil-report-new"))
    sent = paper(client) | typed(page, "ph", "74") | typed(page, "phosphorus", "lots", "ppm")
    sent |= typed(page, "potassium", "<10", "ppm", "Mehlich 3") | {"depth": "deep"}

    answer = client.post(reverse("soil-report-new"), sent)
    planned.refresh_from_db()

    assert answer.status_code == 422
    assert planned.standing.number == 1
    assert row_of(answer, "ph").faults
    assert "lots" in row_of(answer, "phosphorus").faults[0]
    assert "below a limit" in row_of(answer, "potassium").faults[0]
    assert not row_of(answer, "ec").faults
    assert row_of(answer, "phosphorus").value == "lots"
    assert answer.context["fields"]["depth"].faults


def test_a_value_that_means_nothing_without_its_method_asks_for_it(client, planned):
    page = client.get(reverse("soil-report-new"))

    answer = client.post(
        reverse("soil-report-new"), paper(client) | typed(page, "phosphorus", "18", "ppm")
    )

    assert "method" in row_of(answer, "phosphorus").faults[0]


def test_reports_saved_as_they_stand_change_nothing(client, planned):
    for at in range(len(tomllib.loads(planned.standing.text)["soil_report"])):
        page = client.get(reverse("soil-report", args=[at]))
        answer = client.post(reverse("soil-report", args=[at]), form_of(page))
        assert answer.status_code == 302, answer.context["paper"].faults
    planned.refresh_from_db()

    assert planned.standing.number == 1


def test_a_correction_touches_its_own_line(client, planned):
    before = planned.standing.text.splitlines()
    page = client.get(reverse("soil-report", args=[0]))
    ph = row_of(page, "ph")

    client.post(reverse("soil-report", args=[0]), form_of(page) | {f"value_{ph.at}": "7.7"})
    planned.refresh_from_db()

    after = planned.standing.text.splitlines()
    changed = [(a, b) for a, b in zip(before, after, strict=True) if a != b]
    assert len(changed) == 1
    assert "7.7" in changed[0][1] and "1:1 soil:water" in changed[0][1]


def test_a_line_emptied_is_a_line_gone_and_a_report_can_be_taken_out(client, planned):
    page = client.get(reverse("soil-report", args=[0]))
    boron = row_of(page, "boron")
    count = len(tomllib.loads(planned.standing.text)["soil_report"][0]["results"])
    client.post(reverse("soil-report", args=[0]), form_of(page) | {f"value_{boron.at}": ""})
    planned.refresh_from_db()
    assert len(tomllib.loads(planned.standing.text)["soil_report"][0]["results"]) == count - 1

    reports = len(tomllib.loads(planned.standing.text)["soil_report"])
    client.post(reverse("soil-report-remove", args=[0]), {"read_from": planned.standing.pk})
    planned.refresh_from_db()
    assert len(tomllib.loads(planned.standing.text)["soil_report"]) == reports - 1


def test_who_saves_over_anothers_change_is_told_and_loses_no_word(client, planned):
    from bedwright.garden.edit import set_field
    from bedwright.web.documents import save_revision

    sent = paper(client, note="My own words.")
    text = set_field(planned.standing.text, ("garden", "note"), "Another's words.")
    save_revision(planned, text, read_from=planned.standing.pk, change="another's", user=None)

    answer = client.post(reverse("soil-report-new"), sent)

    assert answer.status_code == 422
    page = answer.content.decode()
    assert "My own words." in page and "Another&#x27;s words." in page
    again = client.post(reverse("soil-report-new"), form_of(answer))
    planned.refresh_from_db()
    assert again.status_code == 302
    assert "My own words." in planned.standing.text
    assert "Another's words." in planned.standing.text


def test_a_file_from_the_laboratory_fills_the_form_row_by_row(client, planned):
    rows = (b"analyte,value,unit,extractant\npH,7.1,,1:1 soil:water\nOlsen P,31,ppm,\n"
            b"Moonshine,3,ppm,Olsen\nPotassium,many,ppm,ammonium acetate\n")  # fmt: skip
    sent = paper(client) | {"read_file": "yes", "file": SimpleUploadedFile("lab.csv", rows)}

    answer = client.post(reverse("soil-report-new"), sent)

    assert row_of(answer, "ph").value == "7.1"
    assert row_of(answer, "phosphorus").analyte == "Olsen P"
    assert "many" in row_of(answer, "potassium").faults[0]
    assert any(each.analyte == "Moonshine" and each.faults for each in answer.context["rows"])
    assert answer.context["fields"]["lab"].value == "A laboratory"


@pytest.mark.parametrize(
    "content", [b"\xff\xfe\x00", b"a,b\n1,2\n", b"", b"analyte,value,unit,extractant\n"]
)
def test_a_file_that_is_no_report_is_refused_in_words(client, planned, content):
    sent = paper(client) | {"read_file": "yes", "file": SimpleUploadedFile("x.csv", content)}

    answer = client.post(reverse("soil-report-new"), sent)

    assert answer.context["file_faults"] or answer.context["paper"].faults


def test_one_analyte_by_two_methods_gets_two_rows(client, planned):
    sent = paper(client) | {"more": "yes", "more_of": "phosphorus"}

    answer = client.post(reverse("soil-report-new"), sent)

    assert len([each for each in answer.context["rows"] if each.key == "phosphorus"]) == 2
