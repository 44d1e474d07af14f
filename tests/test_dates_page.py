"""The page of dates from a real record says what the program makes of that record."""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def maker() -> ModuleType:
    path = ROOT / "scripts" / "make_dates_page.py"
    spec = importlib.util.spec_from_file_location("make_dates_page", path)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_page_and_the_figures_of_its_charts_are_what_the_record_gives(
    maker: ModuleType, tmp_path: Path
):
    path = maker.garden(tmp_path)
    found = [each.name for each in maker.stale(maker.page(path), maker.charts(path))]

    assert found == [], "run .venv/bin/python scripts/make_dates_page.py"


def test_a_page_that_says_something_else_is_stale(maker: ModuleType):
    text = maker.PAGE.read_text(encoding="utf-8")

    assert maker.stale(text, {}) == []
    assert maker.stale(text.replace("May 17", "May 18", 1), {}) == [maker.PAGE]


def test_every_crop_is_told_and_every_chart_is_there(maker: ModuleType):
    text = maker.PAGE.read_text(encoding="utf-8")

    for crop in ("Sweet pepper", "Muskmelon", "Lettuce", "Carrot"):
        assert f"\n{crop}, bed " in text
    for name, title, _ in maker.PLOTS:
        assert f"![{title}](dates/{name}.svg)" in text
        assert (maker.CHARTS / f"{name}.svg").read_bytes().startswith(b"<svg")
