"""Rotations checked and searched in plain Python, with nothing of the solver but the problem."""

import itertools
from collections.abc import Iterator


def faults(problem, chosen) -> list[str]:
    """Every rule that a plan breaks, in words."""
    found = []
    plan = [sorted_options(problem, row) for row in chosen]
    for unit, options in enumerate(plan):
        found += unit_faults(problem, unit, options)
    for one, other in problem.beside:
        found += beside_faults(problem, one, other, plan[one], plan[other])
    for wish in problem.wishes:
        given = sum(wish.amount[u][o] for u, options in enumerate(plan) for o in options)
        if given > wish.most + 1e-6:
            found.append(f"{wish.name}: {given} is more than {wish.most}")
        if wish.required and given < wish.wanted - 1e-6:
            found.append(f"{wish.name}: {given} is less than {wish.wanted}")
    return found


def unit_faults(problem, unit, options) -> list[str]:
    found = [f"{unit} can't have {o}" for o in options if not problem.allowed[unit][o]]
    for one, other in itertools.combinations(options, 2):
        if share_a_day(problem, one, other):
            found.append(f"{unit}: {one} and {other} at once")
        for group in problem.apart:
            both = group.members[one] and group.members[other]
            if both and too_soon(problem, group, unit, one, other):
                found.append(f"{unit}: {one} and {other} of {group.name} too soon")
    return found


def share_a_day(problem, one, other) -> bool:
    return bool(set(range(problem.starts[one], problem.ends[one]))
                & set(range(problem.starts[other], problem.ends[other])))  # fmt: skip


def too_soon(problem, group, unit, one, other) -> bool:
    if group.years_away[unit] < 0:
        return False
    first, then = sorted((one, other), key=lambda o: problem.starts[o])
    if group.gap_days is not None:
        return bool(problem.starts[then] - problem.ends[first] < group.gap_days)
    years_between = abs(int(problem.years[one]) - int(problem.years[other])) - 1
    return years_between < group.years_away[unit]


def beside_faults(problem, one, other, mine, theirs) -> list[str]:
    found = []
    for group in problem.apart_beside:
        if group.years_away[one] < 0 or group.years_away[other] < 0:
            continue
        for a, b in itertools.product(mine, theirs):
            if group.members[a] and group.members[b] and share_a_day(problem, a, b):
                found.append(f"{group.name} on {one} and {other}: {a} and {b}")
    return found


def sorted_options(problem, row) -> list[int]:
    return sorted((o for o, taken in enumerate(row) if taken), key=lambda o: problem.starts[o])


def value(problem, plan) -> float:
    """The objective of a plan: for each unit its options in the order of time."""
    total = sum(problem.worth[u][o] for u, options in enumerate(plan) for o in options)
    for wish in problem.wishes:
        if not wish.required:
            given = sum(wish.amount[u][o] for u, options in enumerate(plan) for o in options)
            total -= wish.weight * max(0.0, wish.wanted - given)
    for each in problem.successions:
        for unit, options in enumerate(plan):
            if options:
                total += each.history[unit][options[0]]
            for one, then in itertools.pairwise(options):
                if each.before[one] >= 0 and each.after[then] >= 0:
                    total += each.score[each.before[one]][each.after[then]]
    return float(total)


def contents(problem, unit) -> list[list[int]]:
    """Everything that a unit may carry."""
    options = [o for o in range(len(problem.starts)) if problem.allowed[unit][o]]
    found = []
    for size in range(len(options) + 1):
        for some in itertools.combinations(options, size):
            ordered = sorted(some, key=lambda o: problem.starts[o])
            if not unit_faults(problem, unit, ordered):
                found.append(ordered)
    return found


def plans(problem) -> Iterator[list[list[int]]]:
    """Every plan that breaks no rule."""
    width = len(problem.starts)
    for plan in itertools.product(*(contents(problem, u) for u in range(len(problem.allowed)))):
        if not faults(problem, [[o in options for o in range(width)] for options in plan]):
            yield list(plan)


def best_value(problem) -> float | None:
    """The greatest objective of all plans; None where there is none."""
    return max((value(problem, plan) for plan in plans(problem)), default=None)
