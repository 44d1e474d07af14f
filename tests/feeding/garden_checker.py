"""What is wrong with a garden's blend, by plain sums over plain numbers.

Nothing here calls the program: only the fields of its records are read, each made a plain float.
"""

import math

KEPT = 3e-6  # share of a bound within which it counts as kept
DOSE = 1e-3  # share of a least dose: the solver's rounding on half a gram
KILOGRAM = 2e-5  # kg that the shed may lack, beyond a share of what it holds
MOST_OF_ALL = 250.0  # kg/m2, where a material has no cap of its own


def faults_of(groups, shed, p2o5, found, *, budget=None, gap=0.01, tight=True, to_the_gram=False):
    """Everything that a garden's blend breaks or says wrongly; an empty list where it is right.

    ``tight``: no package may be bought of which nothing is used; ``to_the_gram``: nor may more
    than is spread of what is sold by weight.
    """
    faults = []
    for at, group in enumerate(groups):
        before = [float(x) for x in found.preplant[at]]
        later = [float(x) for x in found.later[at]]
        faults += [f"group {at}: {fault}" for fault in _recipe(group, before, later)]
        for demand in group.demands:
            faults += [f"group {at}: {fault}" for fault in _demand(demand, before, later)]
    faults += _shed(groups, shed, found, tight, to_the_gram)
    faults += _sums(groups, shed, p2o5, found)
    if budget is not None and found.money > budget * (1 + KEPT) + 1e-9:
        faults.append(f"{found.money} spent where {budget} is the budget")
    if found.aims[0] == "money" and found.money > 0.01:
        held = 1.0 if len(found.aims) == 1 else 1.01
        proven = held * max(found.bound, 0.0) / (1 - gap) + 0.01 * (len(found.aims) > 1)
        if found.money > proven * (1 + 1e-5) + 1e-5:
            faults.append(f"money {found.money} is not proven within {gap} by {found.bound}")
    return faults


def _recipe(group, before, later):
    bags = group.candidates
    faults, used = [], 0
    for at, key in enumerate(bags.keys):
        x, y = before[at], later[at]
        cap, dose = min(float(bags.most[at]), MOST_OF_ALL), float(bags.least[at])
        used += x + y > 0
        if not (math.isfinite(x) and math.isfinite(y)) or x < 0 or y < 0:
            faults.append(f"{key}: {x} and {y} are not masses")
        if x + y > cap * (1 + KEPT):
            faults.append(f"{key}: {x + y} over its label's most, {cap}")
        if 0 < x + y < dose * (1 - DOSE):
            faults.append(f"{key}: {x + y} under its least dose {dose}")
        if y > 0 and not bool(bags.later[at]):
            faults.append(f"{key}: {y} later, which it may not be")
    if used > group.most_materials:
        faults.append(f"{used} materials where {group.most_materials} are the most")
    return faults


def _demand(demand, before, later):
    parts = [float(a) * x for a, x in zip(demand.preplant, before, strict=True)]
    parts += [float(b) * y for b, y in zip(demand.later, later, strict=True)]
    given = math.fsum(parts)
    room = KEPT * (max(abs(demand.lower or 0.0), abs(demand.upper or 0.0)) or 1.0)
    if demand.lower is not None and given < demand.lower - room:
        return [f"{demand.key}: {given} under {demand.lower}"]
    if demand.upper is not None and given > demand.upper + room:
        return [f"{demand.key}: {given} over {demand.upper}"]
    return []


def used_of(groups, found):
    """The mass of each material that a garden takes [kg]."""
    used = {}
    for at, group in enumerate(groups):
        for k, key in enumerate(group.candidates.keys):
            mass = float(found.preplant[at][k]) + float(found.later[at][k])
            used[key] = used.get(key, 0.0) + mass * float(group.area_m2)
    return used


def _shed(groups, shed, found, tight, to_the_gram):
    faults = []
    if len(found.bought) != len(shed.packages):
        return [f"{len(found.bought)} counts for {len(shed.packages)} packages"]
    bought, smallest = {}, {}
    for count, package in zip(found.bought, shed.packages, strict=True):
        if not math.isfinite(count) or count < 0:
            faults.append(f"{package.key}: {count} packages")
        if not package.loose and count != int(count):
            faults.append(f"{package.key}: {count} of a package that is sold whole")
        bought[package.key] = bought.get(package.key, 0.0) + count * package.mass_kg
        if count > 0 and (to_the_gram if package.loose else tight):
            unit = 0.0 if package.loose else package.mass_kg
            smallest[package.key] = min(smallest.get(package.key, math.inf), unit)
    for key, mass in used_of(groups, found).items():
        there = float(shed.on_hand.get(key, 0.0)) + bought.get(key, 0.0)
        room = KILOGRAM + KEPT * there
        if mass > there + room:
            faults.append(f"{key}: {mass} kg spread of {there} kg")
        if key in smallest and there - smallest[key] > mass + room:
            faults.append(f"{key}: {mass} kg spread, and {there} kg bought or on hand")
    return faults


def _sums(groups, shed, p2o5, found):
    faults = []
    money = math.fsum(
        count * float(package.price)
        for count, package in zip(found.bought, shed.packages, strict=True)
    )
    if not math.isclose(money, found.money, rel_tol=1e-9, abs_tol=1e-9):
        faults.append(f"money {found.money}, the packages cost {money}")
    phosphate, carried = [], 0
    for at, group in enumerate(groups):
        for k in range(len(group.candidates.keys)):
            mass = float(found.preplant[at][k]) + float(found.later[at][k])
            phosphate.append(float(p2o5[at][k]) * mass * float(group.area_m2))
            carried += mass > 0
    if not math.isclose(math.fsum(phosphate), found.phosphorus, rel_tol=1e-9, abs_tol=1e-9):
        faults.append(f"phosphate {found.phosphorus}, is {math.fsum(phosphate)}")
    if carried != found.carried:
        faults.append(f"{found.carried} materials carried, are {carried}")
    return faults
