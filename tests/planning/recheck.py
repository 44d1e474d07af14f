"""A plan's amounts held against the tables' numbers, recomputed from the CSV in plain Python.

Nothing of the package is used: the plan comes as its JSON, the facts come from the table's text.
"""

import csv
import math
from importlib import resources
from typing import Any

ROOM = 2e-6  # the rounding of two solves, a bed's and the garden's
TABLES = resources.files("bedwright.reference").joinpath("tables")


def _rows(table: str) -> list[dict[str, str]]:
    return list(csv.DictReader(TABLES.joinpath(f"{table}.csv").read_text("utf-8").splitlines()))


FACTS: dict[tuple[str, str, str], float] = {}
for _row in _rows("material_facts"):
    if _row["use"] == "yes":
        _ends = [float(_row[end]) for end in ("low", "high") if _row[end]]
        _middle = float(_row["typical"]) if _row["typical"] else sum(_ends) / len(_ends)
        _share = _middle / 100 if _row["unit"] == "%" else _middle
        FACTS.setdefault((_row["material"], _row["property"], _row["condition"]), _share)
KINDS = {row["material"]: row["kind"] for row in _rows("materials")}
LIMES = {"liming", "ash"}  # compost's lime acts slowly: the requirement does not count it
SOLUBLE = {"mineral", "micronutrient", "liming", "acidifier"}


def fact(key: str, name: str, condition: str = "") -> float | None:
    found = FACTS.get((key, name, condition))
    return FACTS.get((key, name, "")) if found is None else found


def season(key: str, nutrient: str, ph: float | None) -> float:
    """Share of a material's mass that is the nutrient and comes free in the first season."""
    whole = fact(key, f"{nutrient}_total") or 0.0
    condition = ""
    if nutrient == "p2o5":
        condition = "ph_above_7_3"
        if ph is not None and ph < 7.3:
            condition = "ph_below_6_5" if ph < 6.5 else "ph_6_5_to_7_3"
    share = fact(key, f"{nutrient[0]}_available_first_season", condition)
    if share is None:
        share = 1.0 if KINDS[key] in SOLUBLE else 0.0
    return whole * share


def salts(key: str) -> float:
    """Salts of a kilogram, counted as sodium nitrate; 0 where they are not known (and said)."""
    if key == "gypsum":  # sparingly soluble: it is not held against the bed
        return 0.0
    ec = fact(key, "ec_1_5")
    if ec is not None:
        return ec * 640 * 5 * 1e-6 * (1 - (fact(key, "moisture") or 0.0))
    return (fact(key, "salt_index") or 0.0) / 100


def reaction(key: str) -> float:
    return fact(key, "calcium_carbonate_equivalent") or fact(key, "acidity") or 0.0


def broken(bed: dict[str, Any], tolerance: float, most_materials: int) -> list[str]:
    """What a bed's plan breaks without saying so."""
    area = bed["area"]["value"]
    ph = next((r["value"] for r in bed["readings"] if r["analyte"] == "ph"), bed.get("ph"))
    before = {line["material"]: line["before_planting"]["value"] / area for line in bed["spread"]}
    later = {line["material"]: line["later"]["value"] / area for line in bed["spread"]}
    codes = {each["code"] for each in bed["findings"]}
    no_source = {
        each["values"]["nutrient"]
        for each in bed["findings"]
        if each["code"] == "no_source_in_shed"
    }
    short = set(bed["blend"]["shortfall_kg_m2"]) if "demands_clash" in codes else set()
    needs = {each["nutrient"]: each for each in bed["needs"]}
    faults: list[str] = []

    def carried(content, *dressings: dict[str, float]) -> float:
        return math.fsum(mass * content(key) for each in dressings for key, mass in each.items())

    def at_least(name: str, given: float, wanted: float) -> None:
        if given < wanted * (1 - 2 * ROOM) and name not in short | no_source:
            faults.append(
                f"{name}: {given:g} kg/m2 where {wanted:g} is needed, and nothing is said"
            )

    def at_most(name: str, given: float, limit: float) -> None:
        if given > limit + ROOM * max(abs(limit), 1e-3):
            faults.append(f"{name}: {given:g} kg/m2 over the limit of {limit:g}")

    def as_said(name: str, given: float) -> None:
        said = bed["blend"]["supplied_kg_m2"].get(name)
        if said is not None and not math.isclose(given, said, rel_tol=1e-6, abs_tol=1e-9):
            faults.append(f"{name}: says {said:g}, the tables make it {given:g}")

    n = carried(lambda key: season(key, "n", ph), before, later)
    wanted_n = bed["nitrogen"]["to_supply"]["value"]
    as_said("n_ceiling", n)
    at_most("n", n, max(bed["nitrogen"]["ceiling"]["value"], wanted_n * (1 + tolerance)))
    if "n_season" in bed["blend"]["supplied_kg_m2"]:
        at_least("n_season", n, wanted_n * (1 - tolerance))
    elif wanted_n > 0.00123 and "n_season" not in no_source:  # 0.25 lb per 1000 ft2
        faults.append("a need of nitrogen is not among the demands")
    for nutrient in ("p2o5", "k2o"):
        fed = carried(lambda key, of=nutrient: season(key, of, ph), before)
        as_said(nutrient, fed)
        amount = needs[nutrient]["amount"]["value"]
        if amount > 0.00123:
            at_least(nutrient, fed, amount * (1 - tolerance))
        if needs[nutrient]["ceiling"] is not None:
            whole = carried(lambda key, of=nutrient: fact(key, f"{of}_total") or 0.0, before, later)
            as_said(f"{nutrient}_ceiling", whole)
            limit = max(needs[nutrient]["ceiling"]["value"], amount * (1 + tolerance))
            at_most(f"{nutrient}_ceiling", whole, limit)
    for nutrient in ("b", "zn", "fe", "mn", "cu"):
        if nutrient in needs:
            fed = carried(lambda key, of=nutrient: fact(key, of) or 0.0, before, later)
            amount = needs[nutrient]["amount"]["value"]
            at_least(nutrient, fed, amount * (1 - tolerance))
            limit = max(needs[nutrient]["ceiling"]["value"], amount * (1 + tolerance))
            at_most(nutrient, fed, limit)
    if bed["salt"]["ceiling"] is not None:
        at_most("salt", carried(salts, before), bed["salt"]["ceiling"]["value"])
    if bed["lime"] is not None:
        bases = carried(lambda key: max(0.0, reaction(key)) if KINDS[key] in LIMES else 0.0, before)
        at_least("lime", bases, bed["lime"]["value"] * (1 - tolerance))
        at_most("lime", bases, bed["lime"]["value"] * (1 + tolerance))
    if len(bed["spread"]) > most_materials:
        faults.append(f"{len(bed['spread'])} materials where {most_materials} are the most")
    both = set(before) & {each["material"] for each in bed["not_to_add"]}
    if both:
        faults.append(f"both spread and not to be added: {', '.join(sorted(both))}")
    return faults
