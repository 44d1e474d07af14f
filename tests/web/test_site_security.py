"""What the site refuses: other sites and names, guessing, tricks in names, files, archives."""

from __future__ import annotations

import io
import re
import zipfile
from datetime import UTC, datetime, timedelta
from html.parser import HTMLParser
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import URLPattern, reverse

from bedwright.web.archive import Archive, ArchiveError, Most
from bedwright.web.plain_names import plain_name, plain_path

pytestmark = pytest.mark.django_db

# Neither holds a slash, so that they may be the id of a bed.
SCRIPT = '<img src=x onerror=alert(7)>"'
PASSWORD = "three rows of leeks"


def every_address(document_bed: str = "A") -> list[str]:
    """An address for each pattern of the site, with values that fit its parts."""
    from bedwright.web.urls import urlpatterns

    values = {"bed_id": document_bed, "key": uuid4(), "name": "relative_yield", "digest": "0" * 64}
    found = []
    for each in urlpatterns:
        assert isinstance(each, URLPattern) and each.name
        parts = {
            name: (values.get(name, "x") if "UUID" in type(kind).__name__ or name != "key" else "x")
            for name, kind in each.pattern.converters.items()
        }
        for name, kind in each.pattern.converters.items():
            if type(kind).__name__ == "IntConverter":
                parts[name] = 1
        found.append(reverse(each.name, kwargs=parts))
    return found


@pytest.fixture(autouse=True)
def _quick_hasher(settings):
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture
def lan(settings):
    settings.LAN = True


@pytest.fixture
def ann(lan):
    from bedwright.web.users import set_password

    return set_password("ann", PASSWORD)


@pytest.fixture
def signed_in(ann, client):
    client.post("/sign-in/", {"username": "ann", "password": PASSWORD})
    return client


# Other sites --------------------------------------------------------------------------------------


def test_no_address_takes_a_form_that_is_not_from_our_pages(demo):
    client = Client(enforce_csrf_checks=True)
    assert client.get("/").status_code == 200  # somebody is known now, by a cookie

    addresses = every_address()
    assert len(addresses) > 25
    taken = [each for each in addresses if client.post(each).status_code != 403]
    assert taken == []


def test_a_token_alone_is_not_enough_where_another_origin_sends_it(demo):
    client = Client(enforce_csrf_checks=True)
    page = client.get("/start/").content.decode()
    token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', page).group(1)
    form = {"csrfmiddlewaretoken": token}

    assert client.post("/start/demo/", form, HTTP_ORIGIN="http://evil.example").status_code == 403
    assert client.post("/start/demo/", form, HTTP_ORIGIN="http://localhost:9").status_code == 403
    assert client.post("/start/demo/", form, HTTP_ORIGIN="http://testserver").status_code == 302


@pytest.mark.parametrize("host", ["evil.example", "localhost.evil.example", "192.0.2.7", "a b", ""])
@pytest.mark.parametrize("address", ["/", "/safekeeping/take-out/", "/healthy/", "/static/x.css"])
def test_a_foreign_name_is_shown_nothing(client, demo, host, address, settings):
    settings.ALLOWED_HOSTS = ["localhost", "127.0.0.1"]
    answer = client.get(address, HTTP_HOST=host)

    assert answer.status_code == 400
    assert "Kestrel" not in answer.content.decode()
    assert not answer.cookies


def test_pages_elsewhere_may_link_here_and_no_more(client, demo):
    elsewhere = {"HTTP_SEC_FETCH_SITE": "cross-site"}
    asked = {"HTTP_SEC_FETCH_MODE": "no-cors", "HTTP_SEC_FETCH_DEST": "image"}
    link = {"HTTP_SEC_FETCH_MODE": "navigate", "HTTP_SEC_FETCH_DEST": "document"}
    frame = {"HTTP_SEC_FETCH_MODE": "navigate", "HTTP_SEC_FETCH_DEST": "iframe"}

    assert client.get("/", **elsewhere, **link).status_code == 200
    assert client.get("/", **elsewhere, **asked).status_code == 403
    assert client.get("/", **elsewhere, **frame).status_code == 403
    assert client.post("/start/demo/", **elsewhere, **link).status_code == 403


