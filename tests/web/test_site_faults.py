"""What breaks, breaks clearly: killed servers, torn writes, full disks, locked databases."""

from __future__ import annotations

import contextlib
import http.client
import http.cookiejar
import io
import json
import os
import random
import shutil
import socket
import sqlite3
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
from pathlib import Path
from uuid import uuid4

import pytest

from bedwright.web.database_check import faults_of
from bedwright.web.databases import embedded
from conftest import Site

here_only = pytest.mark.allow_hosts(["127.0.0.1", "::1", "localhost"])


class Telephone:
    """A browser without a face: cookies, a token, entries sent from its queue."""

    def __init__(self, address: str) -> None:
        jar = http.cookiejar.CookieJar()
        self.opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar))
        self.address = address
        self.token = json.loads(self.ask("journal/token/")[1])["token"]

    def ask(self, path: str, body: bytes | None = None, **headers: str) -> tuple[int, str]:
        asked = urllib.request.Request(self.address + path, body, headers)
        try:
            with self.opener.open(asked, timeout=30) as answer:
                return answer.status, answer.read().decode()
        except urllib.error.HTTPError as refused:
            with refused:
                return refused.code, refused.read().decode()

    def send(self, key: str, note: str) -> tuple[int, str]:
        fields = {"on": "2026-11-20", "what": "note", "note": note}
        body = json.dumps({"entries": [{"id": key, "kind": "saw", "fields": fields}]}).encode()
        return self.ask(
            "journal/send/", body,
            **{"X-CSRFToken": self.token, "Content-Type": "application/json"},
        )  # fmt: skip

    def entries(self) -> dict[str, str]:
        rows = json.loads(self.ask("journal/entries.json")[1])["entries"]
        return {each["id"]: each["note"] for each in rows}


def acknowledged(answer: tuple[int, str]) -> bool:
    if answer[0] != 200:
        return False
    (result,) = json.loads(answer[1])["results"]
    assert result["state"] in ("saved", "same"), result
    return True


def kill(site: Site) -> None:
    site.process.kill()
    site.process.wait(20)
    site.process.stdout.close()


_PASSWORD = "three rows of leeks"
_MAKE = f"""
import os
from pathlib import Path
from bedwright.web.serve import prepare
home = prepare(Path(os.environ["BEDWRIGHT_HOME"]), lambda step: None)
from bedwright.web.assets import make_assets
from bedwright.web.users import set_password
from bedwright.web.views.start import demo_garden
make_assets(home)
demo_garden()
set_password("ann", "{_PASSWORD}")
"""


@pytest.fixture(scope="module")
def made(tmp_path_factory) -> Path:
    """A site's folder with the demo garden and all that pages are served, made once."""
    folder = tmp_path_factory.mktemp("made") / "home"
    environment = {**os.environ, "BEDWRIGHT_HOME": str(folder)}
    subprocess.run([sys.executable, "-c", _MAKE], check=True, env=environment)
    return folder


@pytest.fixture(scope="module")
def served(made, tmp_path_factory):
    """A running site on this machine alone."""
    folder = tmp_path_factory.mktemp("served") / "home"
    shutil.copytree(made, folder)
    site = Site(folder)
    yield site
    site.end()


# Killed -------------------------------------------------------------------------------------------


@here_only
@pytest.mark.parametrize("kills", [3, pytest.param(100, marks=pytest.mark.full)])
def test_a_killed_server_loses_no_entry_that_it_acknowledged(made, tmp_path, kills):
    chance = random.Random(7)
    home = shutil.copytree(made, tmp_path / "home")
    told: dict[str, str] = {}  # what was answered with 'saved'
    open_ones: dict[str, str] = {}  # what was sent and not answered
    sent = resent = 0
    site = Site(home)
    telephone = Telephone(site.address)
    for _ in range(kills):
        death = threading.Timer(chance.uniform(0.05, 0.8), site.process.kill)
        death.start()
        while site.process.poll() is None:
            key, note = str(uuid4()), f"note {sent}:" + "x" * chance.randrange(900)
            sent += 1
            open_ones[key] = note
            try:
                answer = telephone.send(key, note)
            except (OSError, http.client.HTTPException):
                break
            if acknowledged(answer):
                told[key] = open_ones.pop(key)
        death.join()
        kill(site)
        assert faults_of(home / "bedwright.sqlite3") == []
        site = Site(home)
        telephone.address = site.address
        for key in list(open_ones):  # the telephone sends again what was not answered
            resent += 1
            assert acknowledged(telephone.send(key, open_ones[key]))
            told[key] = open_ones.pop(key)
    found = telephone.entries()
    site.end()

    assert len(told) > kills and resent > 0
    assert found == told


