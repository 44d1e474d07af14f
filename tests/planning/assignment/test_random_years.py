"""Any garden's plan of years keeps its rules, by a check that shares no code with the search."""

import json
from pathlib import Path

import hypothesis.strategies as st
import pytest
from gardens import AS_OF, LIBRARY, NO_EXTRAS, WEATHER, document_of
from hypothesis import given, settings
from recheck_years import faults

from bedwright.planning.assignment.ahead import years_ahead
from bedwright.reports.rotation_json import years_dict

CROPS = ("tomato", "sweet pepper", "potato", "lettuce", "spinach", "beet", "carrot", "onion",
         "garlic", "cabbage", "radish", "cucumber", "winter squash", "snap bean", "pea",
         "sweet corn")  # fmt: skip
PROBLEMS = ("clubroot", "white rot", "verticillium wilt", "root_knot_warm")


@st.composite
def gardens(draw: st.DrawFn) -> str:
    """A garden of up to six beds with history, wishes, pins and problems."""
    names = [str(at + 1) for at in range(draw(st.integers(1, 6)))]
    crop = st.sampled_from(CROPS)
    away = draw(st.integers(0, 4))
    body = NO_EXTRAS.format(
        more=f"first_year = 2027\nyears = {draw(st.integers(1, 4))}\nyears_away = {away}\n"
    )
    if draw(st.booleans()):
        body = body.replace("rest = 0\n", "rest = 0.5\n")
    for name in names:
        parts = draw(st.sampled_from((1, 1, 1, 2)))
        body += f'[[bed]]\nid = "{name}"\nlength = "50 ft"\nwidth = "4 ft"\nparts = {parts}\n'
        for year in (2024, 2025, 2026):
            if draw(st.booleans()):
                body += f'[[history]]\nbed = "{name}"\nyear = {year}\ncrop = "{draw(crop)}"\n'
    for each in draw(st.lists(crop, min_size=1, max_size=5, unique=True)):
        must = "must = true\n" if draw(st.integers(0, 4)) == 0 else ""
        body += f'[[wish]]\ncrop = "{each}"\nbeds = {draw(st.sampled_from((0.5, 1, 2, 3)))}\n{must}'
    for name in draw(st.lists(st.sampled_from(names), max_size=2, unique=True)):
        what = f'crop = "{draw(crop)}"\n' if draw(st.booleans()) else ""
        body += f'[[pin]]\nbed = "{name}"\nyear = 2027\n{what}'
    if draw(st.booleans()):
        bed, found = draw(st.sampled_from(names)), draw(st.integers(2018, 2026))
        body += f'[[bed_problem]]\nproblem = "{draw(st.sampled_from(PROBLEMS))}"\n'
        body += f'beds = ["{bed}"]\nfound = {found}\n'
    return body + (WEATHER if draw(st.integers(0, 3)) == 0 else "")


def holds(body: str) -> None:
    document = document_of(body)
    told = json.loads(json.dumps(years_dict(years_ahead(document, LIBRARY, AS_OF))))

    assert faults(document.text, told) == []


@given(gardens())
def test_a_plan_of_any_garden_keeps_its_rules(body: str):
    holds(body)


@pytest.mark.full
@settings(max_examples=500)
@given(gardens())
def test_the_plans_of_five_hundred_gardens_keep_their_rules(body: str):
    holds(body)


@pytest.mark.full
def test_where_the_interior_point_gives_up_the_simplex_goes_on():
    """A garden found at random, on which the solver's interior point ended with an error."""
    holds((Path(__file__).parent / "interior_point_gives_up.toml").read_text(encoding="utf-8"))
