"""The journal's pages: written once, changed with a history, taken back, counted in."""

from __future__ import annotations

import io
import json
import re
import uuid
from datetime import date

import pytest
from django.urls import reverse

from bedwright.web.models import Entry, EntryHistory, Photograph

pytestmark = pytest.mark.django_db
KG = 0.45359237


def sent(**fields: str) -> dict[str, str]:
    return {"kind": "did", "what": "spread", "bed": "W2", "on": "2026-11-24",
            "material": "gypsum", "pounds": "4", "ounces": "2", "id": str(uuid.uuid4()),
            **fields}  # fmt: skip


def queued(kind: str = "did", key: str | None = None, revision: int | None = None, **fields):
    given = {"what": "spread", "bed": "W2", "on": "2026-11-24", "material": "gypsum",
             "pounds": "4"} if kind == "did" and not fields.get("what") else {}  # fmt: skip
    return {"id": key or str(uuid.uuid4()), "kind": kind, "revision": revision,
            "fields": {**given, "on": "2026-11-24", **fields}}  # fmt: skip


def send(client, *entries, **more):
    answer = client.post(
        reverse("journal-send"), json.dumps({"entries": entries, **more}), "application/json"
    )
    return answer.json()["results"] if answer.status_code == 200 else answer


def on_hand(garden, material: str = "gypsum") -> float:
    from bedwright.web.standing import standing_of

    standing = standing_of(garden)
    return sum(
        each.on_hand.si
        for at, each in enumerate(standing.document.garden.stock)
        if standing.document.keys[("stock", at, "material")] == material
    )


def test_an_entry_is_written_by_a_plain_form_and_stands_in_the_journal(client, demo):
    answer = client.post("/journal/write/", sent(), follow=True)

    assert "Written down: Spread 4 lb 2 oz gypsum." in answer.content.decode()
    page = client.get("/journal/?bed=W2").content.decode()
    assert "Spread 4 lb 2 oz gypsum" in page and "Tuesday, November 24, 2026" in page
    assert "Spread" not in client.get("/journal/?bed=W3").content.decode().split("</nav>")[-1]


def test_a_form_that_is_sent_twice_is_kept_once_and_other_words_are_not_lost(client, demo):
    form = sent()
    client.post("/journal/write/", form)
    client.post("/journal/write/", form)
    other = client.post("/journal/write/", {**form, "pounds": "9"})

    assert Entry.objects.count() == 1 and EntryHistory.objects.count() == 1
    assert other.status_code == 409 and 'value="9"' in other.content.decode()


def test_what_is_wrong_stands_at_the_field_and_what_was_typed_stays(client, demo):
    answer = client.post("/journal/write/", sent(pounds="", ounces="", note="in the rain"))
    page = answer.content.decode()

    assert answer.status_code == 422 and Entry.objects.count() == 0
    assert "The amount is missing." in page and 'role="alert"' in page
    assert "in the rain" in page and '<option value="gypsum" selected>' in page


def test_what_was_spread_leaves_the_shed_and_undo_brings_it_back(client, demo):
    before = on_hand(demo)
    client.post("/journal/write/", sent())
    entry = Entry.objects.get()
    spread = on_hand(demo)
    client.post(reverse("journal-undo", args=[entry.pk]))
    back = on_hand(demo)
    client.post(reverse("journal-restore", args=[entry.pk]))

    assert before - spread == pytest.approx((4 + 2 / 16) * KG)
    assert (back, on_hand(demo)) == (before, spread)
    assert list(entry.history.values_list("what", flat=True)) == ["made", "undone", "restored"]


def test_a_note_asks_for_no_new_plan_and_a_spreading_does(client, planned):
    from bedwright.web.standing import standing_of

    before = standing_of(planned).key
    client.post("/journal/write/", sent(kind="saw", what="weather", note="hail", material="",
                                        pounds="", ounces=""))  # fmt: skip
    noted = standing_of(planned).key
    client.post("/journal/write/", sent())

    assert Entry.objects.count() == 2
    assert before == noted != standing_of(planned).key


def test_a_change_keeps_what_stood_before(client, demo):
    client.post("/journal/write/", sent())
    entry = Entry.objects.get()
    form = sent(id=str(entry.pk), revision="1", pounds="5", ounces="")
    client.post(reverse("journal-entry", args=[entry.pk]), form)
    entry.refresh_from_db()
    page = client.get(reverse("journal-entry", args=[entry.pk])).content.decode()

    assert entry.revision == 2 and entry.data["amount"] == "5 lb"
    assert "Before: bed W2, 2026-11-24: Spread 4 lb 2 oz gypsum." in page
    assert entry.history.last().before["amount"] == "4 lb 2 oz"