def test_every_page_forbids_frames_foreign_scripts_and_guessed_types(client, demo):
    for address in ("/", "/start/", "/nowhere/", "/safekeeping/take-out/"):
        answer = client.get(address)
        policy = answer["Content-Security-Policy"]
        assert "frame-ancestors 'none'" in policy and "script-src 'self'" in policy
        assert "unsafe" not in policy and "http" not in policy and "*" not in policy
        assert answer["X-Frame-Options"] == "DENY"
        assert answer["X-Content-Type-Options"] == "nosniff"
        assert answer["Referrer-Policy"] == "same-origin"
        assert answer["Cache-Control"] == "no-store"
        answer.close()


# Signing in ---------------------------------------------------------------------------------------


def test_over_the_network_every_address_asks_for_a_name_first(lan, demo, client):
    private = reverse("calendar-private", args=["x"])  # it needs its secret instead
    open_ones = {reverse("sign-in"), reverse("healthy"), reverse("language"), private}
    for address in set(every_address()) - open_ones:
        shown = client.get(address)
        assert shown.status_code == 302, address
        assert shown["Location"].startswith("/sign-in/?next="), address
        assert client.post(address).status_code == 401, address
        part = client.get(address, HTTP_HX_REQUEST="true", HTTP_HX_CURRENT_URL="http://x/bed/A/")
        assert part.status_code == 401
        assert part["HX-Redirect"] == "/sign-in/?next=%2Fbed%2FA%2F"


def test_the_session_is_new_at_sign_in_kept_from_scripts_and_gone_at_sign_out(ann, demo, client):
    client.cookies["bedwright_session"] = "chosenbysomebodyelse00000000000"
    answer = client.post("/sign-in/", {"username": "Ann", "password": PASSWORD, "next": "/soil/"})
    cookie = answer.cookies["bedwright_session"]

    assert answer["Location"] == "/soil/"
    assert cookie.value != "chosenbysomebodyelse00000000000"
    assert cookie["httponly"] and cookie["samesite"] == "Lax"
    assert 0 < int(cookie["max-age"]) <= 14 * 24 * 3600
    assert client.get("/").status_code == 200
    kept = client.cookies["bedwright_session"].value

    assert client.get("/sign-out/").status_code == 405
    client.post("/sign-out/")
    client.cookies["bedwright_session"] = kept  # whoever copied the cookie has nothing
    assert client.get("/").status_code == 302


def test_a_session_that_ran_out_is_no_session(signed_in):
    from django.contrib.sessions.models import Session

    Session.objects.update(expire_date=datetime.now(UTC) - timedelta(seconds=1))
    assert signed_in.get("/").status_code == 302


def test_behind_https_the_cookies_are_secure():
    import os
    import subprocess
    import sys

    code = (
        "import bedwright.web.settings as s;"
        "print(s.SESSION_COOKIE_SECURE, s.CSRF_COOKIE_SECURE, s.DEBUG)"
    )
    environment = {**os.environ, "BEDWRIGHT_HTTPS": "1"}
    made = subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, env=environment
    )
    assert made.stdout.decode().split() == ["True", "True", "False"]


def test_who_was_known_on_this_machine_alone_is_nobody_over_the_network(demo, client, settings):
    assert client.get("/").status_code == 200
    settings.LAN = True
    assert client.get("/").status_code == 302
    refused = client.post("/sign-in/", {"username": "here", "password": ""})
    assert refused.status_code == 422


@pytest.mark.parametrize(
    "target", ["//evil.example/", "http://evil.example/", "/\\evil.example", "javascript:alert(1)",
               "https:evil.example", " //evil.example", "///evil.example", "\t//evil.example"]
)  # fmt: skip
def test_signing_in_leads_to_no_other_site(ann, client, target):
    assert 'value="/"' in client.get("/sign-in/", {"next": target}).content.decode()
    sent = {"username": "ann", "password": PASSWORD, "next": target}
    assert client.post("/sign-in/", sent)["Location"] == "/"
    spoken = client.post("/language/", {"language": "es", "next": target})["Location"]
    assert spoken == "/"


