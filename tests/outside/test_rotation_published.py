"""Four published rotation instances: the occupied plot-periods of the best plan.

The problem is that of Santos, Michelon, Arenales and Santos, Crop rotation scheduling with
adjacency constraints, Annals of Operations Research 190, 2011: 27 crops of 9 families, 24 periods;
a period free between crops of one family, no family at once on neighboring plots. The
optima 21, 78, 195 and 489 were found exactly for these data by another program.
"""

import json
from pathlib import Path

import numpy as np
import pulp
import pytest

from bedwright.planning.rotation.problem import KeepApart, RotationProblem
from bedwright.planning.rotation.solve import SolveLimits, solve

DATA = Path(__file__).parent / "data"
BEST = (21, 78, 195, 489)
SLOW = pytest.mark.full


def instance(number: int) -> dict:
    return json.loads((DATA / f"crop_rotation_problem{number}.json").read_text(encoding="utf-8"))


def rotation(number: int) -> RotationProblem:
    """One option for each crop and period of sowing that ends within the horizon."""
    data = instance(number)
    rows = [
        (at, start, start + crop["grow_time"])
        for at, crop in enumerate(data["crops"])
        for start in range(crop["planting"][0], crop["planting"][1] + 1)
        if start + crop["grow_time"] - 1 <= data["time_units"]
    ]
    crop, starts, ends = (np.array(each) for each in zip(*rows, strict=True))
    family = np.array([each["family"] for each in data["crops"]])[crop]
    plots = [plot for plot, _ in data["plot_adjacency"]]
    at = {plot: n for n, plot in enumerate(plots)}
    beside = {
        tuple(sorted((at[one], at[other])))
        for one, others in data["plot_adjacency"]
        for other in others
    }
    shape = (len(plots), len(rows))
    groups = [
        KeepApart(str(name), family == name, np.zeros(len(plots), dtype=int), gap_days=1)
        for name in np.unique(family)
    ]
    return RotationProblem(
        starts, ends, np.zeros(len(rows), dtype=int), np.ones(shape, dtype=bool),
        np.broadcast_to((ends - starts).astype(float), shape), tuple(groups), (),
        beside=tuple(sorted(beside)), apart_beside=tuple(groups), crop=crop,
    )  # fmt: skip


def best_by_second_solver(problem: RotationProblem) -> float:
    """The same problem written period by period for another solver, from the problem alone."""
    model = pulp.LpProblem("rotation", pulp.LpMaximize)
    units, options = range(problem.units), range(problem.options)
    take = {
        (u, o): pulp.LpVariable(f"take_{u}_{o}", cat="Binary")
        for u in units
        for o in options
        if problem.allowed[u, o]
    }
    model += pulp.lpSum(float(problem.worth[key]) * each for key, each in take.items())

    def standing(u, members, day, longer=0):
        return [
            take[u, o]
            for o in options
            if members[o] and (u, o) in take and problem.starts[o] <= day < problem.ends[o] + longer
        ]

    everything = np.ones(problem.options, dtype=bool)
    for day in range(int(problem.starts.min()), int(problem.ends.max())):
        for u in units:
            model += pulp.lpSum(standing(u, everything, day)) <= 1
            for group in problem.apart:
                model += pulp.lpSum(standing(u, group.members, day, group.gap_days)) <= 1
        for one, other in problem.beside:
            for group in problem.apart_beside:
                both = standing(one, group.members, day) + standing(other, group.members, day)
                model += pulp.lpSum(both) <= 1
    status = model.solve(pulp.PULP_CBC_CMD(msg=False, threads=1))

    assert pulp.LpStatus[status] == "Optimal"
    return float(pulp.value(model.objective))


@pytest.mark.parametrize("number", range(4))
def test_our_search_finds_the_best_plan_of_a_published_instance(number):
    found = solve(rotation(number), SolveLimits(gap=0.0, nodes=100_000))

    assert found.objective == BEST[number]
    assert found.bound == pytest.approx(BEST[number], abs=1e-4)


@pytest.mark.filterwarnings("ignore:.*PuLP 4:DeprecationWarning")
@pytest.mark.filterwarnings("ignore:.*PuLP 4.0:DeprecationWarning")
@pytest.mark.parametrize("number", [0, 1, 2, pytest.param(3, marks=SLOW)])
def test_a_second_solver_finds_the_same_best_plan(number):
    assert best_by_second_solver(rotation(number)) == pytest.approx(BEST[number])
