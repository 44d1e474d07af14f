"""Pictures of the demo garden's pages at telephone, tablet and desk size, by the system's Chromium.

    .venv/bin/python scripts/make_screenshots.py [--out docs/pages] [--all]

Starts a server in a folder that is thrown away, opens the demo and waits for its plan. Without
``--all`` only the pictures that the docs show are made.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

SIZES = {"telephone": (390, 844), "tablet": (820, 1180), "desk": (1280, 900)}
PAGES = {
    "today": "/",
    "garden": "/garden/",
    "months": "/months/?from=2027-01",
    "rotation": "/rotation/",
    "shade": "/garden/shade/?on=2027-07-15&hour=18",
    "bed-W9": "/bed/W9/",
    "bed-W2": "/bed/W2/",
    "bed-R1": "/bed/R1/",
    "soil": "/soil/",
    "shed": "/shed/",
    "crops": "/crops/",
    "journal": "/journal/",
    "what-if": "/what-if/",
    "reckon": "/reckon/relative_yield/?ec_e=4&ec_e-unit=dS/m&threshold=2.5&threshold-unit=dS/m"
    "&slope=9.9",
    "settings": "/settings/",
    "safekeeping": "/safekeeping/",
    "start": "/start/",
}  # fmt: skip
SHOWN = (
    ("today", "telephone"), ("today", "desk"), ("garden", "desk"), ("bed-W2", "telephone"),
    ("bed-W2", "desk"), ("crops", "tablet"), ("journal", "telephone"), ("shed", "tablet"),
)  # fmt: skip


def main() -> None:
    """Make the pictures."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=Path, default=Path("docs/pages"))
    parser.add_argument("--all", action="store_true")
    parser.add_argument("--full-page", action="store_true")
    given = parser.parse_args()
    given.out.mkdir(parents=True, exist_ok=True)
    wanted = [(name, size) for name in PAGES for size in SIZES] if given.all else list(SHOWN)
    with tempfile.TemporaryDirectory() as folder:
        server = subprocess.Popen(
            [sys.executable, "-m", "bedwright", "serve", "--home", f"{folder}/home", "--port", "0"],
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            env={**os.environ, "BEDWRIGHT_AS_OF": "2026-11-25"},
        )
        try:
            assert server.stdout is not None
            line = next(each for each in server.stdout if "http" in each)
            _pictures(line[line.index("http") :].split()[0], wanted, given.out, given.full_page)
        finally:
            server.terminate()
            server.wait(20)


def _pictures(address: str, wanted: list[tuple[str, str]], out: Path, full: bool) -> None:
    with sync_playwright() as play:
        browser = play.chromium.launch(
            executable_path=shutil.which("chromium"),
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        context = browser.new_context(base_url=address, reduced_motion="reduce")
        page: Page = context.new_page()
        page.goto("/start/")
        page.get_by_role("button", name="Open the demo garden").click()
        page.wait_for_selector('a[href="/bed/W2/"]', timeout=120_000)
        page.wait_for_selector("section.work", state="detached", timeout=120_000)
        for name, size in wanted:
            width, height = SIZES[size]
            page.set_viewport_size({"width": width, "height": height})
            page.goto(PAGES[name])
            page.wait_for_load_state("networkidle")
            page.evaluate("document.fonts.ready")
            page.screenshot(path=out / f"{name}-{size}.png", full_page=full)
        browser.close()


if __name__ == "__main__":
    main()
