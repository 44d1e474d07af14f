"""In a real browser: a crop is pinned and tried beside the plan that stands; shade by the hour."""

from __future__ import annotations

import pytest

from conftest import Site

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def own_site(tmp_path_factory):
    """A site of its own: what is pinned here is no other test's garden."""
    served = Site(tmp_path_factory.mktemp("rotation") / "home")
    yield served
    served.end()


@pytest.fixture
def page(chromium, own_site):
    context = chromium.new_context(
        viewport={"width": 390, "height": 844}, base_url=own_site.address
    )
    opened = context.new_page()
    faults: list[str] = []
    opened.on("console", lambda m: faults.append(m.text) if m.type == "error" else None)
    opened.on("pageerror", lambda fault: faults.append(str(fault)))
    opened.goto("/start/")
    opened.get_by_role("button", name="Open the demo garden").click()
    opened.wait_for_selector("text=Kestrel Bend")
    yield opened
    context.close()
    assert [each for each in faults if "422" not in each] == []


def test_a_crop_is_pinned_tried_beside_the_plan_and_kept(page):
    page.goto("/rotation/weights/")
    page.fill("#years", "1")
    page.fill("#near", "0")  # the second step takes its time, and nothing here is asked of it
    page.get_by_role("button", name="Save").click()
    page.wait_for_selector("text=What stands where", timeout=240_000)
    page.wait_for_selector("section.work", state="detached", timeout=240_000)

    page.goto("/bed/E7/")
    page.get_by_role("link", name="Pin another crop here").click()
    assert page.locator("#bed").input_value() == "E7"
    page.select_option("#year", "2027")
    page.fill("#crop", "moonflower seed")
    page.get_by_role("button", name="Try it beside the standing plan").click()
    assert "not a known crop" in page.locator("#crop-said").inner_text()

    page.fill("#crop", "watermelon")
    page.get_by_role("button", name="Try it beside the standing plan").click()
    row = page.locator("tbody tr", has_text="E7").first
    row.wait_for(timeout=240_000)
    assert row.locator("td").nth(0).inner_text() == "2027"
    assert "watermelon" in row.locator("td").nth(2).inner_text()

    page.get_by_role("button", name="Keep it").click()
    page.goto("/rotation/")
    assert page.locator("#pin-0").inner_text() == "watermelon in E7, 2027"
    assert page.locator("section.work:has-text('years')").count() == 0  # what was tried stands
    planned = page.locator(".where-crops > div", has_text="Watermelon")
    assert planned.get_by_text("E7", exact=True).count() == 1


def test_the_shade_follows_the_hour_without_a_new_page(page, request):
    page.goto("/garden/structure/new/")
    page.fill("#id", "barn")
    page.select_option("#kind", "building")
    page.fill("#points", "-25, 0\n-10, 0\n-10, 40\n-25, 40")
    page.fill("#height", "14")
    page.get_by_role("button", name="Save").click()
    page.wait_for_selector("#structure-2")  # after the demo's shed and windbreak

    assert "14 ft high" in page.locator("#structure-2").inner_text()
    page.fill("#on", "2027-06-21")
    page.evaluate("window.stays = true")
    page.select_option("#hour", "19")
    page.wait_for_selector("#shaded svg:has-text('in the west')")
    evening = page.locator("#shaded svg").text_content()
    page.select_option("#hour", "13")
    page.wait_for_selector("#shaded svg:has-text('in the south')")
    noon = page.locator("#shaded svg").text_content()

    assert "in shade: W1" in evening and "in shade: W1" not in noon
    assert page.evaluate("window.stays")
    assert "hour=13" in page.url
    if request.config.getoption("--full"):  # the light is worked after the whole plan
        page.wait_for_selector("text=Light on the beds in June", timeout=120_000)


def test_without_script_the_shade_is_shown_by_its_button(chromium, own_site, page):
    context = chromium.new_context(base_url=own_site.address, java_script_enabled=False)
    plain = context.new_page()
    plain.goto("/garden/shade/")
    plain.select_option("#hour", "12")
    plain.get_by_role("button", name="Show").click()
    assert "noon" in plain.locator("#shaded .for-desk svg").text_content()
    context.close()