def test_guessing_waits_longer_each_time_and_says_how_long(ann, client):
    def guess(password, name="ann"):
        return client.post("/sign-in/", {"username": name, "password": password})

    for _ in range(5):
        assert guess("wrong").status_code == 422
    shut = guess(PASSWORD)  # the right one is not looked at now
    assert shut.status_code == 429
    assert re.search(r"Wait \d+ seconds", shut.content.decode())
    assert 0 < int(shut["Retry-After"]) <= 15
    # From another address she still comes in.
    away = Client(REMOTE_ADDR="192.0.2.44")
    assert away.post("/sign-in/", {"username": "ann", "password": PASSWORD}).status_code == 302


def test_the_wait_doubles_is_kept_in_the_database_and_ends(ann):
    from bedwright.web import sign_in_limit
    from bedwright.web.models import SignInTry

    now = datetime(2026, 11, 28, tzinfo=UTC)
    waits = []
    for _ in range(5):
        assert sign_in_limit.begin("ann", "192.0.2.1", now) == 0
    for _ in range(10):
        left = sign_in_limit.begin("ann", "192.0.2.1", now)
        waits.append(left)
        assert sign_in_limit.begin("ann", "192.0.2.1", now + timedelta(seconds=left - 1)) == 1
        now += timedelta(seconds=left)
        assert sign_in_limit.begin("ann", "192.0.2.1", now) == 0
    assert waits == [15, 30, 60, 120, 240, 480, 960, 1920, 3600, 3600]
    assert "ann" not in str(list(SignInTry.objects.values_list("key", flat=True)))

    later = now + timedelta(days=1, seconds=1)
    assert sign_in_limit.begin("ann", "192.0.2.1", later) == 0
    assert SignInTry.objects.count() == 3


def test_one_address_that_tries_many_names_waits_and_many_addresses_at_one_name_wait_little():
    from bedwright.web import sign_in_limit

    now = datetime(2026, 11, 28, tzinfo=UTC)
    for at in range(20):
        assert sign_in_limit.begin(f"name{at}", "192.0.2.1", now) == 0
    assert sign_in_limit.begin("another", "192.0.2.1", now) == 15
    for at in range(60):
        left = sign_in_limit.begin("ann", f"198.51.100.{at}", now)
        now += timedelta(seconds=left)
    assert 0 < sign_in_limit.begin("ann", "203.0.113.5", now) <= 120


def test_a_changed_password_signs_every_other_browser_out(signed_in, ann):
    other = Client()
    other.post("/sign-in/", {"username": "ann", "password": PASSWORD})
    new = "four rows of leeks"

    wrong = signed_in.post("/password/", {"old": "no", "new": new, "again": new})
    differ = signed_in.post("/password/", {"old": PASSWORD, "new": new, "again": "x"})
    common = {"old": PASSWORD, "new": "1234567890", "again": "1234567890"}
    assert [wrong.status_code, differ.status_code] == [422, 422]
    assert signed_in.post("/password/", common).status_code == 422
    done = signed_in.post("/password/", {"old": PASSWORD, "new": new, "again": new})

    assert done.status_code == 302
    assert signed_in.get("/password/").status_code == 200
    assert other.get("/password/").status_code == 302


# Words and files of others ------------------------------------------------------------------------


class Tags(HTMLParser):
    """The tags of a page that would run something."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        held = dict(attributes)
        inline = tag == "script" and "src" not in held and not held.get("type", "").endswith("json")  # type: ignore[union-attr]
        called = [name for name in held if name.startswith("on") or name.startswith("hx-on")]
        led = [
            v
            for n, v in held.items()
            if n in ("href", "src", "action") and str(v)[:11].lower() == "javascript:"
        ]
        if inline or called or led or (tag == "img" and held.get("src") == "x"):
            self.found.append(self.get_starttag_text() or tag)


def would_run(page: str) -> list[str]:
    tags = Tags()
    tags.feed(page)
    return tags.found


def test_what_would_run_is_seen():
    assert would_run(f"<p>{SCRIPT}</p>") and would_run("<script>x</script>")
    assert not would_run("<p>&lt;img src=x onerror=alert(7)&gt;</p><script src=a.js></script>")


def test_script_in_names_and_notes_is_shown_and_never_run(client, db):
    from bedwright.web.documents import make_garden

    text = f"""format = 2