def test_two_who_change_the_same_entry_are_told_and_neithers_words_are_lost(client, demo):
    client.post("/journal/write/", sent())
    entry = Entry.objects.get()
    address = reverse("journal-entry", args=[entry.pk])
    client.post(address, sent(id=str(entry.pk), revision="1", note="from the first"))
    second = client.post(address, sent(id=str(entry.pk), revision="1", note="from the second"))
    page = second.content.decode()

    assert second.status_code == 409
    assert "from the first" in page and "from the second" in page
    assert 'name="revision" value="2"' in page
    client.post(address, sent(id=str(entry.pk), revision="2", note="from the second"))
    entry.refresh_from_db()
    assert entry.data["note"] == "from the second"
    assert entry.history.last().before["note"] == "from the first"


# The queue ------------------------------------------------------------------------------------


def test_the_queue_is_kept_once_each_and_answered_one_by_one(client, demo):
    good, bad = queued(), queued(pounds="many")
    first = send(client, good, bad)
    second = send(client, good)

    assert [each["state"] for each in first] == ["saved", "refused"]
    assert first[0]["words"] == "Bed W2: Spread 4 lb gypsum."
    assert first[1]["faults"][0]["field"] == "amount"
    assert second[0]["state"] == "same" and Entry.objects.count() == 1


def test_other_words_under_a_known_id_are_a_conflict_unless_they_say_what_they_change(client, demo):
    key = str(uuid.uuid4())
    send(client, queued(key=key))
    silent = send(client, queued(key=key, pounds="9"))
    said = send(client, queued(key=key, pounds="9", revision=1))
    repeated = send(client, queued(key=key, pounds="9", revision=1))
    late = send(client, queued(key=key, pounds="7", revision=1))

    states = [each[0]["state"] for each in (silent, said, repeated, late)]
    assert states == ["conflict", "changed", "same", "conflict"]
    assert (late[0]["revision"], late[0]["standing"]) == (2, "Bed W2: Spread 9 lb gypsum.")


def test_the_queue_goes_to_the_garden_in_which_it_was_written(client, demo):
    from bedwright.web.documents import make_garden

    text = demo.standing.text
    files = {each.name: bytes(each.content) for each in demo.files.all()}
    other = make_garden(text, "Other", None, files=files, change="made")
    send(client, queued(), garden=other.pk)

    assert Entry.objects.get().garden == other
    assert send(client, queued(), garden=10**9).status_code == 410
    assert send(client, queued(), garden="none").status_code == 410


@pytest.mark.parametrize(
    "body", ["", "[]", "{}", '{"entries": 1}', '{"entries": [1]}', '{"entries": [{"id": "x"}]}',
             '{"entries": [{"fields": {}, "revision": "x"}]}', "[" * 100_000],
)  # fmt: skip
def test_what_is_no_queue_is_refused(client, demo, body):
    answer = client.post(reverse("journal-send"), body, "application/json")

    assert answer.status_code == 400 and Entry.objects.count() == 0


def test_an_entry_with_a_broken_id_or_kind_is_refused_alone(client, demo):
    found = send(client, queued(key="../x"), {**queued(), "kind": "dreamt"}, queued())

    assert [each["state"] for each in found] == ["refused", "refused", "saved"]


def test_the_queue_needs_the_pages_token(demo):
    from django.test import Client

    strict = Client(enforce_csrf_checks=True)
    refused = strict.post(reverse("journal-send"), "{}", "application/json")
    token = strict.get(reverse("journal-token")).json()["token"]
    taken = strict.post(reverse("journal-send"), json.dumps({"entries": [queued()]}),
                        "application/json", headers={"X-CSRFToken": token})  # fmt: skip

    assert refused.status_code == 403 and taken.json()["results"][0]["state"] == "saved"


def test_words_with_markup_are_shown_as_words(client, demo):
    client.post("/journal/write/", sent(kind="saw", what="note", material="", pounds="",
                                        ounces="", note="<script>alert(1)</script>"))  # fmt: skip
    key = Entry.objects.get().pk
    for address in ("/journal/", f"/journal/entry/{key}/"):
        page = client.get(address).content.decode()
        assert "<script>alert" not in page and "&lt;script&gt;alert" in page


# The plan -------------------------------------------------------------------------------------


def test_as_planned_is_one_touch_and_what_i_did_instead_comes_filled(client, planned, demo_plan):
    bed = next(each for each in demo_plan.beds if each.prescription.lines)
    line = next(each for each in bed.prescription.lines if each.preplant.value > 0)
    name = bed.prescription.bed.id
    page = client.get(f"/journal/write/?bed={name}").content.decode()
    shown = page[page.index('id="planned"') :]
    form = re.search(r"<form.*?</form>", shown, re.S)[0]
    fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))
    client.post("/journal/write/", fields)
    entry = Entry.objects.get()

    assert (entry.bed, entry.data["material"], entry.data["plan"]) == (
        name, line.material.key, "as planned",
    )  # fmt: skip
    instead = re.search(r'data-instead href="([^"]*)"', form)[1].replace("&amp;", "&")
    filled = client.get(instead).content.decode()
    assert f'<option value="{line.material.key}" selected>' in filled
    assert re.search(r'name="(pounds|ounces)" value="[\d.]+"', filled)
    assert 'name="plan" value="instead"' in filled


