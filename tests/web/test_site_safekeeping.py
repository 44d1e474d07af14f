"""Backups read back, are thinned and restored; a garden goes out and comes in whole."""

from __future__ import annotations

import hashlib
import io
import json
import os
import shutil
import sqlite3
import subprocess
import sys
import zipfile
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from uuid import uuid4

import pytest

from bedwright.cli.main import run
from bedwright.web import backups
from bedwright.web.backup_reading import BackupError, verify
from bedwright.web.home import Home
from bedwright.web.in_use import use_alone

NOW = datetime(2026, 11, 28, 6, 0, tzinfo=UTC)
_MAKE = """
import os, sys
from pathlib import Path
from bedwright.web.serve import prepare
prepare(Path(os.environ["BEDWRIGHT_HOME"]), lambda step: None)
from bedwright.web.views.start import demo_garden
demo_garden()
from django.contrib.sessions.backends.db import SessionStore
store = SessionStore(); store["a"] = "signed in somewhere"; store.save()
"""


@pytest.fixture(scope="module")
def a_site(tmp_path_factory) -> Path:
    """A site's folder with the demo garden, made by a process of its own."""
    folder = tmp_path_factory.mktemp("made") / "home"
    environment = {**os.environ, "BEDWRIGHT_HOME": str(folder)}
    subprocess.run([sys.executable, "-c", _MAKE], check=True, env=environment)
    (folder / "photographs" / "one.jpg").write_bytes(b"\xff\xd8 the first leaf")
    (folder / "photographs" / "two.jpg").write_bytes(b"\xff\xd8 the second leaf")
    return folder


@pytest.fixture
def home(a_site, tmp_path) -> Home:
    shutil.copytree(a_site, tmp_path / "home")
    return Home(tmp_path / "home")


def rows(path: Path, asked: str) -> list[tuple]:
    with sqlite3.connect(path) as connection:
        return connection.execute(asked).fetchall()


def test_a_backup_holds_the_rows_and_photographs_but_no_session_and_no_key(home):
    made = backups.make(home, "asked", now=NOW)

    assert backups.kept(home)[0].sound
    with zipfile.ZipFile(made) as archive:
        assert "secret.key" not in " ".join(archive.namelist())
        copy = home.folder / "copy.sqlite3"
        copy.write_bytes(archive.read("bedwright.sqlite3"))
    text = "SELECT text FROM site_revision"
    assert rows(copy, text) == rows(home.database, text) != []
    assert rows(copy, "SELECT count(*) FROM django_session") == [(0,)]
    assert rows(home.database, "SELECT count(*) FROM django_session") == [(1,)]
    assert home.secret().encode() not in made.read_bytes()


def test_photographs_lie_once_by_content_beside_many_backups(home):
    for hours in range(3):
        backups.make(home, "day", now=NOW + timedelta(hours=hours))

    stored = sorted(each.name for each in (home.backups / "photographs").iterdir())
    wanted = sorted(
        hashlib.sha256(each.read_bytes()).hexdigest() for each in home.photographs.iterdir()
    )
    assert stored == wanted


def damage_database(home: Home, made: Path) -> None:
    with zipfile.ZipFile(made) as archive:
        held = {name: archive.read(name) for name in archive.namelist()}
    body = bytearray(held["bedwright.sqlite3"])
    body[9000] ^= 1
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in held.items():
            archive.writestr(name, bytes(body) if name.endswith("3") else content)


