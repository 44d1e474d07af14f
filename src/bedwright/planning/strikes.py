"""Which materials a bed's blend may use, and why the others are left out."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.feeding.materials import Material, Supply
from bedwright.planning.evidence import Evidence
from bedwright.planning.nutrients import Need
from bedwright.planning.reaction import Reaction
from bedwright.planning.salt import SaltState
from bedwright.reference import Library
from bedwright.soil.interpretation import Reading

_RAW = "raw_manure_interval"  # the tables' caution
_ROCK_P = frozenset({"rock_phosphate_hard", "rock_phosphate_soft"})
_P_RICH = 0.02  # P2O5 share from which a material counts as a phosphorus source: judgement
_PHOSPHATE, _LOCKED = 0.08, 0.15  # a phosphate of which a season frees less than this: judgement
_SINGLE = {
    "borax": "b",
    "soluble_borate": "b",
    "zinc_sulfate": "zn",
    "manganese_sulfate": "mn",
    "copper_sulfate": "cu",
    "ferrous_sulfate": "fe",
    "iron_eddha_chelate": "fe",
    "epsom_salt": "mg",
}
# Wood ash only below pH 7: ash_newsletter_1991. That lime and shells keep to it too: judgement.
_NO_BASE_PH = 7.0


@dataclass(frozen=True)
class Strike:
    """A material left out of a bed's blend: the code of the reason."""

    material: Material
    code: str


@dataclass(frozen=True)
class BedState:
    """What decides about materials at one bed."""

    evidence: Evidence
    needs: tuple[Need, ...]
    reaction: Reaction
    salt: SaltState
    read: dict[str, Reading]
    organic_only: bool
    avoided: frozenset[str] = frozenset()

    def called(self, nutrient: str) -> bool:
        """Whether the bed's report calls for a nutrient."""
        return any(each.nutrient == nutrient and each.amount.value > 0 for each in self.needs)

    def supply_class(self, analyte: str) -> str | None:
        """The class of a measured analyte, or None."""
        reading = self.read.get(analyte)
        return reading.supply if reading is not None else None


def olsen_p(state: BedState) -> float | None:
    """The Olsen phosphorus of a bed [mg/kg], where it was measured by that method."""
    measurement = state.evidence.measured.get(("phosphorus", "olsen"))
    if measurement is None or measurement.figure.unit != "mg/kg":
        return None
    return measurement.figure.value


def strike(item: Material, brings: Supply, state: BedState, library: Library) -> str | None:
    """The code of the reason to leave a material out, or None to let the blend decide."""
    for rule in (_by_rules, _by_reaction, _by_single_nutrient, _by_phosphorus, _by_release):
        code = rule(item, brings, state, library)
        if code is not None:
            return code
    return None


def _by_rules(item: Material, brings: Supply, state: BedState, library: Library) -> str | None:
    if item.key in state.avoided:
        return "avoided"
    if state.organic_only and item.organic_status == "prohibited":
        return "not_organic"
    if any(each.code == _RAW for each in item.cautions):
        return "raw_manure_interval"
    if item.kind == "residue":
        return "residue_not_blended"
    return None


def _by_reaction(item: Material, brings: Supply, state: BedState, library: Library) -> str | None:
    ph = state.evidence.ph
    raises = item.kind in ("liming", "ash")
    if raises and ph is None:
        return "lime_without_ph"
    if raises and (ph is not None and ph.value >= _NO_BASE_PH):
        return "lime_on_alkaline"
    if raises and state.reaction.lime is None:
        return "lime_not_called_for"
    if item.kind == "acidifier":
        return "sulfur_on_free_lime" if state.evidence.ground.free_lime else "sulfur_ahead_of_time"
    if item.key == "gypsum" or library.base_of(item.key) == "gypsum":
        wanted = state.called("ca") or state.called("s") or state.salt.sodic
        return None if wanted else "gypsum_not_called_for"
    return None


def _by_single_nutrient(
    item: Material, brings: Supply, state: BedState, library: Library
) -> str | None:
    nutrient = _SINGLE.get(library.base_of(item.key))
    if nutrient is None or state.called(nutrient):
        return None
    analyte = {
        "b": "boron",
        "zn": "zinc",
        "mn": "manganese",
        "cu": "copper",
        "fe": "iron",
        "mg": "magnesium",
    }[nutrient]
    return f"{analyte}_not_called_for" if analyte in state.read else f"{analyte}_not_tested"


def _by_phosphorus(item: Material, brings: Supply, state: BedState, library: Library) -> str | None:
    return _too_full(item, brings, state, library) or _insoluble(item, brings, state, library)


def _insoluble(item: Material, brings: Supply, state: BedState, library: Library) -> str | None:
    """Phosphates and potash that look rich on paper and do not dissolve on this soil."""
    base = library.base_of(item.key)
    ph = state.evidence.ph
    if base in _ROCK_P and (ph is None or ph.value >= 6.5):
        return "rock_phosphate_not_soluble"
    if base == "greensand":
        return "greensand_not_soluble"
    season, whole = brings.p2o5_season, brings.p2o5_total.value
    if whole >= _PHOSPHATE and season is not None and season.value < _LOCKED * whole:
        return "phosphate_locked"
    return None


def _too_full(item: Material, brings: Supply, state: BedState, library: Library) -> str | None:
    """Materials that bring what the bed has too much of."""
    olsen = olsen_p(state)
    stop = library.parameter("p_manure_stop_olsen", "ppm").value
    if olsen is not None and olsen > stop and item.kind in ("manure", "compost"):
        return "phosphorus_stop"
    full = state.supply_class("phosphorus") in ("high", "very_high")
    if full and item.kind in ("meal", "mineral") and brings.p2o5_total.value >= _P_RICH:
        return "phosphorus_not_called_for"
    return "chloride" if library.base_of(item.key) == "potassium_chloride" else None


def _by_release(item: Material, brings: Supply, state: BedState, library: Library) -> str | None:
    if brings.n_season is None and brings.n_total.value > 0:
        return "release_not_known"
    if brings.n_season is not None and brings.n_season.value < 0:
        return "ties_up_nitrogen"
    return None
