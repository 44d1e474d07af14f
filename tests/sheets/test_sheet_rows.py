"""The rows on a bed's sheet: the counts of its layout, and what to mind before posts are driven."""

from datetime import date

import pytest
from reading_sheets import WORDS, pages, pdf

from bedwright.season import SeasonPlan
from bedwright.sheets.content import sheet_content


@pytest.mark.parametrize("garden", ["kestrel_plan", "ennery_plan"])
def test_the_sheet_has_the_plants_and_posts_of_the_layout(
    garden: str, request: pytest.FixtureRequest
):
    plan: SeasonPlan = request.getfixturevalue(garden)
    system = plan.document.garden.garden.units
    with_posts = 0
    for each in plan.beds:
        bed = each.prescription.bed.id
        layout = plan.layout_of(each)
        assert layout is not None

        told = sheet_content(plan, bed, WORDS, system)

        text = " ".join(told.rows)
        for count in layout.counts:
            assert f"{count.plants.value:.0f} plants" in text
        for parts in layout.trellises:
            assert f"{parts.posts} {'posts' if parts.kind == 'panel' else 'stakes'}" in text
            with_posts += 1
        assert bool(told.rows_caution) == bool(layout.trellises)
        assert "data-row" in told.drawings[0]
    assert with_posts >= 1


def test_on_paper_the_caution_stands_before_the_posts(kestrel_plan: SeasonPlan):
    system = kestrel_plan.document.garden.garden.units
    made = sheet_content(kestrel_plan, "W10", WORDS, system)

    (page,) = pages(pdf([made]))

    assert page.index("811") < page.index("posts, 8 ft")
    assert kestrel_plan.as_of == date(2026, 11, 25)