def damage_bytes(home: Home, made: Path) -> None:
    content = bytearray(made.read_bytes())
    content[len(content) // 2] ^= 0x10
    made.write_bytes(content)


def cut(home: Home, made: Path) -> None:
    made.write_bytes(made.read_bytes()[:-100])


def lose_photograph(home: Home, made: Path) -> None:
    next((home.backups / "photographs").iterdir()).unlink()


def change_photograph(home: Home, made: Path) -> None:
    next((home.backups / "photographs").iterdir()).write_bytes(b"another leaf")


@pytest.mark.parametrize(
    "harm", [damage_database, damage_bytes, cut, lose_photograph, change_photograph]
)
def test_a_harmed_backup_does_not_read_back_and_nothing_is_restored_from_it(home, harm, capsys):
    made = backups.make(home, "asked", now=NOW)
    harm(home, made)
    before = home.database.read_bytes()

    assert backups.read_back(home, made.name).fault
    with pytest.raises(BackupError):
        verify(made, home.backups)
    assert run(["restore", str(made), "--home", str(home.folder)]) == 2
    assert "Nothing was changed" in capsys.readouterr().err
    assert home.database.read_bytes() == before
    assert not list(home.folder.glob("before-restore-*"))


def test_restore_brings_back_the_day_keeps_the_rest_aside_and_refuses_beside_a_server(home, capsys):
    made = backups.make(home, "asked", now=NOW)
    with sqlite3.connect(home.database) as connection:
        connection.execute("UPDATE site_revision SET text = 'spoiled'")
    (home.photographs / "two.jpg").unlink()

    with use_alone(home):
        assert run(["restore", made.name, "--home", str(home.folder)]) == 2
        assert "stop that first" in capsys.readouterr().err
    assert run(["restore", made.name, "--home", str(home.folder)]) == 0

    assert rows(home.database, "SELECT text FROM site_revision") != [("spoiled",)]
    assert sorted(each.name for each in home.photographs.iterdir()) == ["one.jpg", "two.jpg"]
    (aside,) = home.folder.glob("before-restore-*")
    assert rows(aside / "bedwright.sqlite3", "SELECT text FROM site_revision") == [("spoiled",)]


def test_a_backup_on_a_stick_is_whole_in_itself(home, tmp_path, capsys):
    stick, other = tmp_path / "stick", tmp_path / "other"
    assert run(["backup", "--home", str(home.folder), "--to", str(stick)]) == 0
    shutil.rmtree(home.folder)

    (made,) = stick.glob("*.zip")
    assert run(["restore", str(made), "--home", str(other)]) == 0
    assert sorted(each.name for each in Home(other).photographs.iterdir()) == ["one.jpg", "two.jpg"]

    kept = backups.make(Home(other), "asked", now=NOW)
    whole = io.BytesIO()
    backups.whole(backups.named(Home(other), kept.name), whole)
    target = tmp_path / "downloaded.zip"
    target.write_bytes(whole.getvalue())
    assert len(verify(target, tmp_path).photographs) == 2


def test_a_cut_short_restore_and_a_damaged_database_are_not_served(home, monkeypatch):
    from bedwright.web.serve import NotToServeError, check_database

    monkeypatch.delenv("BEDWRIGHT_DATABASE", raising=False)
    made = backups.make(home, "asked", now=NOW)
    check_database(home, lambda step: None)
    (home.folder / "restore-under-way").mkdir()
    with pytest.raises(NotToServeError, match="cut short"):
        check_database(home, lambda step: None)
    (home.folder / "restore-under-way").rmdir()

    body = bytearray(home.database.read_bytes())
    body[8192:40960] = os.urandom(32768)
    home.database.write_bytes(body)
    with pytest.raises(NotToServeError, match="damaged") as told:
        check_database(home, lambda step: None)
    assert f"bedwright restore {made}" in str(told.value)
    assert home.database.read_bytes() == bytes(body)


def test_before_the_shape_changes_a_backup_is_made_and_a_newer_shape_is_refused(home, monkeypatch):
    from bedwright.web.serve import NotToServeError, check_database

    monkeypatch.delenv("BEDWRIGHT_DATABASE", raising=False)
    with sqlite3.connect(home.database) as connection:
        connection.execute("DELETE FROM django_migrations WHERE name = '0002_sign_in'")
    check_database(home, lambda step: None)
    assert len(backups.kept(home)) == 1

    with sqlite3.connect(home.database) as connection:
        connection.execute(
            "INSERT INTO django_migrations (app, name, applied) VALUES ('site', '9999_later', 0)"
        )
    with pytest.raises(NotToServeError, match="newer"):
        check_database(home, lambda step: None)


def test_the_rule_of_what_is_kept(tmp_path):
    start = datetime(2025, 1, 1, 6, tzinfo=UTC)
    found = [
        backups.Backup(Path(f"{day:04d}-{hour}"), start + timedelta(days=day, hours=hour), 1,
                       start, "")
        for day in range(697) for hour in (0, 7)
    ][::-1]  # fmt: skip
    now = found[0].made_at
    kept = backups.to_keep(found, now)

    days = {each.made_at.date() for each in kept}
    assert {(now - timedelta(days=back)).date() for back in range(14)} <= days
    assert len([each for each in kept if now - each.made_at <= timedelta(days=2)]) == 4 + 1
    weeks = {each.made_at.isocalendar()[:2] for each in kept}
    assert {(now - timedelta(weeks=back)).isocalendar()[:2] for back in range(8)} <= weeks
    months = sorted({(each.made_at.year, each.made_at.month) for each in kept})
    assert months == [(2025, 12), *((2026, month) for month in range(1, 12))]
    assert len(kept) <= 5 + 14 + 8 + 12
    assert found[0] in kept


def test_a_site_that_slept_for_years_keeps_its_last_backup_and_one_that_fails_counts_for_no_day():
    old = backups.Backup(Path("old"), NOW - timedelta(days=900), 1, NOW, "")
    bad = backups.Backup(Path("bad"), NOW - timedelta(days=899, hours=3), 1, NOW, "damaged")

    assert backups.to_keep([bad, old], NOW) == [old]


def test_automatic_backups_come_once_a_day_and_a_fault_is_told(home, monkeypatch):
    from bedwright.web.daily_backups import last_fault, make_if_due

    day = timedelta(days=1)
    assert make_if_due(home, "start", timedelta(hours=1), NOW) is True
    assert make_if_due(home, "day", day, NOW + timedelta(hours=23)) is None
    assert make_if_due(home, "day", day, NOW + timedelta(hours=25)) is True

    def full(*_: object, **__: object) -> Path:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as broken:
        broken.setattr(backups, "make", full)
        assert make_if_due(home, "day", day, NOW + timedelta(days=3)) is False
    fault = last_fault(home)
    assert fault is not None and "No space left" in fault[1]
    assert make_if_due(home, "day", day, NOW + timedelta(days=3, hours=1)) is True
    assert last_fault(home) is None


# Out and in ---------------------------------------------------------------------------------------


@pytest.fixture
def written(demo, django_user_model):
    """The demo garden with revisions, a what-if, journal entries, their history, a photograph."""
    from PIL import Image

    from bedwright.web import entries
    from bedwright.web.documents import save_revision
    from bedwright.web.photographs import keep_photograph
    from bedwright.web.standing import standing_of

    ann = django_user_model.objects.create(username="ann")
    text = demo.standing.text.replace('budget = "450 USD"', 'budget = "500 USD"')
    save_revision(demo, text, read_from=demo.standing.pk, change="<b>budget</b>", user=ann)
    demo.revisions.create(number=None, text=text + "\n", change="what if", parent=demo.standing)
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "green").save(picture, "JPEG")
    kept = keep_photograph(demo, io.BytesIO(picture.getvalue()), len(picture.getvalue()))
    standing = standing_of(demo)
    bed = standing.document.garden.bed[0].id
    for at in range(3):
        sent = {"id": str(uuid4()), "kind": "saw", "on": "2026-11-20", "bed": bed,
                "what": "pest", "note": f"=mites {at} on “leaves”",
                "photographs": [kept.digest] if at == 0 else []}  # fmt: skip
        saved = entries.save_entry(standing, sent, ann)
        if at:
            entries.save_entry(standing, {**sent, "note": "gone"}, ann, revision=1)
        if at == 2:
            entries.undo(saved.entry, ann)
    return demo


