"""A bed's candidates and demands: what the blend may use and what it must do."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.blend import Candidates, Demand
from bedwright.feeding.materials import Material, Supply, material, supply
from bedwright.garden import Document, Want
from bedwright.planning.amounts import mass_per_area
from bedwright.planning.evidence import Evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.nitrogen import NitrogenNeed
from bedwright.planning.nutrients import Need
from bedwright.planning.reaction import Reaction
from bedwright.planning.salt import SaltState
from bedwright.planning.shed import Offer
from bedwright.reference import Library
from bedwright.working import Figure

_MOST_BULK, _MOST_OTHER = 250.0, 4.0  # kg/m2: 20 in of compost, 80 lb/100 ft2: no dressing is more
_MICRO = frozenset({"b", "zn", "fe", "mn", "cu"})
_PerKg = Callable[[Callable[[Supply], float]], NDArray[np.float64]]


@dataclass(frozen=True)
class Wish:
    """A compost depth that is asked for, and its mass per area [kg/m2].

    Where the gardener gives a range, ``depth`` is the most of it and carries the range;
    ``least`` and ``most`` are the ends as mass per area, alike where one depth is asked for.
    """

    material: Material
    depth: Figure
    least: float
    most: float

    @property
    def is_range(self) -> bool:
        """Whether the depth is left to the blend within a range."""
        return self.least < self.most


def compost_wish(
    document: Document, want: Want, at: int, known: Evidence, library: Library
) -> Wish | None:
    """The compost that a want asks for, or None; None too where its density is not known."""
    if want.compost is None:
        return None
    least_m, most_m = want.compost.range_m
    stated = want.compost.depth or want.compost.most
    if stated is None or most_m == 0:
        return None
    item = material(library, document.key("want", at, "compost", "material"))
    mass = mass_per_area(stated, item, known.area.value, library)
    if mass is None:
        return None
    low = least_m if least_m < most_m else None
    depth = Figure("compost_depth", most_m, "m", "stated", low=low, note=stated.text)
    return Wish(item, depth, mass.value * least_m / most_m, mass.value)


@dataclass(frozen=True)
class OwnRate:
    """A material that the gardener spreads at a rate of their own [kg/m2], before planting."""

    material: Material
    rate: Figure


def own_rate(document: Document, want: Want, at: int, library: Library) -> OwnRate | None:
    """The rate that a want states for a material, or None."""
    if want.dressing is None:
        return None
    item = material(library, document.key("want", at, "dressing", "material"))
    stated = want.dressing.rate
    return OwnRate(item, Figure("own_rate", stated.si, "kg/m2", "stated", note=stated.text))


def candidates_of(
    allowed: list[tuple[Offer, Supply]],
    known: Evidence,
    library: Library,
    wish: Wish | None,
    own: OwnRate | None = None,
) -> tuple[Candidates, list[tuple[Offer, Supply]]]:
    """The blend's materials as arrays, the wished ones among them even if not in stock."""
    used = list(allowed)
    for asked in (wish, own):
        if asked is not None and all(o.material.key != asked.material.key for o, _ in used):
            ph = known.ph.value if known.ph is not None else None
            used.append((Offer.wished(asked.material), supply(library, asked.material, ph)))
    area = known.area.value
    doses = {
        measure: library.parameter(f"least_dose_{name}", "kg").value / area
        for measure, name in (("cups", "cups"), ("weight_only", "weighed"), ("buckets", "bulk"))
    }
    most = []
    for offer, brings in used:
        bulk = offer.material.form == "bulk"
        limit = _MOST_BULK if bulk else _MOST_OTHER
        if own is not None and offer.material.key == own.material.key:
            limit = own.rate.value
        elif wish is not None and offer.material.key == wish.material.key:
            limit = wish.most
        elif brings.max_rate is not None:
            limit = min(limit, brings.max_rate.value)
        most.append(limit)
    least = [
        min(doses[offer.material.measure], limit)
        for (offer, _), limit in zip(used, most, strict=True)
    ]
    return Candidates(
        keys=tuple(offer.material.key for offer, _ in used),
        cost=np.array([offer.cost_per_kg for offer, _ in used], dtype=float),
        most=np.array(most, dtype=float),
        least=np.array(least, dtype=float),
        later=np.array(
            [
                offer.material.timing in ("either", "sidedress") and brings.n_total.value > 0
                for offer, brings in used
            ],
            dtype=bool,
        ),
    ), used