def test_the_evening_form_keeps_a_days_ticks_with_one_send_all_or_none(client, planned):
    page = client.get("/journal/evening/").content.decode()
    rows = re.findall(r'name="(b\d+r\d+)-entry" value="([^"]*)"', page)
    worked = [prefix for prefix, entry in rows if "what=worked" in entry][:2]
    fields = {f"{prefix}-entry": entry.replace("&amp;", "&") for prefix, entry in rows}
    first, second = worked
    ticks = {f"{first}-tick": "1", f"{first}-hours": "1 1/2", f"{second}-tick": "1",
             f"{second}-note": ""}  # fmt: skip
    refused = client.post("/journal/evening/", {"on": "2026-11-24", **fields, **ticks})
    nothing = client.post("/journal/evening/", {"on": "2026-11-24", **fields})

    assert refused.status_code == nothing.status_code == 422 and Entry.objects.count() == 0
    assert "Say what was done, or hours." in refused.content.decode()
    assert 'value="1 1/2"' in refused.content.decode()
    ticks[f"{second}-note"] = "hoed"
    for _ in range(2):
        client.post("/journal/evening/", {"on": "2026-11-24", **fields, **ticks})
    assert sorted(each.data.get("hours", 0) for each in Entry.objects.all()) == [0, 1.5]
    assert {each.on for each in Entry.objects.all()} == {date(2026, 11, 24)}


def test_the_evening_form_holds_what_was_planned_of_every_bed(client, planned, demo_plan):
    page = client.get("/journal/evening/").content.decode()

    for bed in demo_plan.beds:
        for line in bed.prescription.lines:
            assert f"bed={bed.prescription.bed.id}&amp;material={line.material.key}" in page
    assert page.count("name=") < 1500  # a form of more fields is refused


def test_an_amount_that_differs_from_the_plan_is_written_as_instead(client, planned):
    page = client.get("/journal/evening/").content.decode()
    prefix, entry = next(
        each for each in re.findall(r'name="(b\d+r\d+)-entry" value="([^"]*)"', page)
        if "what=spread" in each[1]
    )  # fmt: skip
    row = {"entry": entry.replace("&amp;", "&"), "tick": "1", "pounds": "77"}
    client.post("/journal/evening/", {f"{prefix}-{name}": word for name, word in row.items()})

    assert Entry.objects.get().data["plan"] == "instead"


# Photographs --------------------------------------------------------------------------------


def picture(width: int = 2400, height: int = 1200, form: str = "JPEG", mode: str = "RGB") -> bytes:
    from PIL import Image

    image = Image.new(mode, (width, height), (120, 60, 20, 128)[: len(mode)])
    exif = Image.Exif()
    exif[0x010F] = "A telephone"
    exif[0x0112] = 6  # turned by a quarter
    exif.get_ifd(0x8825).update({1: "N", 2: (46.0, 4.0, 0.0), 3: "W", 4: (119.0, 12.0, 0.0)})
    stream = io.BytesIO()
    more = {"exif": exif.tobytes()} if form in ("JPEG", "WEBP", "PNG") else {}
    if form == "JPEG":
        more["comment"] = b"taken at home"
    image.save(stream, form, **more)
    return stream.getvalue()


def upload(client, content: bytes, name: str = "../../p.jpg"):
    from django.core.files.uploadedfile import SimpleUploadedFile

    return client.post(reverse("journal-photograph"), {"photo": SimpleUploadedFile(name, content)})


@pytest.mark.parametrize(("form", "mode"), [("JPEG", "RGB"), ("PNG", "RGBA"), ("WEBP", "RGB")])
def test_a_photograph_is_made_smaller_and_all_that_was_written_in_it_is_gone(
    client, demo, form, mode
):
    from PIL import Image

    from bedwright.web.photographs import photograph_path

    digest = upload(client, picture(form=form, mode=mode)).json()["digest"]
    kept = photograph_path(digest).read_bytes()
    image = Image.open(io.BytesIO(kept))

    assert image.size == (800, 1600) and image.format == "JPEG"
    assert dict(image.getexif()) == {} and "comment" not in image.info
    assert b"Exif" not in kept and b"telephone" not in kept and b"home" not in kept
    found = send(client, queued("saw", what="photograph", photographs=digest, bed="W2"))
    assert found[0]["state"] == "saved"
    assert client.get(f"/journal/photograph/{digest}.jpg").content == kept
    assert f"/journal/photograph/{digest}.jpg" in client.get("/journal/").content.decode()


