"""In a real browser: a garden of one's own from a few answers, and a change tried and kept."""

import pytest

pytestmark = pytest.mark.browser


def go_on(page):
    page.get_by_role("button", name="Go on").last.click()


def test_a_garden_is_made_from_a_few_answers_on_a_telephone(telephone):
    telephone.goto("/start/garden/place/")
    telephone.fill("[name=name]", "North field")
    go_on(telephone)
    telephone.fill("[name=many_0]", "2")
    telephone.fill("[name=called_0]", "N")
    telephone.fill("[name=length_0]", "30")
    telephone.fill("[name=width_0]", "4")
    go_on(telephone)
    telephone.fill("[name=crop_N1]", "carrot")
    go_on(telephone)
    telephone.locator("button[value=later]").click()

    telephone.wait_for_selector("text=North field")
    telephone.goto("/bed/N1/")
    telephone.wait_for_selector("section.work", state="detached", timeout=60_000)
    assert "carrot" in telephone.inner_text("h1")


def test_a_change_is_tried_beside_the_standing_plan_and_kept(desk):
    desk.goto("/start/")
    desk.get_by_role("button", name="Open the demo garden").click()
    desk.wait_for_selector("header >> text=Kestrel Bend")
    desk.goto("/what-if/")
    pepper = desk.locator("#want option", has_text="sweet pepper").first
    desk.select_option("#want", value=pepper.get_attribute("value"))
    desk.fill("#compost", "0")
    desk.get_by_role("button", name="Try it").click()
    desk.wait_for_selector("text=Bed by bed", timeout=90_000)
    assert "W2" in desk.inner_text("main")
    desk.get_by_role("button", name="Keep it").click()

    desk.wait_for_selector("text=Kept: sweet pepper")
