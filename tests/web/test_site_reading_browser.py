"""The reading pages in a real browser: workings open beside or below, charts draw and are read."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.browser


def open_demo(page) -> list[str]:
    faults: list[str] = []
    page.on("console", lambda m: faults.append(m.text) if m.type in ("error", "warning") else None)
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    page.goto("/start/")
    page.get_by_role("button", name="Open the demo garden").click()
    page.wait_for_selector("main >> text=To buy", timeout=120_000)
    return faults


def test_at_a_desk_a_chart_draws_is_read_by_keys_and_pointer_and_fetches_its_bundle_late(desk):
    fetched: list[str] = []
    desk.on("request", lambda asked: fetched.append(asked.url))
    faults = open_demo(desk)
    desk.goto("/bed/W2/")
    assert not any("charts." in each for each in fetched)

    chart = desk.locator("details.chart").first
    chart.locator("summary").first.click()
    desk.wait_for_selector(".drawn svg path", timeout=30_000)
    assert any("charts." in each for each in fetched)
    # The curves reach over the months: their scale was understood without eval.
    assert chart.locator(".drawn svg").get_by_text("July", exact=True).count() == 1

    chart.locator(".drawn").focus()
    desk.keyboard.press("ArrowRight")
    desk.keyboard.press("ArrowRight")
    second = chart.locator("tbody tr").nth(1)
    assert "read" in (second.get_attribute("class") or "")
    first_words = chart.locator(".at").inner_text()
    assert second.locator("td").first.inner_text() in first_words

    place = chart.locator(".drawn svg").bounding_box()
    desk.mouse.move(place["x"] + place["width"] * 0.8, place["y"] + place["height"] * 0.7)
    desk.wait_for_function("words => document.querySelector('.at').textContent !== words",
                           arg=first_words)  # fmt: skip
    assert faults == []


def test_at_a_desk_a_number_opens_in_the_margin_that_stays_in_sight(desk):
    open_demo(desk)
    desk.goto("/bed/W2/")
    last = desk.locator("main a.door").last
    last.scroll_into_view_if_needed()
    last.click()
    working = desk.locator("#margin section.working")
    working.wait_for()
    assert desk.evaluate("document.querySelector('#margin').getBoundingClientRect().top") < 400


def test_on_a_telephone_a_number_opens_below_itself_and_closes_again(telephone):
    faults = open_demo(telephone)
    telephone.goto("/bed/W2/")
    door = telephone.locator(".amounts a.door").first
    door.click()
    working = telephone.locator(".below section.working")
    working.wait_for()
    gap = working.bounding_box()["y"] - door.bounding_box()["y"]
    assert 0 < gap < 200
    assert telephone.evaluate("document.documentElement.scrollWidth") <= 390

    working.get_by_role("button", name="Close").click()
    assert telephone.locator(".below").count() == 0
    assert door.evaluate("each => each === document.activeElement")
    assert faults == []
