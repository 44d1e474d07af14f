"""What is said not to fit together does not, by trying every week of each task; and no task of it
is too many."""

import math

import numpy as np
import pytest
from work_checker import best_of_all
from work_gardens import AS_OF, plan_of, random_garden

from bedwright.planning.work.done import standing
from bedwright.planning.work.model import Act
from bedwright.planning.work.overload import part_of
from bedwright.planning.work.problem import WorkProblem
from bedwright.planning.work.schedule import lay

MOST_WAYS = 20_000
FULL = [pytest.param(seed, marks=pytest.mark.full) for seed in range(6, 300)]


def ways(problem: WorkProblem) -> int:
    return math.prod((problem.last // 7 - problem.first // 7 + 1).tolist())


def fits(problem: WorkProblem, members: np.ndarray) -> bool:
    return math.isfinite(best_of_all(part_of(problem, members), all_done=True))


@pytest.mark.parametrize("seed", [1, 5, *FULL])
def test_overloads_of_random_gardens_are_true_and_none_of_their_tasks_is_too_many(seed: int):
    plan = plan_of(random_garden(seed))
    work, stated = plan.work, plan.document.garden.work
    assert work is not None
    done = [Act("clear", each.on, each.bed) for each in plan.document.garden.labor_done]
    told = [each for each in work.assigned if each.done]
    laid = lay(standing(work.tasks, done, AS_OF), stated, AS_OF)
    place = {each.id: at for at, each in enumerate(laid.tasks)}
    assert not {each.task for each in told} & place.keys()
    if any(each.why == "hours" for each in work.left_out):
        assert work.overloads or work.choices
    for each in work.overloads:
        members = np.zeros(laid.problem.tasks, dtype=bool)
        members[[place[key] for key in each.tasks]] = True
        assert laid.problem.hours[members].sum() == pytest.approx(each.hours)
        if ways(part_of(laid.problem, members)) > MOST_WAYS:
            continue
        assert not fits(laid.problem, members)
        for at in np.flatnonzero(members):
            others = members.copy()
            others[at] = False
            assert fits(laid.problem, others)
