"""Every page at telephone size, light and dark: the checker's findings, widths, targets."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest

_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
_SERIOUS = {"serious", "critical"}
_RUN = """tags => axe.run(document,
  {runOnly: {type: 'tag', values: tags}, resultTypes: ['violations']})
.then(found => found.violations.map(each => [each.id, each.impact,
  each.nodes.slice(0, 3).map(node => node.html.slice(0, 160)).join(' | ')]))"""
_DARK = """() => axe.run(document, {runOnly: ['color-contrast'], resultTypes: ['violations']})
.then(found => found.violations.map(each => [each.id, each.impact,
  each.nodes.slice(0, 3).map(node => node.html.slice(0, 160)).join(' | ')]))"""
_OPEN = "document.querySelectorAll('details').forEach(each => { each.open = true; })"
_TOO_WIDE = """() => document.documentElement.scrollWidth <= window.innerWidth ? [] :
[...document.querySelectorAll('body *')]
.filter(each => each.getBoundingClientRect().right > window.innerWidth + 1)
.filter(each => !each.closest('.table'))
.slice(0, 4).map(each => each.outerHTML.slice(0, 120))
.concat(`${document.documentElement.scrollWidth} px`)"""
# A link in a sentence or a number in a line may be lower (WCAG 2.5.8: inline); all else may not.
_SMALL = """() => [...document.querySelectorAll(
  'a[href], button, input, select, textarea, summary')]
.filter(each => each.checkVisibility() && each.type !== 'hidden')
.filter(each => getComputedStyle(each).display !== 'inline')
.filter(each => !each.closest('.skip, .unseen, svg'))
.filter(each => { const box = each.getBoundingClientRect();
  return box.width && (box.width < 23.9 || box.height < 23.9); })
.slice(0, 4).map(each => `${Math.round(each.getBoundingClientRect().width)} x ` +
  `${Math.round(each.getBoundingClientRect().height)} ${each.outerHTML.slice(0, 120)}`)"""
# What is wrong with a field must be said by the field itself.
_UNTIED = """() => [...document.querySelectorAll('[aria-describedby]')]
.filter(each => each.getAttribute('aria-describedby').split(/ +/)
  .some(id => !document.getElementById(id)))
