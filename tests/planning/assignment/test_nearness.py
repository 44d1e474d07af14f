"""Beds that lie near each other, and what the years ahead make of it."""

import pytest
from gardens import AS_OF, LIBRARY, beds, document_of

from bedwright.planning.assignment.ahead import years_ahead
from bedwright.planning.assignment.units import beside, nearness, units_of


def placed(*corners: tuple[str, float]) -> str:
    return "".join(
        f'[[bed]]\nid = "{name}"\nlength = "10 m"\nwidth = "1 m"\nlong_axis = "N-S"\n'
        f'corner = ["{east} m", "0 m"]\n'
        for name, east in corners
    )


def test_beds_across_a_path_are_neighbors_and_those_far_off_are_not_near():
    document = document_of(placed(("1", 0), ("2", 1.6), ("3", 12), ("4", 40)))
    units = units_of(document)
    near = nearness(document, units)

    assert beside(document, units) == ((0, 1),)
    assert near[0, 1] == 1.0
    # The gap between 1 and 3 is 11 m: 1 less 9.5 of the 18.5 m from a path's width to 20 m.
    assert near[0, 2] == pytest.approx(1 - 9.5 / 18.5)
    assert near[0, 3] == 0.0


def test_beds_without_corners_are_near_nobody():
    document = document_of(beds("1", "2"))

    assert nearness(document, units_of(document)) is None


def test_one_crop_is_planted_side_by_side_where_nothing_else_decides():
    body = "[rotation]\nyears = 1\n[rotation.weights]\nrest = 0\n"
    body += placed(("1", 0), ("2", 5), ("3", 10), ("4", 11.6))
    body += '[[wish]]\ncrop = "beet"\nbeds = 2\n[[wish]]\ncrop = "carrot"\nbeds = 1\n'
    ahead = years_ahead(document_of(body), LIBRARY, AS_OF)

    assert {x.unit.bed for x in ahead.placements if x.crop.id == "beet"} == {"3", "4"}
