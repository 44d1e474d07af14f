"""A paper soil report, copied into the form at the kitchen table."""

import re

import pytest

pytestmark = pytest.mark.browser


def test_a_paper_soil_report_is_put_in_mended_and_read_back(desk):
    desk.goto("/start/")
    desk.get_by_role("button", name="Open the demo garden").click()
    desk.goto("/soil/")
    desk.get_by_role("link", name="Put in a soil report").click()
    desk.get_by_label("E9", exact=True).check()
    desk.get_by_label("Sampled on").fill("2026-11-02")
    desk.get_by_label("Depth of the sample").fill("12")
    desk.get_by_label("Laboratory").fill("Valley laboratory")
    desk.get_by_label("Soil reaction (pH)", exact=True).fill("77")
    phosphorus = desk.get_by_role("group", name="line for Phosphorus", exact=True)
    phosphorus.get_by_role("textbox").fill("18.5")
    method = phosphorus.get_by_label("method for Phosphorus")
    assert not any("Saturated" in each for each in method.locator("option").all_inner_texts())
    method.select_option(label="Olsen (0.5 M sodium bicarbonate, pH 8.5)")
    desk.get_by_label("Note").fill("Twelve cores, mixed.")

    desk.get_by_label("Note").press("Tab")
    desk.get_by_role("button", name="Save the report").click()

    assert "pH lies between 2 and 12" in desk.get_by_role("alert").inner_text()
    reaction = desk.get_by_role("group", name="line for Soil reaction (pH)", exact=True)
    assert "between 2 and 12" in reaction.inner_text()
    assert desk.get_by_label("Note").input_value() == "Twelve cores, mixed."
    reaction.get_by_role("textbox").fill("7.7")
    reaction.get_by_role("textbox").press("Enter")

    desk.wait_for_url(re.compile(r"/soil/#report-\d+$"))
    assert "Valley laboratory 2026-11-02 put in" in desk.locator("ul.said").inner_text()
    section = desk.locator("section", has_text="Valley laboratory 2026-11-02")
    row = section.get_by_role("row", name=re.compile("^Phosphorus"))
    assert "18.5 ppm" in row.inner_text()
    assert "Olsen" in row.inner_text()
    row.get_by_text("classes and source").click()
    assert re.search(r"from 10", row.inner_text())
