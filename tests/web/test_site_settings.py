"""Settings: place and limits, language, which garden, revisions, the document as text."""

import tomllib

import pytest
from django.conf import settings as site
from django.urls import reverse

pytestmark = pytest.mark.django_db


def form_of(page) -> dict[str, object]:
    sent: dict[str, object] = {"read_from": page.context["read_from"]}
    for name, field in page.context["fields"].items():
        if field.kind != "check" or field.value == "yes":
            sent[name] = field.value
        if field.unit:
            sent[f"{name}_unit"] = field.unit
    return sent


def test_settings_saved_as_they_stand_change_nothing(client, planned):
    answer = client.post(reverse("settings"), form_of(client.get(reverse("settings"))))
    planned.refresh_from_db()

    assert answer.status_code == 302
    assert planned.standing.number == 1


def test_settings_are_saved_line_by_line(client, planned):
    before = tomllib.loads(planned.standing.text)
    sent = form_of(client.get(reverse("settings")))
    sent |= {"elevation": "1,5", "elevation_unit": "m", "budget": "75", "most_materials": "3",
             "organic_only": "yes", "avoid": "blood meal, bone meal", "note": ""}  # fmt: skip

    assert client.post(reverse("settings"), sent).status_code == 302
    planned.refresh_from_db()

    after = tomllib.loads(planned.standing.text)
    assert after["garden"]["elevation"] == "1.5 m"
    assert "note" not in after["garden"]
    assert after["limits"]["budget"] == "75 USD"
    assert after["limits"]["most_materials"] == 3
    assert after["limits"]["organic_only"] is True
    assert after["limits"]["avoid"] == ["blood meal", "bone meal"]
    assert {k: v for k, v in after.items() if k not in ("garden", "limits")} == {
        k: v for k, v in before.items() if k not in ("garden", "limits")
    }


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"latitude": "north"}, "latitude"),
        ({"latitude": "99 N"}, "latitude"),
        ({"name": ""}, "name"),
        ({"most_materials": "many"}, "most_materials"),
        ({"most_materials": "40"}, "most_materials"),
        ({"budget": "lots"}, "budget"),
        ({"elevation": "1,200"}, "elevation"),
        ({"time_zone": "Nowhere/Town"}, "time_zone"),
        ({"avoid": "moon dust"}, "avoid"),
    ],
)
def test_a_wrong_setting_is_told_at_its_field(client, planned, typed, field):
    answer = client.post(reverse("settings"), form_of(client.get(reverse("settings"))) | typed)
    planned.refresh_from_db()

    assert answer.status_code == 422
    assert field in answer.context["paper"].faults
    assert planned.standing.number == 1
    assert answer.context["fields"][field].value == next(iter(typed.values()))


def test_the_document_is_edited_as_text_and_faults_are_told_by_line(client, planned):
    page = client.get(reverse("document"))
    sent = {"read_from": page.context["read_from"]}
    lines = page.context["text"].split("\n")
    at = next(n for n, line in enumerate(lines) if line.startswith("length = "))
    wrong = "\r\n".join([*lines[:at], 'length = "50 fm"', *lines[at + 1 :]])

    answer = client.post(reverse("document"), {**sent, "text": wrong})
    assert answer.status_code == 422
    fault, line = answer.context["numbered"][0]
    assert fault.line == at + 1 and line == 'length = "50 fm"'
    assert answer.context["text"] == wrong.replace("\r\n", "\n")

    right = "\r\n".join([*lines[:at], 'length = "49 ft"', *lines[at + 1 :]])
    assert client.post(reverse("document"), {**sent, "text": right}).status_code == 302
    planned.refresh_from_db()
    assert planned.standing.text == right.replace("\r\n", "\n")


def test_a_text_written_over_anothers_change_is_kept_and_told(client, planned):
    page = client.get(reverse("document"))
    read_from, text = page.context["read_from"], page.context["text"]
    client.post(reverse("document"), {"read_from": read_from, "text": text + "\n# first\n"})

    answer = client.post(reverse("document"), {"read_from": read_from, "text": text + "\n# mine\n"})

    assert answer.status_code == 422
    assert answer.context["text"].endswith("# mine\n")
    assert "+# first" in answer.context["paper"].meanwhile


def test_going_back_saves_the_old_text_as_the_newest(client, planned):
    first = planned.standing.text
    page = client.get(reverse("document"))
    client.post(
        reverse("document"), {"read_from": page.context["read_from"], "text": first + "# more\n"}
    )
    planned.refresh_from_db()
    held = client.get(reverse("revision", args=[1]))
    assert "+# more" in held.context["since"]

    client.post(reverse("revision", args=[1]), {"read_from": planned.standing.pk})
    planned.refresh_from_db()

    assert planned.standing.number == 3
    assert planned.standing.text == first
    assert client.get(reverse("revision", args=[99])).status_code == 404
    assert client.get(reverse("revisions")).content.decode().count("<tr>") == 4


def test_the_document_is_downloaded_whole(client, planned):
    answer = client.get(reverse("document-file"))

    assert answer.content.decode() == planned.standing.text
    assert answer["Content-Disposition"] == 'attachment; filename="kestrel-bend.toml"'


def test_another_language_and_another_garden_are_chosen(client, planned):
    from bedwright.web.documents import make_garden

    other = make_garden(planned.standing.text.replace("Kestrel Bend", "Second"), "", None,
                        files={f.name: bytes(f.content) for f in planned.files.all()},
                        change="opened")  # fmt: skip
    client.post(reverse("settings-choose"), {"garden": other.pk})
    assert client.session["garden"] == other.pk
    assert client.post(reverse("settings-choose"), {"garden": "x"}).status_code == 404

    page = client.get(reverse("settings")).content.decode()
    assert reverse("language") in page
    answer = client.post(reverse("language"), {"language": "es", "next": reverse("settings")})
    assert answer.url == reverse("settings")
    assert answer.cookies[site.LANGUAGE_COOKIE_NAME].value == "es"