def demands_of(
    document: Document,
    nitrogen: NitrogenNeed,
    needs: tuple[Need, ...],
    soil_reaction: Reaction,
    salt: SaltState,
    used: list[tuple[Offer, Supply]],
    wish: Wish | None,
    library: Library,
    own: OwnRate | None = None,
) -> tuple[Demand, ...]:
    """Every demand on a bed's blend: needs, limits, the wish for compost and the own rate."""
    tolerance = document.garden.limits.tolerance.si
    n = len(used)
    zero = np.zeros(n)
    least = library.parameter("least_need", "kg/m2").value

    def per_kg(content: Callable[[Supply], float]) -> NDArray[np.float64]:
        return np.array([content(brings) for _, brings in used], dtype=np.float64)

    n_season = per_kg(lambda b: b.n_season.value if b.n_season is not None else 0.0)
    supply_n = nitrogen.to_supply.value
    demands = [
        Demand(
            "n_ceiling",
            "limit",
            n_season,
            n_season,
            upper=max(nitrogen.ceiling.value, supply_n * (1 + tolerance)),
        ),
    ]
    if supply_n >= least:
        demands.append(Demand("n_season", "need", n_season, n_season, supply_n * (1 - tolerance)))
        share = min(1.0, nitrogen.preplant_share.value) if nitrogen.side_dressings else 1.0
        if supply_n * (1 - share) < least:
            share = 1.0
        demands.append(
            Demand("n_preplant", "need", n_season, zero, supply_n * share * (1 - tolerance))
        )
        if share < 1:
            demands.append(
                Demand("n_later", "need", zero, n_season, supply_n * (1 - share) * (1 - tolerance))
            )
    demands += _nutrient_demands(needs, per_kg, tolerance, least)
    reacts = per_kg(lambda b: b.reaction.value)
    if soil_reaction.lime is not None:
        lime = soil_reaction.lime.value
        # Compost's lime acts slowly and is not what the requirement was calibrated for.
        limes = np.array([offer.material.kind in ("liming", "ash") for offer, _ in used])
        bases = np.where(limes, np.maximum(reacts, 0.0), 0.0)
        compost = np.array([offer.material.kind == "compost" for offer, _ in used])
        sweetening = np.where(compost, 0.0, np.maximum(reacts, 0.0))
        demands.append(Demand("lime", "need", bases, zero, lime * (1 - tolerance)))
        demands.append(
            Demand("lime_ceiling", "limit", sweetening, sweetening, upper=lime * (1 + tolerance))
        )
    elif soil_reaction.no_base:
        ceiling = library.parameter("net_base_ceiling", "kg/m2").value
        counted = np.array(
            [
                brings.reaction.value if offer.material.kind != "compost" else 0.0
                for offer, brings in used
            ]
        )
        demands.append(Demand("reaction", "limit", counted, counted, upper=ceiling))
    if salt.ceiling is not None:
        salts = per_kg(lambda b: b.salts.value if b.salts is not None else 0.0)
        demands.append(Demand("salt_ceiling", "limit", salts, zero, upper=salt.ceiling.value))
    if salt.gypsum is not None:
        is_gypsum = np.array([library.base_of(o.material.key) == "gypsum" for o, _ in used], float)
        demands.append(
            Demand("gypsum", "need", is_gypsum, zero, salt.gypsum.value * (1 - tolerance))
        )
    if wish is not None and wish.least > 0:
        is_wish = np.array([o.material.key == wish.material.key for o, _ in used], dtype=float)
        demands.append(Demand("compost_depth", "wish", is_wish, zero, wish.least * (1 - 1e-6)))
    if own is not None:
        is_own = np.array([o.material.key == own.material.key for o, _ in used], dtype=float)
        demands.append(Demand("own_rate", "wish", is_own, zero, own.rate.value * (1 - 1e-6)))
    return tuple(demands)


def with_a_source(
    demands: tuple[Demand, ...],
) -> tuple[tuple[Demand, ...], list[Finding]]:
    """Leave out needs that nothing in the shed can serve, and say so: they clash with nothing."""
    kept: list[Demand] = []
    said: list[Finding] = []
    for each in demands:
        serves = bool(np.any(each.preplant > 0) or np.any(each.later > 0))
        if each.kind == "limit" or serves:
            kept.append(each)
        else:
            said.append(
                finding(
                    "no_source_in_shed",
                    "act",
                    nutrient=each.key,
                    amount=Figure(each.key, each.lower or 0.0, "kg/m2", "computed"),
                )
            )
    return tuple(kept), said


def _nutrient_demands(
    needs: tuple[Need, ...], per_kg: _PerKg, tolerance: float, least: float
) -> list[Demand]:
    demands: list[Demand] = []
    for need in needs:
        key = need.nutrient
        lower = need.amount.value * (1 - tolerance)
        if key in ("p2o5", "k2o"):
            season = per_kg(partial(_first_season, key))
            whole = per_kg(partial(_total, key))
        else:
            season = whole = per_kg(partial(_other, key))
        zero = np.zeros_like(season)
        if need.amount.value > (0 if key in _MICRO else least):
            demands.append(Demand(key, "need", season, zero, lower))
        if need.ceiling is not None:
            upper = max(need.ceiling.value, need.amount.value * (1 + tolerance))
            demands.append(Demand(f"{key}_ceiling", "limit", whole, whole, upper=upper))
    return demands


def _first_season(nutrient: str, brings: Supply) -> float:
    """The content counted for a need: nothing where its release is not known."""
    figure: Figure | None = getattr(brings, f"{nutrient}_season")
    return max(0.0, figure.value) if figure is not None else 0.0


def _total(nutrient: str, brings: Supply) -> float:
    total: Figure = getattr(brings, f"{nutrient}_total")
    return total.value


def _other(nutrient: str, brings: Supply) -> float:
    return brings.other(nutrient)
