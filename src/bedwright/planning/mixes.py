"""The gardener's usual mixes, shown for what they are."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.feeding.materials import material, supply
from bedwright.feeding.mixture import Mixture, Part, mixture
from bedwright.garden import Document
from bedwright.garden.model import UsualMix
from bedwright.reference import Library

FAR_LESS = 1.5  # the labels promise this many times what the first season gives: worth saying


@dataclass(frozen=True)
class MixResult:
    """A usual mix: its parts with their names, its true analysis, the pH it was worked for."""

    stated: UsualMix
    names: tuple[str, ...]
    mixed: Mixture
    ph: float | None


def mixes(document: Document, library: Library) -> tuple[MixResult, ...]:
    """The analysis of each usual mix, its first season taken at the garden's middle pH."""
    ph = _middle_ph(document)
    found: list[MixResult] = []
    for at, stated in enumerate(document.garden.usual_mix):
        parts, names = [], []
        for place, part in enumerate(stated.parts):
            item = material(library, document.key("usual_mix", at, "parts", place, "material"))
            brings = supply(library, item, ph)
            label = (brings.n_total.value, brings.p2o5_total.value, brings.k2o_total.value)
            season = tuple(
                None if figure is None else max(0.0, figure.value)
                for figure in (brings.n_season, brings.p2o5_season, brings.k2o_season)
            )
            parts.append(Part(item.key, part.amount.si, label, season))  # type: ignore[arg-type]
            names.append(item.name)
        found.append(MixResult(stated, tuple(names), mixture(tuple(parts)), ph))
    return tuple(found)


def _middle_ph(document: Document) -> float | None:
    values = sorted(
        read.value for results in document.soil.values() for read in results if read.analyte == "ph"
    )
    return values[len(values) // 2] if values else None
