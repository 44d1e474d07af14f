"""Plantings moved so that one crop's beds lie near each other."""

import numpy as np
import pytest
from gardens import AS_OF, LIBRARY, beds, document_of

from bedwright.planning.assignment.ahead import years_ahead
from bedwright.planning.assignment.exchange import exchanged
from bedwright.planning.assignment.units import beside, nearness, units_of
from bedwright.planning.rotation.problem import KeepApart, RotationProblem, Wish
from bedwright.planning.rotation.score import objective_of

ROW = np.array([[0.0, 1.0, 0.0], [1.0, 0.0, 1.0], [0.0, 1.0, 0.0]])


def three_in_a_row(worth: float = 0.0, **changes: object) -> RotationProblem:
    """Units in a row; two crops of one year and day; two plantings of the first are wanted."""
    amount = np.tile([1.0, 0.0], (3, 1))
    settings: dict[str, object] = {
        "starts": np.array([0, 0]),
        "ends": np.array([10, 10]),
        "years": np.array([2027, 2027]),
        "allowed": np.ones((3, 2), dtype=bool),
        "worth": np.array([[0.0, 0.0], [-worth, 0.0], [0.0, 0.0]]),
        "apart": (),
        "wishes": (Wish("two", amount, 2.0, 2.0, 10.0, False),),
        "nearness": ROW,
        "crop": np.array([0, 1]),
        "nearness_weight": 1.0,
    }
    return RotationProblem(**(settings | changes))  # type: ignore[arg-type]


APART = np.array([[True, False], [False, True], [True, False]])


def test_two_beds_of_a_crop_come_to_lie_side_by_side_and_the_other_crop_gives_way():
    problem = three_in_a_row()
    found = exchanged(problem, APART, problem.crop, -1e9)

    assert found.gain == pytest.approx(1.0)
    assert found.chosen[1, 0]
    assert found.chosen.sum() == 3
    assert objective_of(problem, found.chosen) == pytest.approx(-found.loss)


@pytest.mark.parametrize(("worth", "moves"), [(0.5, True), (1.5, False)])
def test_a_bed_moves_only_where_nearness_is_worth_more_than_what_is_lost(worth: float, moves: bool):
    problem = three_in_a_row(worth)

    assert (exchanged(problem, APART, problem.crop, -1e9).gain > 0) == moves


def test_no_more_is_given_up_than_is_allowed():
    problem = three_in_a_row(0.5)

    assert exchanged(problem, APART, problem.crop, -0.4).gain == 0


def test_a_move_keeps_what_is_barred_and_what_must_stay_apart():
    barred = np.ones((3, 2), dtype=bool)
    barred[1, 0] = False
    group = KeepApart("kin", np.array([True, True]), np.array([-1, 0, -1]))
    both = np.array([[True, False], [False, True], [True, False]])

    assert exchanged(three_in_a_row(allowed=barred), both, np.array([0, 1]), -1e9).gain == 0
    assert exchanged(three_in_a_row(apart=(group,)), both, np.array([0, 1]), -1e9).gain == 1


def test_covers_need_not_lie_near_each_other():
    problem = three_in_a_row()

    assert exchanged(problem, APART, np.array([-1, -1]), -1e9).gain == 0


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
