"""Invented gardens that share one shed: needs at random, materials of the tables, whole bags."""

from __future__ import annotations

import numpy as np

from bedwright.feeding.blend import Candidates, Demand
from bedwright.feeding.materials import Supply, material, supply
from bedwright.feeding.whole import Group, Package, Shed
from bedwright.reference import Library
from bedwright.working import Figure

PH = 7.0
FIRST = "zinc_sulfate borax gypsum epsom_salt potassium_sulfate urea langbeinite".split()
SIZES_KG = (2.27, 4.5, 9.1, 22.7)
# Least need [kg/m2] and how often a bed asks for it.
OTHERS = {
    "s": (0.002, 0.4),
    "mg": (0.0015, 0.3),
    "zn": (0.0012, 0.3),
    "b": (0.0001, 0.3),
    "ca": (0.02, 0.2),
}
TOLERANCE = 0.1


def _known(figure: Figure | None) -> float:
    return 0.0 if figure is None else max(0.0, figure.value)


def garden(
    seed: int, *, beds: int = 40, groups: int = 10, materials: int = 45, most: int = 6
) -> tuple[tuple[Group, ...], Shed, tuple[np.ndarray, ...]]:
    """Groups of like beds, their shed, and the P2O5 in a kilogram of each material."""
    library, dice = Library(), np.random.default_rng(seed)
    keys = [row["material"] for row in library.rows("materials") if row["kind"] != "residue"]
    brings = {key: supply(library, material(library, key), PH) for key in keys}
    keys = [key for key in keys if _season(brings[key]) >= 0]
    keys = [*FIRST, *(key for key in keys if key not in FIRST)][:materials]
    items = [material(library, key) for key in keys]
    price = dice.uniform(0.4, 4.0, len(keys))
    sizes = dice.choice(SIZES_KG, len(keys))
    packages = tuple(
        Package(key, float(size), float(size * each))
        for key, size, each in zip(keys, sizes, price, strict=True)
    )
    on_hand = {key: float(dice.uniform(0, 10)) for key in keys if dice.random() < 0.4}
    bulk = np.array([item.form == "bulk" for item in items])
    later = np.array([item.timing == "either" for item in items])
    dose = np.array(
        [0.001 if each.measure == "weight_only" else 1.0 if each.form == "bulk" else 0.015
         for each in items]
    )  # fmt: skip
    each_bed = beds // groups
    found = []
    for _ in range(groups):
        area = float(dice.uniform(8, 25))
        candidates = Candidates(tuple(keys), price, np.where(bulk, 20.0, 4.0), dose / area, later)
        demands = _demands([brings[key] for key in keys], dice)
        found.append(Group(area * each_bed, candidates, demands, most))
    p2o5 = np.array([brings[key].p2o5_total.value for key in keys])
    return tuple(found), Shed(on_hand, packages), tuple(p2o5 for _ in found)


def _season(brings: Supply) -> float:
    return 0.0 if brings.n_season is None else brings.n_season.value


def _demands(brings: list[Supply], dice: np.random.Generator) -> tuple[Demand, ...]:
    zero = np.zeros(len(brings))
    n = np.array([_known(each.n_season) for each in brings])
    p = np.array([_known(each.p2o5_season) for each in brings])
    whole_p = np.array([each.p2o5_total.value for each in brings])
    k = np.array([_known(each.k2o_season) for each in brings])
    salt = np.array([_known(each.salts) for each in brings])
    base = np.array([each.reaction.value for each in brings])
    less = 1 - TOLERANCE
    need = float(dice.uniform(0.004, 0.02))
    found = [
        Demand("n_ceiling", "limit", n, n, upper=need * 1.3),
        Demand("n_season", "need", n, n, need * less),
        Demand("n_preplant", "need", n, zero, 0.35 * need * less),
        Demand("n_later", "need", zero, n, 0.5 * need * less),
    ]
    phosphate = float(dice.choice([0, 0.004, 0.01]))
    potash = float(dice.choice([0, 0.006, 0.012]))
    if phosphate:
        found.append(Demand("p2o5", "need", p, zero, phosphate * less))
    ceiling = max(0.004, 2.5 * phosphate)
    found.append(Demand("p2o5_ceiling", "limit", whole_p, whole_p, upper=ceiling))
    if potash:
        found.append(Demand("k2o", "need", k, zero, potash * less))
    for key, (least, often) in OTHERS.items():
        if dice.random() < often:
            content = np.array([each.other(key) for each in brings])
            upper = least * 1.3 if key in ("zn", "b") else None
            found.append(Demand(key, "need", content, zero, least * less, upper))
    found.append(Demand("salt_ceiling", "limit", salt, zero, upper=float(dice.uniform(0.02, 0.06))))
    if dice.random() < 0.7:
        found.append(Demand("reaction", "limit", base, base, upper=0.05))
    return tuple(found)
