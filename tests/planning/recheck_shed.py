"""A garden plan's shed and recipes held against what the gardener stated, in plain Python.

Nothing of the package is used: the plan comes as its JSON, the stock as the test wrote it, the
facts from the tables' text.
"""

import math
from dataclasses import dataclass
from typing import Any

from recheck import FACTS, _rows, fact

ROOM = 1e-5  # share of a mass within which it is the same
KILOGRAM = 1e-4
_POUND, _FOOT = 0.45359237, 0.3048
_KG_M2 = {
    "lb/1000 ft2": _POUND / (1000 * _FOOT**2),
    "lb/100 ft2": _POUND / (100 * _FOOT**2),
    "lb/ac": _POUND / (43560 * _FOOT**2),
}
_WHEN = ("one_dressing", "one_dressing_bare_soil", "one_year", "")
_MATERIALS = {row["material"]: row for row in _rows("materials")}
_GRAMS = {row["parameter"]: row for row in _rows("parameters")}
_DOSE_OF = {"cups": "cups", "weight_only": "weighed", "buckets": "bulk"}
_RAW = {row["material"] for row in _rows("material_cautions") if "raw_manure" in row["caution"]}
_UNITS = {(r["material"], r["condition"]): r["unit"] for r in _rows("material_facts")
          if r["property"] == "max_rate" and r["use"] == "yes"}  # fmt: skip


@dataclass(frozen=True)
class Stocked:
    """A line of the stock list as the test wrote it; None where the gardener says nothing."""

    material: str
    package_kg: float | None
    price: float | None
    on_hand_kg: float
    can_buy: bool


def label_most(key: str) -> float | None:
    """The most of a material in one season [kg/m2]; None where no table says."""
    for when in _WHEN:
        if (key, "max_rate", when) in FACTS and (key, when) in _UNITS:
            return FACTS[key, "max_rate", when] * _KG_M2[_UNITS[key, when]]
    for row in _rows("label_rates"):
        if (row["material"], row["assumes"]) == (key, "upper_single_use") and row["high"]:
            return float(row["high"]) * _KG_M2[row["unit"]]
    return None


def least_dose(key: str) -> float:
    """The least of a material that is worth spreading on a bed [kg]."""
    row = _GRAMS[f"least_dose_{_DOSE_OF[_MATERIALS[key]['measure']]}"]
    return float(row["typical"]) * {"g": 1e-3, "kg": 1.0}[row["unit"]]


def broken_shed(
    plan: dict[str, Any],
    stock: list[Stocked],
    *,
    most_materials: int,
    organic_only: bool,
    budget: float | None,
) -> list[str]:
    """What a plan breaks of the shed, the purse and the recipes without saying so."""
    faults = [*_recipes(plan, most_materials)]
    for bed in plan["beds"]:
        faults += [f"{bed['bed']}: {fault}" for fault in _spread(bed, organic_only)]
    return faults + _masses(plan, stock) + _money(plan, budget)


def _taken(bed: dict[str, Any]) -> dict[str, float]:
    return {
        line["material"]: line["before_planting"]["value"] + line["later"]["value"]
        for line in bed["spread"]
    }


def _spread(bed: dict[str, Any], organic_only: bool) -> list[str]:
    faults = []
    for key, mass in _taken(bed).items():
        most, least = label_most(key), least_dose(key)
        rate = mass / bed["area"]["value"]
        if most is not None and rate > most * (1 + ROOM):
            faults.append(f"{key}: {rate} kg/m2 over its label's {most}")
        if mass < least * (1 - 1e-3) and (most is None or rate < most * (1 - 1e-3)):
            faults.append(f"{key}: {mass} kg is less than the {least} worth spreading")
        if organic_only and _MATERIALS[key]["organic_status"] == "prohibited":
            faults.append(f"{key}: spread in an organic garden")
        if key in _RAW:
            faults.append(f"{key}: raw manure")
    return faults


def _recipes(plan: dict[str, Any], most_materials: int) -> list[str]:
    faults, grouped = [], []
    beds = {bed["bed"]: bed for bed in plan["beds"]}
    for group in plan["shared"]["recipe_groups"]:
        grouped += group
        rates = [
            {
                line["material"]: (
                    line["before_planting"]["value"] / beds[bed]["area"]["value"],
                    line["later"]["value"] / beds[bed]["area"]["value"],
                )
                for line in beds[bed]["spread"]
            }
            for bed in group
        ]
        if len(rates[0]) > most_materials:
            faults.append(f"{group}: {len(rates[0])} materials, {most_materials} are the most")
        for bed, other in zip(group[1:], rates[1:], strict=True):
            if other.keys() != rates[0].keys() or any(
                not math.isclose(x, y, rel_tol=1e-6, abs_tol=1e-9)
                for key in other
                for x, y in zip(other[key], rates[0][key], strict=True)
            ):
                faults.append(f"{group}: {bed} has another recipe")
    if sorted(grouped) != sorted(beds):
        faults.append(f"beds {sorted(beds)} in groups {grouped}")
    return faults