[garden]
name = '{SCRIPT}'
note = '{SCRIPT}'
[[bed]]
id = '{SCRIPT}'
note = '{SCRIPT}'
length = "50 ft"
width = "30 in"
[[material]]
material = "feather meal"
name = '{SCRIPT}'
[[stock]]
material = "feather meal"
on_hand = "5 lb"
[[want]]
crop = "onion"
beds = ['{SCRIPT}']
note = '{SCRIPT}'
"""
    garden = make_garden(text, SCRIPT, None, change=SCRIPT)
    client.get("/")
    session = client.session
    session["garden"] = garden.pk
    session.save()
    from bedwright.season import season_plan
    from bedwright.web.plan_store import keep_plan
    from bedwright.web.standing import standing_of, tables

    standing = standing_of(garden)
    keep_plan(standing.key, season_plan(standing.document, tables(), standing.as_of))

    shown = 0
    for address in every_address(SCRIPT):
        answer = client.get(address)
        if not answer.headers.get("Content-Type", "").startswith(("text/html", "image/svg")):
            answer.close()
            continue
        page = answer.content.decode()
        assert not would_run(page), address
        shown += "&lt;img src=x onerror=alert(7)&gt;&quot;" in page
    assert shown > 8


@pytest.mark.parametrize(
    ("name", "plain"),
    [("east.csv", True), ("Östliches Beet 2.csv", True), ("../x", False), ("/etc/passwd", False),
     ("a/b", False), ("a\\b", False), ("c:x", False), ("", False), (".", False), ("..", False),
     (".hidden", False), ("a\0b", False), ("a\nb", False), ("\u202egpj.exe", False), ("NUL", False),
     ("com1.csv", False), ("end.", False), ("end ", False), ("n" * 201, False), ("a|b", False)],
)  # fmt: skip
def test_a_file_bears_a_plain_name_or_is_not_kept(name, plain, demo):
    from bedwright.garden import GardenError
    from bedwright.web.documents import check_file_names

    assert plain_name(name) is plain
    if plain:
        check_file_names([name])
        return
    with pytest.raises(GardenError):
        check_file_names([name])
    with pytest.raises(ValueError, match="plain name"):
        demo.files.create(name=name, content=b"x")


def test_a_path_in_a_document_leads_nowhere(client, tmp_path):
    secret = tmp_path / "secret.csv"
    secret.write_text("the key is under the pot")
    for path in (str(secret), "../../../../etc/passwd", "../secret.key", "a\\u0000b"):
        text = f"""format = 2
