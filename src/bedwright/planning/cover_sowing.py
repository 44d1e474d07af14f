"""What a cover crop takes in the place of rows and feed: seed over its ground, depth, inoculant."""

from __future__ import annotations

from bedwright.crops.growing import growing
from bedwright.planning.findings import Finding, finding
from bedwright.reference import Library
from bedwright.working import Figure, Source

_LEGUMES = "Fabaceae"
# Each group of legumes has its own bacteria; roots of another group's stay without.
_INOCULANT = Source("sare_cover_crops_2007", "p. 122, nodulation: match inoculant to maximize N")


def cover_sowing(key: str, area: Figure, library: Library) -> tuple[Finding, ...]:
    """What is said of a cover crop's sowing, and that it is not fed.

    ``key`` is of ``crops.csv`` and of a cover crop; ``area`` [m2] is its ground.
    """
    row, facts = library.crop(key), growing(library, key)
    name = row["name"].lower()
    said = [finding("cover_not_fed", "note", crop=name)]
    rate, depth = facts.seed_rate, facts.sowing_depth
    if rate is None:
        said.append(finding("cover_seed_not_known", "doubt", crop=name))
    else:
        seed = Figure(
            "seed", rate.value * area.value, "kg", "computed", low=rate.least * area.value,
            high=rate.most * area.value, formula="seed rate x area", inputs=(rate, area),
        )  # fmt: skip
        said.append(
            finding("cover_sown", "note", crop=name, seed=seed, rate=rate, sources=rate.sources)
        )
    if depth is not None:
        said.append(finding("cover_depth", "note", depth=depth, sources=depth.sources))
    if row["family"] == _LEGUMES:
        said.append(finding("cover_inoculant", "note", crop=name, sources=(_INOCULANT,)))
    return tuple(said)