def _masses(plan: dict[str, Any], stock: list[Stocked]) -> list[str]:
    faults = []
    taken: dict[str, float] = {}
    for bed in plan["beds"]:
        for key, mass in _taken(bed).items():
            taken[key] = taken.get(key, 0.0) + mass
    bought = {each["material"]: each["bought"] for each in plan["totals"]}
    missing = plan["shared"]["missing_kg"]
    said = sum(each["code"] == "stock_runs_out" for each in plan["shared"]["findings"])
    if said != len(missing):
        faults.append(f"{len(missing)} materials are missing and {said} are said to be")
    for key in sorted({*taken, *bought, *missing}):
        lines = [each for each in stock if each.material == key]
        mass = taken.get(key, 0.0)
        found = _kept(mass, lines, bought.get(key, []), missing.get(key, 0.0))
        found += _packages(lines, bought.get(key, []))
        faults += [f"{key}: {fault}" for fault in found]
    return faults


def _kept(
    mass: float, lines: list[Stocked], bought: list[dict[str, Any]], missing: float
) -> list[str]:
    """Enough is there or said to be missing, and no package is bought that stays shut."""
    faults = []
    held = math.fsum(each.on_hand_kg for each in lines)
    there = held + math.fsum(each["count"] * each["package_kg"] for each in bought)
    room = KILOGRAM + ROOM * (there + mass)
    if mass > there + missing + room:
        faults.append(f"{mass} kg spread of {there} kg, {missing} kg said to be missing")
    if missing > 0 and abs(missing - (mass - held)) > room:
        faults.append(f"{missing} kg said to be missing where {mass - held} are")
    for each in bought:
        if there - (0.0 if each["loose"] else each["package_kg"]) > mass + room:
            faults.append(f"bought {bought}, of which some is never used")
    can_buy = any(each.can_buy for each in lines)
    if bought and not can_buy:
        faults.append("bought, and it cannot be")
    if missing > 0 and can_buy:
        faults.append("missing, and it can be bought")
    return faults


def _packages(lines: list[Stocked], bought: list[dict[str, Any]]) -> list[str]:
    """Packages are whole, and of the size and price that the gardener states."""
    faults = []
    stated = [(each.package_kg, each.price) for each in lines if each.price is not None]
    for each in bought:
        if not each["loose"] and each["count"] != int(each["count"]):
            faults.append(f"{each['count']} whole packages")
        if stated and not any(
            math.isclose(each["package_kg"], size, rel_tol=1e-6)
            and math.isclose(each["price"], price, rel_tol=1e-9)
            for size, price in stated
        ):
            faults.append(f"a package is {each}, stated are {stated}")
    return faults


def _money(plan: dict[str, Any], budget: float | None) -> list[str]:
    faults = []
    paid = math.fsum(
        each["count"] * each["price"] for total in plan["totals"] for each in total["bought"]
    )
    money = plan["shared"]["money"]
    if not math.isclose(paid, money, rel_tol=1e-9, abs_tol=1e-9):
        faults.append(f"money {money}, the packages cost {paid}")
    over = any(each["code"] == "over_budget" for each in plan["shared"]["findings"])
    if budget is not None and over != (money > budget + 1e-9):
        faults.append(f"{money} spent of {budget}, and over_budget is {over}")
    phosphate = math.fsum(
        mass * (fact(key, "p2o5_total") or 0.0)
        for bed in plan["beds"]
        for key, mass in _taken(bed).items()
    )
    if not math.isclose(phosphate, plan["shared"]["phosphate_kg"], rel_tol=1e-6, abs_tol=1e-6):
        faults.append(f"{plan['shared']['phosphate_kg']} kg P2O5, is {phosphate}")
    carried = sum(
        len(next(bed for bed in plan["beds"] if bed["bed"] == group[0])["spread"])
        for group in plan["shared"]["recipe_groups"]
    )
    if carried != plan["shared"]["materials_carried"]:
        faults.append(f"{plan['shared']['materials_carried']} carried, are {carried}")
    return faults