def taken_out(garden) -> dict[str, bytes]:
    from bedwright.web.taking_out import take_out

    stream = io.BytesIO()
    take_out(garden, stream, NOW)
    with zipfile.ZipFile(stream) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def zipped(files: dict[str, bytes]) -> io.BytesIO:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
    stream.seek(0)
    return stream


def gone(garden) -> None:
    """Take a garden from the database, as if this were another site."""
    garden.standing = None
    garden.save()
    garden.delete()


def test_nothing_is_lost_on_the_way_out_and_in(written, django_user_model):
    from bedwright.web.photographs import photograph_path
    from bedwright.web.taking_in import take_in

    first = taken_out(written)
    gone(written)
    django_user_model.objects.all().delete()
    (digest,) = (Path(name).stem for name in first if name.startswith("photographs/"))
    photograph_path(digest).unlink()

    again = take_in(zipped(first))

    assert again.standing.number == 2
    assert taken_out(again) == first
    assert len(json.loads(first["journal/entries.json"])["history"]) == 6
    assert not django_user_model.objects.get(username="ann").has_usable_password()
    assert not django_user_model.objects.get(username="ann").is_active


def test_a_garden_comes_in_beside_itself_with_entries_of_its_own(written):
    from bedwright.web.models import Entry
    from bedwright.web.taking_in import take_in

    again = take_in(zipped(taken_out(written)))

    assert Entry.objects.filter(garden=again).count() == 3
    assert Entry.objects.filter(garden=written).count() == 3


def test_whatever_belongs_to_a_garden_is_taken_out_or_known_to_be_made_again():
    from django.apps import apps

    from bedwright.web.models import Garden

    holding = {
        model.__name__
        for model in apps.get_app_config("site").get_models()
        for field in model._meta.get_fields()
        if field.related_model is Garden and field.concrete
    }
    assert holding == {
        "Revision", "GardenFile", "Entry", "EntryHistory", "Photograph", "GardenCalendar", "Job",
    }  # fmt: skip


