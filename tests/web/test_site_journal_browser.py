"""The journal in a real browser, in the bed: quick entries, no connection, an evening's ticks."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

pytestmark = pytest.mark.browser
PASSWORD = "clover and vetch 7"
SHOTS = Path(os.environ["BEDWRIGHT_SHOTS"]) if os.environ.get("BEDWRIGHT_SHOTS") else None


def begin(page, address: str = "/journal/write/?kind=did&bed=W2") -> None:
    """The demo garden, open at the journal, its script awake."""
    page.goto("/start/")
    page.get_by_role("button", name="Open the demo garden").click()
    page.goto(address)
    awake(page)


def awake(page) -> None:
    page.wait_for_selector('html[data-journal="ready"]', state="attached")


def shot(page, name: str) -> None:
    if SHOTS is not None:
        page.screenshot(path=str(SHOTS / f"{name}.png"), full_page=True)


def note(page, words: str) -> None:
    page.locator(".five").get_by_text("Saw", exact=True).click()
    form = page.locator("section.kind[data-kind=saw]")
    form.get_by_text("a note", exact=True).click()
    form.get_by_label("In a few words").fill(words)
    form.get_by_role("button", name="Write down").click()


def spread(page, pounds: str, material: str = "gypsum") -> None:
    page.locator(".five").get_by_text("Did", exact=True).click()
    form = page.locator("section.kind[data-kind=did] form.entry")
    form.get_by_label("Bed").select_option("W2")
    form.get_by_label("Material").select_option(material)
    form.get_by_label("lb", exact=True).fill(pounds)
    form.get_by_role("button", name="Write down").click()


def journal_of(page, bed: str = "") -> str:
    """The journal as the server has it, whether or not the page has a connection."""
    return page.request.get(f"/journal/?bed={bed}").text()


def test_a_quick_entry_at_telephone_size(telephone):
    begin(telephone)
    form = telephone.locator("section.kind[data-kind=did] form.entry")
    assert form.get_by_label("Bed").input_value() == "W2"
    assert not form.get_by_label("Crop").is_visible()
    shot(telephone, "write-telephone")
    spread(telephone, "3")
    telephone.wait_for_selector("text=Written down: Bed W2: Spread 3 lb gypsum.")
    telephone.get_by_role("link", name="Change or take back").click()
    telephone.get_by_role("button", name="Undo: take it back").click()
    telephone.wait_for_selector("text=It stays in the history.")
    shot(telephone, "entry-telephone")
    width = telephone.evaluate("document.documentElement.scrollWidth")
    assert width <= 390
    small = telephone.evaluate(
        """[...document.querySelectorAll('main button, main select, main input:not([type=hidden])')]
        .filter((each) => each.offsetParent && !['checkbox', 'radio'].includes(each.type))
        .map((each) => [each.outerHTML.slice(0, 60), each.getBoundingClientRect().height])
        .filter((each) => each[1] < 44)"""
    )
    assert small == []


def test_without_a_connection_entries_wait_on_the_open_page_and_are_sent_once_in_order(telephone):
    begin(telephone)
    telephone.context.set_offline(True)
    spread(telephone, "1.5")
    note(telephone, "first of two in the bed")
    telephone.wait_for_selector("text=2 entries wait in this browser")
    telephone.wait_for_selector("text=There is no connection")
    shot(telephone, "waiting-telephone")
    assert "first of two in the bed" not in journal_of(telephone)
    telephone.context.set_offline(False)
    telephone.evaluate("window.dispatchEvent(new Event('online'))")
    telephone.wait_for_selector("#waiting", state="hidden")
    page = journal_of(telephone)

    assert page.count("first of two in the bed") == 1 and "Spread 1.5 lb gypsum" in page
    assert page.index("first of two in the bed") < page.index("Spread 1.5 lb gypsum")


def test_a_refused_entry_stays_and_is_mended(telephone):
    begin(telephone)
    spread(telephone, "a handful")
    telephone.wait_for_selector("text=Not taken:")
    shot(telephone, "refused-telephone")
    telephone.get_by_role("button", name="Mend").click()
    form = telephone.locator("section.kind[data-kind=did] form.entry")
    assert form.get_by_label("lb", exact=True).input_value() == "a handful"
    form.get_by_label("lb", exact=True).fill("0.75")
    form.get_by_role("button", name="Write down").click()
    telephone.wait_for_selector("text=Spread 0.75 lb gypsum.")
    telephone.wait_for_selector("#waiting", state="hidden")


def test_on_this_machine_a_reload_without_a_connection_finds_the_page_and_the_queue(telephone):
    begin(telephone)
    telephone.evaluate("navigator.serviceWorker.ready.then(() => true)")
    telephone.reload()
    telephone.wait_for_function("() => navigator.serviceWorker.controller !== null")
    telephone.context.set_offline(True)
    note(telephone, "before the reload")
    telephone.wait_for_selector("text=One entry waits")
    telephone.reload()
    awake(telephone)
    telephone.wait_for_selector("text=One entry waits")
    assert telephone.evaluate("getComputedStyle(document.querySelector('.five')).display") == "grid"
    note(telephone, "after the reload")
    telephone.wait_for_selector("text=2 entries wait")
    telephone.context.set_offline(False)
    telephone.evaluate("window.dispatchEvent(new Event('online'))")
    telephone.wait_for_selector("#waiting", state="hidden")
    page = journal_of(telephone)

    assert page.count("before the reload") == page.count("after the reload") == 1


@pytest.fixture(scope="module")
def plain_http(chromium, tmp_path_factory) -> Iterator[object]:
    """Telephones that call the site by a name over plain http: no service worker is there."""
    from conftest import Site

    folder = tmp_path_factory.mktemp("plain") / "home"
    script = (
        "import sys; from pathlib import Path; from bedwright.web.serve import prepare; "
        "prepare(Path(sys.argv[1]), print, lan=True); "
        "from bedwright.web.users import set_password; set_password('gardener', sys.argv[2])"
    )
    subprocess.run([sys.executable, "-c", script, str(folder), PASSWORD], check=True)
    served = Site(folder, "--lan", BEDWRIGHT_HOSTS="garden.test")
    browser = chromium.browser_type.launch(
        executable_path=shutil.which("chromium"),
        args=["--no-sandbox", "--disable-gpu", "--no-first-run",
              "--disable-background-networking", "--disable-component-update",
              "--host-resolver-rules=MAP garden.test 127.0.0.1"],
    )  # fmt: skip
    port = served.address.rstrip("/").rsplit(":", 1)[1]

    def telephone_of() -> object:
        context = browser.new_context(
            viewport={"width": 390, "height": 844}, base_url=f"http://garden.test:{port}"
        )
        page = context.new_page()
        page.goto("/sign-in/")
        page.get_by_label("Name").fill("gardener")
        page.get_by_label("Password").fill(PASSWORD)
        page.get_by_role("button", name="Sign in").click()
        page.wait_for_function("() => !location.pathname.startsWith('/sign-in')")
        return page

    yield telephone_of
    browser.close()
    served.end()


def test_over_plain_http_the_open_page_keeps_the_queue_and_it_outlives_a_reload(plain_http):
    page = plain_http()
    begin(page)
    assert page.evaluate("[window.isSecureContext, 'serviceWorker' in navigator]") == [False, False]
    assert page.evaluate("typeof crypto.randomUUID") == "undefined"
    page.context.set_offline(True)
    note(page, "over plain http")
    page.wait_for_selector("text=One entry waits")
    with pytest.raises(Exception, match="ERR_INTERNET_DISCONNECTED"):
        page.reload()  # nothing can keep the page here; the entry is not lost with it
    page.context.set_offline(False)
    page.goto("/journal/")
    awake(page)
    page.wait_for_selector("#waiting", state="hidden")
    page.goto("/journal/")

    assert page.locator(".entries").inner_text().count("over plain http") == 1


def test_two_telephones_that_change_one_entry_are_told_in_the_queue(plain_http):
    first = plain_http()
    begin(first)
    note(first, "one entry for two")
    first.get_by_role("link", name="Change or take back").click()
    awake(first)
    second = plain_http()
    second.goto(first.url)
    awake(second)
    for page, words in ((first, "the first's words"), (second, "the second's words")):
        page.get_by_label("In a few words").fill(words)
        page.get_by_role("button", name="Save the change").click()
    first.wait_for_selector("text=Written down: Bed W2: Noted. the first's words")
    second.wait_for_selector("text=Somebody changed this entry meanwhile.")
    second.wait_for_selector("text=Noted. the first's words")
    second.get_by_role("button", name="Mend").click()
    awake(second)
    second.wait_for_function(
        "() => document.querySelector('textarea[name=note]').value.startsWith('the second')"
    )
    second.get_by_role("button", name="Save the change").click()
    second.wait_for_selector("text=Written down: Bed W2: Noted. the second's words")
    second.reload()

    assert "Before: bed W2" in second.content() and "the first's words" in second.content()


def test_the_evening_form_takes_a_days_ticks(telephone):
    begin(telephone, "/journal/evening/")
    shot(telephone, "evening-telephone")
    for bed in ("W2", "E1"):
        part = telephone.locator("details.evening").filter(
            has=telephone.locator(f'summary:text-matches("^Bed {bed}\\\\b")')
        )
        if part.get_attribute("open") is None:
            part.locator("summary").click()
        part.get_by_label("hours").fill("1.5")
    assert telephone.locator(".tickline input[type=checkbox]:checked").count() == 2
    telephone.get_by_role("button", name="Send what is ticked").click()
    telephone.wait_for_selector("#waiting", state="hidden")
    telephone.wait_for_selector("text=Written down:")

    assert journal_of(telephone, "E1").count("Worked the bed, 1.5 h") == 1
    assert telephone.locator(".tickline input[type=checkbox]:checked").count() == 0
    telephone.goto("/journal/")
    shot(telephone, "journal-telephone")


@pytest.mark.parametrize("address", ["/journal/", "/journal/write/", "/journal/evening/"])
def test_the_journals_pages_have_no_finding_of_the_accessibility_checker(telephone, address):
    from axe_playwright_python.sync_playwright import Axe

    begin(telephone, address)
    found = Axe().run(telephone)
    serious = [each["id"] + ": " + each["nodes"][0]["html"][:200]
               for each in found.response["violations"]
               if each["impact"] in ("serious", "critical")]  # fmt: skip
    assert serious == []


def test_two_changes_of_one_entry_without_a_connection_follow_each_other(telephone):
    begin(telephone)
    note(telephone, "as first written")
    telephone.get_by_role("link", name="Change or take back").click()
    awake(telephone)
    telephone.context.set_offline(True)
    for words in ("changed once", "changed twice"):
        telephone.get_by_label("In a few words").fill(words)
        telephone.get_by_role("button", name="Save the change").click()
    telephone.wait_for_selector("text=2 entries wait")
    telephone.context.set_offline(False)
    telephone.evaluate("window.dispatchEvent(new Event('online'))")
    telephone.wait_for_selector("#waiting", state="hidden")
    telephone.reload()
    history = telephone.locator(".history").inner_text()

    assert history.index("changed once") < history.index("as first written")
    assert telephone.get_by_label("In a few words").input_value() == "changed twice"