[garden]
name = "g"
[[bed]]
id = "A"
length = "50 ft"
width = "30 in"
[[soil_report]]
id = "r"
beds = ["A"]
sampled = 2026-10-01
depth = "6 in"
file = "{path}"
"""
        upload = io.BytesIO(text.encode())
        upload.name = "g.toml"
        answer = client.post("/start/open/", {"files": upload})
        page = answer.content.decode()
        assert answer.status_code == 422, path
        assert "under the pot" not in page and "root:" not in page


@pytest.mark.parametrize(
    "content",
    [b"", b"\xff\xfe\0\0", b"\x89PNG\r\n\x1a\n", b"[" * 100_000, b"a" * 4_999_999,
     b"a." * 20_000 + b"b = 1", b"format = 99", b"format = 2\n[garden]\nname = 3", b"\0" * 1000],
)  # fmt: skip
def test_malformed_documents_get_words_and_leave_nothing(client, content):
    from bedwright.web.models import Garden

    upload = io.BytesIO(content)
    upload.name = "g.toml"
    answer = client.post("/start/open/", {"files": upload})

    assert answer.status_code == 422
    assert 'class="wrong"' in answer.content.decode()
    assert Garden.objects.count() == 0


def test_what_is_too_large_is_not_read(client, demo):
    answer = client.generic("POST", "/journal/photograph/", b"", CONTENT_LENGTH="40000001")
    assert answer.status_code == 413
    assert "too large" in answer.content.decode()
    many = {f"field{at}": "x" for at in range(2_100)}
    assert client.post("/journal/write/", many).status_code == 400


# Archives -----------------------------------------------------------------------------------------


def archive_of(*entries: tuple[str, bytes] | zipfile.ZipInfo) -> io.BytesIO:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as made:
        for each in entries:
            if isinstance(each, zipfile.ZipInfo):
                made.writestr(each, "target")
            else:
                made.writestr(*each)
    stream.seek(0)
    return stream


def link() -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo("photographs/one.jpg")
    entry.create_system = 3
    entry.external_attr = 0o120777 << 16
    return entry


def with_nul() -> io.BytesIO:
    raw = archive_of(("aXb", b"x")).getvalue()
    return io.BytesIO(raw.replace(b"aXb", b"a\0b"))


def locked() -> io.BytesIO:
    raw = bytearray(archive_of(("a", b"x")).getvalue())
    raw[raw.index(b"PK\x01\x02") + 8] |= 1
    return io.BytesIO(raw)


def lying_about_size() -> io.BytesIO:
    """Says 10 bytes where there are 5 million."""
    raw = bytearray(archive_of(("a", b"0" * 5_000_000)).getvalue())
    at = raw.index(b"PK\x01\x02") + 24
    raw[at : at + 4] = (10).to_bytes(4, "little")
    return io.BytesIO(raw)


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize(
    "make",
    [
        lambda: archive_of(("../x", b"")), lambda: archive_of(("/etc/x", b"")),
        lambda: archive_of(("a/../../x", b"")), lambda: archive_of(("a\\..\\x", b"")),
        lambda: archive_of(("c:x", b"")), lambda: archive_of(("a", b"1"), ("a", b"2")),
        lambda: archive_of(("a", b"1"), ("A", b"2")), lambda: archive_of(("a", b"1"), ("a/b", b"")),
        lambda: archive_of(link()), with_nul, locked,
        lambda: archive_of(("bomb", b"\0" * 50_000_000)), lambda: io.BytesIO(b"PK no zip"),
        lambda: io.BytesIO(archive_of(("a", b"1" * 9000)).getvalue()[:-30]),
        lambda: archive_of(*((f"{at}", b"") for at in range(101))),
        lambda: archive_of(("big", bytes(range(256)) * 4000)),
    ],
)  # fmt: skip
def test_an_archive_with_a_trick_is_not_opened(make):
    with pytest.raises(ArchiveError), Archive(make(), Most(files=100, total_bytes=1_000_000)):
        pass


def test_an_archive_that_lies_about_a_size_is_read_no_further(tmp_path):
    with Archive(lying_about_size()) as archive:
        with pytest.raises(ArchiveError):
            archive.read("a", 1000)
        with pytest.raises(ArchiveError):
            archive.copy("a", tmp_path / "a")
    assert (tmp_path / "a").stat().st_size <= 10


def test_an_honest_archive_opens():
    with Archive(archive_of(("photographs/one.jpg", b"x"), ("garden.toml", b"y"))) as archive:
        assert archive.read("garden.toml", 10) == b"y"
    assert plain_path("photographs/one.jpg")


def test_a_plan_that_we_did_not_sign_is_not_opened(planned, demo_plan, tmp_path):
    import pickle
    import zlib

    from bedwright.web.home import home
    from bedwright.web.plan_store import stored_plan
    from bedwright.web.standing import standing_of

    class Trap:
        def __reduce__(self):
            return (open, (str(tmp_path / "opened"), "w"))

    folder = home().cache / "plans"
    real = (folder / f"{standing_of(planned).key}.plan").read_bytes()
    trap = zlib.compress(pickle.dumps(Trap()))
    (folder / f"{'1' * 64}.plan").write_bytes(bytes(32) + trap)
    (folder / f"{'2' * 64}.plan").write_bytes(real[:32] + trap)
    (folder / f"{'3' * 64}.plan").write_bytes(real)

    assert stored_plan("1" * 64) is None
    assert stored_plan("2" * 64) is None
    assert not (tmp_path / "opened").exists()
    assert stored_plan("3" * 64) is not None


@pytest.mark.parametrize("name", ["", "a b", "a/b", "here", "Here", "x" * 61, "a\0", "<script>"])
def test_names_that_nobody_may_bear(name):
    from bedwright.web.users import UserError, set_password

    with pytest.raises(UserError):
        set_password(name, PASSWORD)
