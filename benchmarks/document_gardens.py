"""Garden documents with many beds, many soils and a full shed, invented at random.

Unlike ``shared_gardens``, where needs and prices are numbers at random, these say what a gardener
says: soil reports, crops, stock and prices. What a bed needs and which materials serve it are then
bedwright's own working. Climate and watering are Kestrel Bend's; all else is drawn here.
"""

from __future__ import annotations

import csv
import tomllib
from dataclasses import dataclass
from datetime import date
from importlib import resources
from pathlib import Path
from typing import Any

import numpy as np
import tomlkit

from bedwright.garden import Document
from bedwright.garden.load import load_text
from bedwright.reference import Library

AS_OF = date(2026, 11, 25)
DEMO = Path(str(resources.files("bedwright.demo")))
PRICES = Path(__file__).parent / "typical_prices.csv"
LB_KG = 0.45359237
CROPS = {
    "tomato": date(2027, 5, 10),
    "sweet pepper": date(2027, 5, 15),
    "chile pepper": date(2027, 5, 15),
    "eggplant": date(2027, 5, 18),
    "muskmelon": date(2027, 5, 17),
    "winter squash": date(2027, 5, 20),
    "pole bean": date(2027, 5, 8),
    "cucumber": date(2027, 5, 14),
    "cabbage": date(2027, 3, 28),
    "broccoli": date(2027, 3, 28),
    "potato": date(2027, 4, 8),
    "onion": date(2027, 3, 20),
    "carrot": date(2027, 4, 5),
    "beet": date(2027, 4, 2),
    "lettuce": date(2027, 3, 25),
    "spinach": date(2027, 3, 10),
    "chard": date(2027, 4, 10),
}
# Analyte, method, unit, and from how little to how much a report may say; drawn by ratio.
REPORTED = (
    ("EC", "saturated paste", "dS/m", 0.4, 2.5),
    ("Organic matter", "loss on ignition", "%", 1.2, 5.0),
    ("NO3-N", "KCl", "ppm", 4.0, 40.0),
    ("Phosphorus", "Olsen", "ppm", 6.0, 70.0),
    ("Potassium", "NH4OAc", "ppm", 80.0, 450.0),
    ("Calcium", "NH4OAc", "ppm", 900.0, 3800.0),
    ("Magnesium", "NH4OAc", "ppm", 60.0, 450.0),
    ("Sodium", "NH4OAc", "ppm", 20.0, 120.0),
    ("CEC", "NH4OAc", "meq/100 g", 9.0, 22.0),
    ("SO4-S", "calcium phosphate", "ppm", 4.0, 30.0),
    ("Boron", "hot water", "ppm", 0.2, 1.2),
    ("Zn", "DTPA", "ppm", 0.3, 4.0),
    ("Fe", "DTPA", "ppm", 2.0, 12.0),
    ("Mn", "DTPA", "ppm", 1.0, 8.0),
    ("Cu", "DTPA", "ppm", 0.3, 2.0),
)


@dataclass(frozen=True)
class Kind:
    """What sort of gardens: how poor the soils, how full the shed, how long the beds [ft].

    ``on_hand`` is how often a material is in stock; ``materials`` counts those that the document
    tells of, in stock or to be bought; ``blends`` are bagged blends of other labels beside them.
    """

    name: str
    poor: bool
    on_hand: float
    shortest_ft: int
    longest_ft: int
    materials: int = 45
    blends: int = 0


KINDS = (
    Kind("soils of all sorts, stock of 4 materials in 10", False, 0.4, 20, 60),
    Kind("poor soils, the same stock", True, 0.4, 20, 60),
    Kind("poor soils, an empty shed", True, 0.0, 20, 60),
    Kind("poor soils, an empty shed, long beds", True, 0.0, 60, 100),
    Kind("poor soils, an empty shed, 61 materials and 16 blends to buy", True, 0.0, 20, 60, 61, 16),
)


