"""One crop's beds brought near each other in a second step."""

import numpy as np
import pytest

from bedwright.planning.rotation.neighbors import nearer
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
    found = nearer(problem, APART, -1e9)

    assert found.gain == pytest.approx(1.0)
    assert found.chosen[1, 0]
    assert found.chosen.sum() == 3
    assert objective_of(problem, found.chosen) == pytest.approx(-found.loss)


@pytest.mark.parametrize(("worth", "moves"), [(0.5, True), (1.5, False)])
def test_a_bed_moves_only_where_nearness_is_worth_more_than_what_is_lost(worth: float, moves: bool):
    problem = three_in_a_row(worth)

    assert (nearer(problem, APART, -1e9).gain > 0) == moves


def test_no_more_is_given_up_than_is_allowed():
    problem = three_in_a_row(0.5)

    assert nearer(problem, APART, -0.4).gain == 0


def test_a_move_keeps_what_is_barred_and_what_must_stay_apart():
    barred = np.ones((3, 2), dtype=bool)
    barred[1, 0] = False
    group = KeepApart("kin", np.array([True, True]), np.array([-1, 0, -1]))
    both = np.array([[True, False], [False, True], [True, False]])

    assert nearer(three_in_a_row(allowed=barred), both, -1e9).gain == 0
    assert nearer(three_in_a_row(apart=(group,)), both, -1e9).gain == 1


def test_covers_need_not_lie_near_each_other():
    problem = three_in_a_row(crop=np.array([-1, -1]))

    assert nearer(problem, APART, -1e9).gain == 0