def test_a_torn_write_leaves_whole_transactions(tmp_path):
    """Three rows a transaction; the log's tail is cut or spoiled: never one or two of them."""
    chance = random.Random(11)
    path = tmp_path / "site.sqlite3"
    writer = sqlite3.connect(path, isolation_level=None)
    writer.executescript(embedded(path)["OPTIONS"]["init_command"])
    assert writer.execute("PRAGMA synchronous").fetchone() == (2,)  # FULL
    writer.execute("CREATE TABLE entry (at INTEGER, part INTEGER, note TEXT)")
    writer.execute("PRAGMA wal_autocheckpoint=0")
    for at in range(200):
        writer.execute("BEGIN IMMEDIATE")
        for part in range(3):
            writer.execute("INSERT INTO entry VALUES (?, ?, ?)", (at, part, "n" * 400))
        writer.execute("COMMIT")
    log = path.with_name(path.name + "-wal").read_bytes()
    lost = set()
    for case in range(60):
        copy = tmp_path / f"copy{case}.sqlite3"
        shutil.copy(path, copy)
        torn = bytearray(log[: chance.randrange(len(log) // 2, len(log))])
        if case % 2:
            for _ in range(40):
                torn[chance.randrange(len(torn) - 3000, len(torn))] ^= chance.randrange(1, 256)
        copy.with_name(copy.name + "-wal").write_bytes(torn)
        assert faults_of(copy) == []
        with contextlib.closing(sqlite3.connect(copy)) as reader:
            rows = reader.execute("SELECT at, part FROM entry ORDER BY rowid").fetchall()
        assert rows == [(at, part) for at in range(len(rows) // 3) for part in range(3)]
        lost.add(200 - len(rows) // 3)
    writer.close()
    assert len(lost) > 20  # the cuts fell in many places


# Locked and full ----------------------------------------------------------------------------------


@here_only
def test_a_locked_database_is_told_and_what_is_sent_again_is_kept(served):
    telephone = Telephone(served.address)
    key = str(uuid4())
    telephone.ask("journal/")  # asks for the plan
    other = sqlite3.connect(served.folder / "bedwright.sqlite3", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    read = telephone.ask("journal/")[0]
    status, page = telephone.send(key, "in the way")
    newcomer = Telephone.__new__(Telephone)
    newcomer.opener, newcomer.address = urllib.request.build_opener(), served.address
    first = newcomer.ask("")  # whose session can't be written: a fault outside of any view
    other.execute("ROLLBACK")
    other.close()

    assert read == 200
    assert (status, first[0]) == (503, 503)
    assert "The database is busy" in page and "is not saved" in page
    assert "The database is busy" in first[1]
    assert telephone.entries() == {}
    assert acknowledged(telephone.send(key, "in the way"))
    assert telephone.entries() == {key: "in the way"}


@pytest.fixture
def small_disk(tmp_path):
    """A disk of 40 MB in memory; only who may mount one can run this."""
    place = tmp_path / "disk"
    place.mkdir()
    made = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=40m", "none", str(place)],
        capture_output=True,
        check=False,
    )
    if made.returncode:
        pytest.skip("a small disk can't be mounted here: this needs the rights of root")
    yield place
    subprocess.run(["umount", "-l", str(place)], check=True)


@here_only
def test_a_full_disk_is_told_and_loses_nothing(small_disk, made):
    from PIL import Image

    site = Site(shutil.copytree(made, small_disk / "home"))
    try:
        telephone = Telephone(site.address)
        told = {}
        filler = small_disk / "filler"
        with contextlib.suppress(OSError), filler.open("wb") as stream:
            while True:
                stream.write(bytes(4096))
        for at in range(300):  # the log of the database may have room of its own at first
            key, note = str(uuid4()), f"note {at}" + "x" * 400
            status, page = telephone.send(key, note)
            if not acknowledged((status, page)):
                break
            told[key] = note
        picture = io.BytesIO()
        Image.effect_noise((900, 900), 90).save(picture, "JPEG")
        photograph = telephone.ask(
            "journal/photograph/",
            b'--b\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\n'
            + picture.getvalue() + b"\r\n--b--\r\n",
            **{"X-CSRFToken": telephone.token, "Content-Type": "multipart/form-data; boundary=b"},
        )  # fmt: skip
        filler.unlink()

        assert (status, photograph[0]) == (507, 507)
        assert "The disk is full" in page and "is not saved" in page
        assert telephone.entries() == told
        assert acknowledged(telephone.send(key, note))
        assert telephone.entries() == told | {key: note}
        assert not list((site.folder / "photographs").iterdir())
    finally:
        site.end()
    assert faults_of(site.folder / "bedwright.sqlite3") == []


@pytest.mark.django_db
def test_a_fault_of_the_database_outside_of_a_view_has_its_page_too(client, demo, monkeypatch):
    from django.contrib.sessions.backends.db import SessionStore
    from django.db import DatabaseError

    def broken(self: SessionStore) -> None:
        raise DatabaseError("database disk image is malformed")

    client.get("/")
    client.raise_request_exception = False
    monkeypatch.setattr(SessionStore, "load", broken)
    answer = client.get("/")

    assert answer.status_code == 500
    assert "a backup can be restored" in answer.content.decode()


# Over the network ---------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def over_the_network(made, tmp_path_factory):
    """A running site that answers to the network; Ann may sign in."""
    folder = tmp_path_factory.mktemp("lan") / "home"
    shutil.copytree(made, folder)
    site = Site(folder, "--lan")
    yield site
    site.end()


@pytest.mark.enable_socket
def test_without_lan_nobody_else_reaches_the_site(served, over_the_network):
    from bedwright.web.network import own_addresses

    addresses = own_addresses()
    if not addresses:
        pytest.skip("this machine has no address on a network")
    port = int(served.address.rstrip("/").rsplit(":", 1)[1])
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection((addresses[0], port), timeout=5)
    open_port = over_the_network.address.rstrip("/").rsplit(":", 1)[1]
    with urllib.request.urlopen(f"http://{addresses[0]}:{open_port}/", timeout=30) as answer:
        assert "/sign-in/?next=" in answer.url


@pytest.mark.browser
def test_signing_in_over_the_network(chromium, over_the_network):
    context = chromium.new_context(
        viewport={"width": 390, "height": 844}, base_url=over_the_network.address
    )
    page = context.new_page()
    page.goto("/safekeeping/")
    page.get_by_label("Name").fill("Ann")
    page.get_by_label("Password").fill("a wrong guess")
    page.get_by_role("button", name="Sign in").click()
    assert page.get_by_role("alert").inner_text() == "Name or password is not right."
    assert page.get_by_label("Name").input_value() == "Ann"
    page.get_by_label("Password").fill(_PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("heading", name="Safekeeping").wait_for()

    (cookie,) = [each for each in context.cookies() if each["name"] == "bedwright_session"]
    assert cookie["httpOnly"] and cookie["sameSite"] == "Lax"
    page.get_by_role("button", name="Make a backup now").click()
    page.get_by_text("The backup is made and was read back whole.").wait_for(timeout=60_000)

    # A sign-in that runs out in the bed: what is written waits, and goes after signing in again.
    page.goto("/journal/write/")
    page.wait_for_selector('html[data-journal="ready"]', state="attached")
    context.clear_cookies(name="bedwright_session")
    page.locator(".five").get_by_text("Saw", exact=True).click()
    form = page.locator("section.kind[data-kind=saw]")
    form.get_by_text("a note", exact=True).click()
    form.get_by_label("In a few words").fill("mites under the leaves")
    form.get_by_role("button", name="Write down").click()
    page.wait_for_selector("text=You are signed out")
    page.goto("/journal/")
    page.get_by_label("Name").fill("ann")
    page.get_by_label("Password").fill(_PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.locator(".entries", has_text="mites under the leaves").wait_for()

    page.goto("/safekeeping/")
    page.get_by_role("button", name="Sign out").click()
    page.get_by_role("heading", name="Sign in").wait_for()
    page.goto("/")
    assert "/sign-in/" in page.url
    context.close()


@here_only
def test_a_second_server_and_a_missing_password_are_refused(served, tmp_path):
    asked = [sys.executable, "-m", "bedwright", "serve", "--port", "0", "--home"]
    second = subprocess.run(
        [*asked, str(served.folder)], capture_output=True, text=True, check=False
    )
    nobody = subprocess.run(
        [*asked, str(tmp_path / "new"), "--lan"],
        check=False, capture_output=True, text=True, stdin=subprocess.DEVNULL,
    )  # fmt: skip

    assert second.returncode == 2 and "is served already" in second.stderr
    assert nobody.returncode == 2 and "serve --set-password" in nobody.stderr
    assert not nobody.stdout


@pytest.mark.skipif(os.name != "posix", reason="a pretended terminal is made the POSIX way")
def test_a_password_is_asked_for_twice_and_not_shown(tmp_path):
    import pty

    master, slave = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "bedwright", "serve", "--set-password",
         "--home", str(tmp_path / "h")],
        stdin=slave, stdout=slave, stderr=slave, start_new_session=True,
    )  # fmt: skip
    os.close(slave)
    answers = [_PASSWORD, "another", "short", "short", _PASSWORD, _PASSWORD]
    shown, asked, until = "", 0, time.monotonic() + 60
    while time.monotonic() < until:
        try:
            shown += os.read(master, 4096).decode()
        except OSError:
            break
        if shown[asked:].rstrip(" ").endswith(":") and answers:
            asked = len(shown)
            time.sleep(0.2)  # the terminal drops what was typed before its question
            os.write(master, answers.pop(0).encode() + b"\n")
    os.close(master)

    assert process.wait(20) == 0, shown
    assert "The two differ" in shown and "too short" in shown
    assert _PASSWORD not in shown
    with sqlite3.connect(Path(tmp_path / "h" / "bedwright.sqlite3")) as connection:
        held = connection.execute("SELECT username, password FROM auth_user").fetchall()
    connection.close()
    ((name, password),) = held
    assert name == "gardener" and _PASSWORD not in password
