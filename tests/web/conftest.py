"""What the site's tests share: a site folder of their own, the demo garden, a real browser."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from bedwright.garden import Document
from bedwright.season import season_plan
from stripped import without

AS_OF = "2026-11-25"


@pytest.fixture(autouse=True)
def _plain_static(settings):
    """Static files by their own names: the in-process client needs no gathered ones."""
    settings.STORAGES = {
        **settings.STORAGES,
        "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
    }
    settings.WHITENOISE_AUTOREFRESH = True


@pytest.fixture
def demo(db):
    """The demo garden in the database."""
    from bedwright.web.views.start import demo_garden

    return demo_garden()


@pytest.fixture
def bare(demo):
    """The demo garden without a word of the years ahead or of what casts shade."""
    from bedwright.web.documents import save_revision

    text = _bared(demo.standing.text)
    save_revision(demo, text, read_from=demo.standing.pk, change="bare", user=None)
    return demo


@cache
def _bared(text: str) -> str:
    from bedwright.garden.edit import unset_field

    for table in ("wish", "pin", "bed_problem", "structure", "crop"):
        text = without(text, table)
    return unset_field(text, ("rotation",))


@pytest.fixture
def few(bare):
    """The bare demo with the wants of two beds alone: planned in a moment, and planned."""
    from bedwright.web.documents import save_revision
    from bedwright.web.plan_store import keep_plan
    from bedwright.web.standing import standing_of, tables

    text = _of_two_beds(bare.standing.text)
    save_revision(bare, text, read_from=bare.standing.pk, change="few", user=None)
    standing = standing_of(bare)
    keep_plan(standing.key, season_plan(standing.document, tables(), standing.as_of))
    return bare


@cache
def _of_two_beds(text: str) -> str:
    return without(text, "want", lambda want: not {"W2", "E5"} & set(want["beds"]))


@pytest.fixture(scope="session")
def demo_plan(made_once, django_db_setup, django_db_blocker):
    """The season plan of the demo, made once and kept where the pages look for it."""
    from django.db import transaction

    from bedwright.web.plan_store import keep_plan
    from bedwright.web.standing import standing_of, tables
    from bedwright.web.views.start import demo_garden

    with django_db_blocker.unblock(), transaction.atomic():
        standing = standing_of(demo_garden())
        plan = made_once(
            "demo_plan",
            lambda: season_plan(standing.document, tables(), standing.as_of, ahead=False),
        )
        keep_plan(standing.key, plan)
        transaction.set_rollback(True)
    return plan


@pytest.fixture
def planned(demo, demo_plan):
    """The demo garden with its plan made."""
    return demo


@pytest.fixture
def document(demo) -> Document:
    """The demo garden's document."""
    from bedwright.web.standing import standing_of

    return standing_of(demo).document


class Site:
    """A real server in a process of its own, with its folder and address."""

    def __init__(self, folder: Path, *arguments: str, **environment: str) -> None:
        self.folder = folder
        self.process = subprocess.Popen(
            [sys.executable, "-m", "bedwright", "serve", "--home", str(folder), "--port", "0",
             *arguments],
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            env={**os.environ, "BEDWRIGHT_AS_OF": AS_OF, **environment},
        )  # fmt: skip
        assert self.process.stdout is not None
        for line in self.process.stdout:
            if "http" in line:
                self.address = line[line.index("http") :].split()[0]
                break
        else:
            self.end()
            raise AssertionError("the server did not start")

    def end(self) -> None:
        self.process.terminate()
        self.process.wait(20)
        self.process.stdout.close()


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """A running site without a garden; each browser test opens the demo in it."""
    served = Site(tmp_path_factory.mktemp("site") / "home")
    yield served
    served.end()


@pytest.fixture(scope="session")
def chromium() -> Iterator[object]:
    """The system's Chromium, driven by Playwright."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        browser = play.chromium.launch(
            executable_path=shutil.which("chromium"),
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking",
                  "--disable-component-update", "--disable-sync", "--no-first-run"],
        )  # fmt: skip
        yield browser
        browser.close()


@pytest.fixture
def desk(chromium, site):
    """A page at desk size on the running site; every request elsewhere fails the test."""
    yield from _page(chromium, site, 1280, 900)


@pytest.fixture
def telephone(chromium, site):
    """A page at telephone size on the running site."""
    yield from _page(chromium, site, 390, 844)


def _page(chromium, site, width: int, height: int):
    context = chromium.new_context(
        viewport={"width": width, "height": height}, base_url=site.address
    )
    page = context.new_page()
    elsewhere: list[str] = []
    page.on(
        "request",
        lambda asked: (
            None
            if asked.url.startswith((site.address, "data:", "blob:"))
            else elsewhere.append(asked.url)
        ),
    )
    yield page
    context.close()
    assert elsewhere == []