.map(each => each.outerHTML.slice(0, 120))"""

ROOMS = (
    "/", "/garden/", "/soil/", "/shed/", "/crops/", "/rotation/", "/journal/", "/what-if/",
    "/reckon/", "/safekeeping/", "/settings/", "/start/", "/heat/",
)  # fmt: skip
PAGES = (
    *ROOMS, "/bed/W2/", "/bed/R1/", "/bed/W2/ledger/", "/soil/report/0/", "/soil/report/new/",
    "/bed/W9/", "/months/?from=2027-03", "/garden/shade/", "/garden/structure/new/",
    "/crops/own/new/", "/rotation/weights/",
    "/rotation/wish/new/", "/rotation/wish/8/", "/rotation/pin/new/", "/rotation/problem/new/",
    "/shed/0/", "/shed/new/", "/crops/0/", "/crops/new/", "/settings/document/",
    "/settings/revisions/", "/settings/revisions/1/", "/journal/evening/",
    "/water/?on=2027-07-15", "/water/week/?on=2027-07-15", "/bed/W2/water/", "/water/salt/",
    "/water/lines/", "/water/soil/new/", "/water/zone/0/",
    "/week/?on=2027-05-10", "/week/season/", "/turnover/", "/harvest/", "/purchases/",
    "/calendar/", "/compare/", "/comparison/new/", "/record/", "/spreadsheet/",
    "/water/mulch/", "/water/readings/", "/water/seasons/", "/water/tap/",
    *(f"/journal/write/?kind={kind}&bed=W2" for kind in ("did", "picked", "saw", "measured",
                                                          "bought")),
    "/no-such-page/",
)  # fmt: skip
# Forms sent empty or wrong: the page, the field to fill, what is typed in it.
FAULTS = (
    ("/soil/report/new/", None, ""), ("/shed/new/", None, ""), ("/crops/new/", None, ""),
    ("/journal/write/?kind=picked", None, ""), ("/what-if/", "compost", "deep"),
    ("/rotation/wish/new/", None, ""), ("/rotation/problem/new/", None, ""),
    ("/garden/structure/new/", "points", "here"), ("/rotation/weights/", "away", "cabbages"),
    ("/water/soil/new/", None, ""), ("/week/?on=2027-05-10", None, ""),
)  # fmt: skip
_EVERY = 3  # of the pages behind the rooms, and of the wrong forms, without --full
_WRONG = """<!doctype html><html><head><title>Wrong</title></head><body style="color: #808080">
<p>Pale words</p><input style="width: 30px" aria-describedby="nothing">
<button style="width: 12px; height: 12px; padding: 0; display: block">a</button>
<div style="width: 900px">Wide</div></body></html>"""


@dataclass
class Walk:
    """A walk over pages with what was found on each, so that one run names every fault."""

    page: object
    found: list[tuple[object, ...]] = field(default_factory=list)
    moderate: list[tuple[object, ...]] = field(default_factory=list)
    seen: list[str] = field(default_factory=list)

    def visit(self, address: str) -> None:
        self.page.goto(address)
        self.look(address)

    def look(self, name: str) -> None:
        """The checker in light and dark, then the widths, at this page as it stands."""
        from axe_playwright_python.base import AXE_SCRIPT

        page = self.page
        self.seen.append(name)
        page.evaluate(_OPEN)
        # By evaluate, which the content security policy lets pass; a script tag it would not.
        page.evaluate(AXE_SCRIPT + "\n;0")
        self._judge(name, "light", page.evaluate(_RUN, _TAGS))
        page.emulate_media(color_scheme="dark")
        self._judge(name, "dark", page.evaluate(_DARK))
        page.emulate_media(color_scheme="light")
        self._note(name, "target under 24 px", page.evaluate(_SMALL))
        self._note(name, "described by nothing", page.evaluate(_UNTIED))
        for width in (390, 320):
            page.set_viewport_size({"width": width, "height": 844})
            self._note(name, f"wider than {width} px", page.evaluate(_TOO_WIDE))
        page.set_viewport_size({"width": 390, "height": 844})

    def _judge(self, name: str, scheme: str, violations: list[tuple[str, str, str]]) -> None:
        for rule, impact, where in violations:
            kept = self.found if impact in _SERIOUS else self.moderate
            kept.append((name, scheme, rule, impact, where))

    def _note(self, name: str, what: str, where: list[str]) -> None:
        if where:
            self.found.append((name, what, where))


def send_wrong(page, address: str, name: str | None, typed: str) -> None:
    """Send a form as someone in haste would, past what the browser itself would stop."""
    page.goto(address)
    page.evaluate("document.querySelectorAll('form').forEach(each => { each.noValidate = true; })")
    if name:
        page.fill(f"#{name}", typed)
    page.locator("main form[method=post]:visible").last.locator("button").last.click()
    # The journal's script keeps a refused entry in its queue, and says there why.
    page.wait_for_selector("[role=alert], .queue .why")


def signing_in(page) -> None:
    """The page for signing in, which only a site on the network shows: from its own template."""
    from django.template.loader import render_to_string

    words = render_to_string("web/sign_in.html", {"next": "/"})
    page.route("**/sign-in/", lambda asked: asked.fulfill(body=words, content_type="text/html"))


@pytest.mark.browser
def test_the_walk_finds_a_page_that_is_wrong(telephone):
    """Else a clean walk would prove nothing."""
    telephone.route(
        "**/sign-in/", lambda asked: asked.fulfill(content_type="text/html", body=_WRONG)
    )
    walk = Walk(telephone)
    walk.visit("/sign-in/")
    said = {str(word) for each in walk.found for word in each[1:3]}
    assert {"label", "color-contrast", "html-has-lang", "described by nothing"} <= said
    assert {"target under 24 px", "wider than 390 px", "wider than 320 px"} <= said
    assert any(each[1] == "dark" for each in walk.found)


def test_a_field_of_the_journal_names_its_own_fault(client, demo):
    answer = client.post("/journal/write/", {"kind": "picked", "on": "2026-11-24", "count": "many"})
    page = answer.content.decode()
    assert answer.status_code == 422
    said = page.index('id="picked-count-said"')
    assert page.index('aria-describedby="picked-count-said"') < said
    assert 'role="alert"' in page


@pytest.mark.browser
def test_no_page_has_a_serious_finding_or_scrolls_sideways_and_none_asks_elsewhere(
    telephone, request
):
    every = 1 if request.config.getoption("--full") else _EVERY
    pages, faults = (*ROOMS, *PAGES[len(ROOMS) :: every]), FAULTS[::every]
    page = telephone  # its fixture fails the test at any request to another host
    walk = Walk(page)
    page.goto("/start/")
    page.get_by_role("button", name="Open the demo garden").click()
    page.wait_for_selector("main >> text=To buy", timeout=120_000)

    page.goto("/what-if/")
    page.fill("#compost", "0")
    page.select_option("#want", index=1)
    page.get_by_role("button", name="Try it").click()  # its plan is made during the walk
    trial = page.url
    for address in pages:
        walk.visit(address)

    page.goto("/bed/W2/")
    walk.visit(page.locator("main a.door").first.get_attribute("href"))
    page.goto("/reckon/")
    walk.visit(page.locator(".formulas dt a").first.get_attribute("href"))
    for step in ("place", "beds", "crops", "look"):
        walk.visit(f"/start/garden/{step}/")
    signing_in(page)
    walk.visit("/sign-in/")
    for address, name, typed in faults:
        send_wrong(page, address, name, typed)
        walk.look(f"{address} sent wrong")
    page.goto(trial)
    page.get_by_role("button", name="Keep").first.wait_for(timeout=120_000)
    walk.look("a trial")
    page.goto("/rotation/")
    page.wait_for_selector("text=What stands where", timeout=240_000)
    walk.look("the years ahead")
    walk.visit("/bed/R3/")

    for each in walk.moderate:
        print("moderate:", *each)
    assert len(walk.seen) == len(pages) + len(faults) + 10
    assert not walk.found, "\n".join(map(str, walk.found))
