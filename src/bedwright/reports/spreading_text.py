"""What is spread on a bed, in words: how much, how a hand measures it, how it goes in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from bedwright.language import named
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.prescription import Line, Prescription
from bedwright.reports import words
from bedwright.reports.fill import measure
from bedwright.reports.words_spreading import SPREADING
from bedwright.units import UnitSystem, show

LIME_AHEAD = timedelta(days=14)  # common practice, as the caution says
_NARROW_M = 0.3048  # a foot: nearer rows leave no 3 to 4 in on both sides and a foot's breadth


@dataclass(frozen=True)
class AmountWords:
    """One material to spread; ``cautions`` and ``into`` are empty where there is none to tell."""

    cautions: str
    mass: str
    material: str
    measure: str
    into: str


def amount_words(line: Line, mass_kg: float, system: UnitSystem, into: str = "") -> AmountWords:
    """A mass [kg] of a line's material; ``into`` says how it goes into the bed."""
    cautions = "; ".join(words.CAUTIONS[each.code] for each in line.material.cautions)
    how = measure(line, mass_kg, system)
    return AmountWords(
        f"{cautions}." if cautions else "",
        show(mass_kg, "mass", system),
        named(line.material.name).lower(),
        f"{how[:1].upper()}{how[1:]}.",
        into,
    )


def worked_in(line: Line) -> bool:
    """Whether a material is worked into the depth of the bed, not raked in."""
    return line.material.form == "bulk" or line.material.kind == "liming"


def into_words(line: Line, plan: Prescription, system: UnitSystem) -> str:
    """How a material goes in before planting: common practice."""
    if worked_in(line):
        depth = show(plan.evidence.mixing_depth.value, "depth", system, digits=2)
        return SPREADING["into_depth"].format(depth=depth)
    return SPREADING["into_sand" if line.material.measure == "weight_only" else "into_rake"]


def near_stems(system: UnitSystem, layout: BedLayout | None = None) -> str:
    """Where a side-dressing goes: beside the stems, or midway between narrow rows. Common practice.

    ``layout`` tells how near the rows stand; without it they are taken to stand wide.
    """
    apart = None if layout is None else layout.least_apart_m
    if apart is not None and apart < _NARROW_M:
        return SPREADING["near_between"]
    return SPREADING["near_us" if system is UnitSystem.US else "near_metric"]


def in_turns(lines: Sequence[Line], plan: Prescription) -> tuple[tuple[Line, ...], ...]:
    """What is spread before planting, in the turns that it takes.

    One, or two where lime must lie two weeks before what it would drive the ammonia from.
    """
    lime = tuple(each for each in lines if each.material.kind == "liming")
    rest = tuple(each for each in lines if each.material.kind != "liming")
    apart = any(each.code == "lime_and_ammonium_apart" for each in plan.findings)
    return (lime, rest) if apart and lime and rest else (tuple(lines),)