def test_the_same_photograph_is_kept_once(client, demo):
    first, second = (upload(client, picture()).json()["digest"] for _ in range(2))

    assert first == second and Photograph.objects.count() == 1


@pytest.mark.parametrize(
    "content", [b"", b"GIF89a", b"<svg/>", picture()[:2000], b"\xff\xd8\xff" + b"\0" * 500],
    ids=["empty", "a GIF's first letters", "a drawing", "half a picture", "rubbish"],
)  # fmt: skip
def test_what_is_no_photograph_is_refused_in_words(client, demo, content):
    answer = upload(client, content)

    assert answer.status_code in (400, 422) and Photograph.objects.count() == 0
    assert answer.json()["said"].endswith(".")


def test_a_picture_of_too_many_pixels_is_refused_before_it_is_opened(client, demo):
    import struct
    import zlib

    def part(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(
            ">I", zlib.crc32(kind + data))  # fmt: skip

    head = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0)
    bomb = b"\x89PNG\r\n\x1a\n" + part(b"IHDR", head) + part(b"IDAT", zlib.compress(b"\0" * 999))
    answer = upload(client, bomb + part(b"IEND", b""))

    assert answer.status_code == 422 and "more pixels" in answer.json()["said"]


def test_a_photograph_that_is_too_large_is_refused(client, demo, monkeypatch):
    from bedwright.web import photographs

    monkeypatch.setattr(photographs, "MOST_BYTES", 1000)
    assert upload(client, picture()).status_code == 422


def test_an_entry_with_a_photograph_that_never_came_is_refused(client, demo):
    found = send(client, queued("saw", what="photograph", photographs="a" * 64))

    assert found[0]["faults"][0]["field"] == "photographs"


def test_a_photographs_address_leads_nowhere_else(client, demo):
    for name in ("a" * 64, "..%2f..%2fsecret.key", "%00", "A" * 64):
        assert client.get(f"/journal/photograph/{name}.jpg").status_code == 404


def test_a_plain_form_brings_its_photograph(client, demo):
    from django.core.files.uploadedfile import SimpleUploadedFile

    form = sent(kind="saw", what="pest", note="on the leaves", material="", pounds="", ounces="")
    client.post("/journal/write/", {**form, "photo": SimpleUploadedFile("p.jpg", picture())})

    assert len(Entry.objects.get().data["photographs"]) == 1


# Rows --------------------------------------------------------------------------------------------


def test_the_journal_goes_out_and_comes_in_again_without_a_loss(client, demo):
    from bedwright.journal.tables import from_csv, from_json
    from bedwright.web.journal_tables import bring_in, history_rows, journal_rows

    client.post("/journal/write/", sent())
    send(client, queued("picked", crop="onion", count="12", of="bunches", bed="E1"))
    entry = Entry.objects.first()
    client.post(reverse("journal-undo", args=[entry.pk]))
    rows, history = journal_rows(demo), history_rows(demo)
    of_csv = from_csv(client.get("/journal/entries.csv").content.decode())
    of_json = from_json(client.get("/journal/entries.json").content.decode())
    assert of_csv == rows and of_json == (rows, history)

    Entry.objects.all().delete()
    assert bring_in(demo, rows, history).made == 2
    assert (journal_rows(demo), history_rows(demo)) == (rows, history)
    assert bring_in(demo, rows, history).there == 2


def test_rows_that_clash_are_refused_together(client, demo):
    from bedwright.journal import EntryError
    from bedwright.web.journal_tables import bring_in, journal_rows

    client.post("/journal/write/", sent())
    row = journal_rows(demo)[0]
    new = {**row, "id": str(uuid.uuid4())}
    with pytest.raises(EntryError) as refused:
        bring_in(demo, [new, {**row, "amount": "1 lb"}, {"kind": "did"}, {**new, "made_at": "x"}])

    assert Entry.objects.count() == 1 and len(refused.value.faults) >= 3


# Speed -------------------------------------------------------------------------------------------


def test_a_long_journal_is_counted_once_and_asks_for_few_queries(
    client, planned, django_assert_max_num_queries
):
    for start in range(0, 400, 100):
        send(client, *(queued("picked", crop="onion", pounds="2", bed="E1",
                              on=f"2026-0{1 + (start + n) % 9}-1{n % 10}")
                       for n in range(100)))  # fmt: skip
    client.get("/journal/")
    with django_assert_max_num_queries(16):
        page = client.get("/journal/").content.decode()

    assert page.count("Picked 2 lb onion") >= 60 and "Older" in page