def garden_document(
    seed: int,
    kind: Kind,
    library: Library,
    *,
    beds: int = 40,
    groups: int = 10,
    most: int = 6,
) -> Document:
    """A garden of so many beds, alike in so many groups."""
    dice = np.random.default_rng(seed)
    demo: dict[str, Any] = tomllib.loads((DEMO / "kestrel_bend.toml").read_text(encoding="utf-8"))
    data = {part: demo[part] for part in ("format", "garden", "climate", "watering", "weather")}
    data["garden"] |= {"name": f"Invented garden {seed}"}
    data["limits"] = {"most_materials": most}
    data |= {"bed": [], "soil_report": [], "want": []}
    crops = dice.choice(list(CROPS), groups, replace=groups > len(CROPS))
    for at, crop in enumerate(map(str, crops)):
        length = int(dice.integers(kind.shortest_ft, kind.longest_ft + 1))
        ids = [f"{at + 1}-{nth + 1}" for nth in range(beds // groups)]
        data["bed"] += [
            {"id": each, "length": f"{length} ft", "width": "4 ft", "texture": "silt loam"}
            for each in ids
        ]
        data["soil_report"].append(_report(f"soil {at + 1}", ids, kind, dice))
        data["want"].append({"crop": crop, "beds": ids, "set_out": CROPS[crop]})
    data["stock"] = _stock(kind, library, dice)
    if kind.blends:
        _add_blends(data, kind.blends, dice)
    return load_text(tomlkit.dumps(data), f"garden {seed}", DEMO, library, AS_OF)


def _report(name: str, beds: list[str], kind: Kind, dice: np.random.Generator) -> dict[str, Any]:
    acidity = round(float(dice.uniform(6.0, 8.1)), 1)
    results: list[dict[str, Any]] = [
        {"analyte": "pH", "value": acidity, "method": "1:1 soil:water"}
    ]
    if acidity > 7.3:
        lime = dice.uniform(0.5, 4.0)
        results.append({"analyte": "Free lime", "value": f"{lime:.1f} %", "method": "calcimeter"})
    for analyte, method, unit, least, most in REPORTED:
        upper = (least * most) ** 0.5 if kind.poor else most
        value = float(f"{np.exp(dice.uniform(np.log(least), np.log(upper))):.2g}")
        results.append({"analyte": analyte, "value": f"{value:g} {unit}", "method": method})
    return {
        "id": name,
        "beds": beds,
        "sampled": date(2026, 10, 14),
        "depth": "12 in",
        "texture": "silt loam",
        "results": results,
    }


def _stock(kind: Kind, library: Library, dice: np.random.Generator) -> list[dict[str, Any]]:
    """One size of package for each material: small ones of what is weighed by the ounce."""
    rows = {row["material"]: row for row in library.rows("materials")}
    with PRICES.open(encoding="utf-8", newline="") as file:
        per_kg = {row["material"]: float(row["price_per_kg"]) for row in csv.DictReader(file)}
    drawn = set(dice.permutation(list(per_kg))[: kind.materials])
    found = []
    for key in (key for key in per_kg if key in drawn):
        if rows[key]["measure"] == "weight_only":
            size = int(dice.choice([2, 5, 10]))
        elif rows[key]["form"] == "bulk":
            size = 1000
        else:
            size = int(dice.choice([5, 20, 40, 50], p=[0.1, 0.1, 0.4, 0.4]))
        dearer = 1.0 if size >= 40 else 1.4
        price = per_kg[key] * size * LB_KG * dearer * np.exp(dice.normal(0.0, 0.25))
        on_hand = dice.uniform(0, min(size, 200)) if dice.random() < kind.on_hand else 0.0
        found.append({
            "material": rows[key]["name"],
            "package": f"{size} lb",
            "price": f"{price:.2f} USD",
            "on_hand": f"{on_hand:.1f} lb",
            "counted": date(2026, 11, 20),
        })  # fmt: skip
    return found


def _add_blends(data: dict[str, Any], count: int, dice: np.random.Generator) -> None:
    """Bagged blends with labels of their own, priced by what they hold."""
    data["material"] = []
    for at in range(count):
        name = f"bagged blend {at + 1}"
        nitrogen, phosphate, potash = (int(each) for each in dice.integers((3, 0, 0), (11, 9, 9)))
        data["material"].append({
            "material": name,
            "name": f"Bagged blend {at + 1}",
            "like": "balanced organic blend 4-4-4",
            "analysis": {
                "n_total": f"{nitrogen} %",
                "p2o5_total": f"{phosphate} %",
                "k2o_total": f"{potash} %",
            },
            "note": "Invented label.",
        })  # fmt: skip
        size = int(dice.choice([5, 20, 40, 50], p=[0.1, 0.1, 0.4, 0.4]))
        per_kg = 0.5 + 0.2 * nitrogen + 0.1 * (phosphate + potash)
        price = per_kg * size * LB_KG * np.exp(dice.normal(0.0, 0.25))
        data["stock"].append({
            "material": name,
            "package": f"{size} lb",
            "price": f"{price:.2f} USD",
            "on_hand": "0 lb",
            "counted": date(2026, 11, 20),
        })  # fmt: skip