def spoil_manifest(files):
    files["manifest.json"] = b"[]"


def add_a_file(files):
    files["more.txt"] = b"?"


def change_the_document(files):
    files["revisions/00001.toml"] += b"\n# slipped in"


def resummed(files):
    manifest = json.loads(files["manifest.json"])
    manifest["sha256"] = {
        name: hashlib.sha256(content).hexdigest()
        for name, content in files.items() if name != "manifest.json"
    }  # fmt: skip
    files["manifest.json"] = json.dumps(manifest).encode()


def said_otherwise(**changes):
    def change(files):
        about = json.loads(files["garden.json"]) | changes
        files["garden.json"] = json.dumps(about).encode()
        resummed(files)

    return change


def no_document(files):
    files["revisions/00002.toml"] = b"format = 2\n[garden]\n"
    resummed(files)


def broken_journal(files):
    files["journal/entries.json"] = b'{"journal": 1, "entries": [{"id": 3}], "history": []}'
    resummed(files)


def another_picture(files):
    name = next(each for each in files if each.startswith("photographs/"))
    files[name] = b"<svg onload='alert(1)'/>"
    resummed(files)


@pytest.mark.parametrize(
    "harm",
    [spoil_manifest, add_a_file, change_the_document, no_document, broken_journal, another_picture,
     said_otherwise(standing=99), said_otherwise(revisions=[{"number": "x"}]),
     said_otherwise(revisions=None), said_otherwise(made_at="yesterday"),
     said_otherwise(name="n" * 500), said_otherwise(standing=None)],
)  # fmt: skip
def test_a_spoiled_garden_is_refused_with_a_reason_and_leaves_nothing(client, written, harm):
    from bedwright.web.models import Entry, Garden, Revision

    files = taken_out(written)
    gone(written)
    harm(files)

    answer = client.post("/safekeeping/take-in/", {"zip": zipped(files)})

    assert answer.status_code == 422
    assert 'role="alert"' in answer.content.decode()
    held = (Garden.objects.count(), Revision.objects.count(), Entry.objects.count())
    assert held == (0, 0, 0)


def test_the_page_gives_out_and_takes_in(client, written):
    assert client.get("/safekeeping/").status_code == 200
    out = client.get("/safekeeping/take-out/")
    content = b"".join(out.streaming_content)
    out.close()
    assert out["Content-Disposition"].startswith('attachment; filename="kestrel-bend-')
    gone(written)

    answer = client.post("/safekeeping/take-in/", {"zip": io.BytesIO(content)}, follow=True)
    assert "is taken in, with 3 revisions and 3 journal entries" in answer.content.decode()


def test_a_backup_is_asked_for_once_however_often_the_button_is_touched(client, demo):
    from bedwright.web import jobs
    from bedwright.web.models import Job

    client.post("/safekeeping/back-up/")
    client.post("/safekeeping/back-up/")
    (job,) = Job.objects.filter(kind="backup")
    assert "Making a backup" in client.get("/safekeeping/").content.decode()

    jobs.run(job)  # the tests' database is no file: the reason is told in words
    page = client.get("/safekeeping/state/").content.decode()
    assert "The backup was not made" in page and "there is no database" in page
    assert client.get("/safekeeping/backups/..%2Fsecret.key").status_code == 404
    assert client.post("/safekeeping/read-back/", {"name": "../secret.key"}).status_code == 404


def test_tables_say_what_the_document_says():
    import csv

    from bedwright.web.document_tables import csv_tables

    made = csv_tables(
        'format = 2\n[garden]\nname = "=cmd()"\nlatitude = "-34.2 deg"\n[[bed]]\nid = "A"\n'
        'outline = [["0 ft", "0 ft"], ["1 ft", "0 ft"]]\n[[bed]]\nid = "B"\nown_recipe = true\n'
        '[[history]]\nbed = "A"\nyear = 2025\n'
        'applied = [{ material = "blood meal", amount = "6 lb", on = 2025-03-01 }]\n'
    )
    read = {name: list(csv.DictReader(io.StringIO(text))) for name, text in made.items()}

    assert read["garden"] == [{"name": "'=cmd()", "latitude": "'-34.2 deg"}]
    assert [each["id"] for each in read["bed"]] == ["A", "B"]
    assert read["bed"][0]["outline"] == "(0 ft, 0 ft); (1 ft, 0 ft)"
    assert read["history.applied"] == [
        {"of row": "1", "of bed": "A", "of year": "2025", "material": "blood meal",
         "amount": "6 lb", "on": date(2025, 3, 1).isoformat()}
    ]  # fmt: skip
