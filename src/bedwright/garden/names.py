"""What the names of materials and crops in a garden document stand for."""

from __future__ import annotations

import difflib

from bedwright.garden.checked import Checked
from bedwright.garden.faults import Path as FieldPath
from bedwright.garden.model import Garden
from bedwright.reference import Library, UnknownName
from bedwright.reference.library import fold

# A material's own analysis: the properties of docs/tables.md that a bag prints.
ANALYSIS = frozenset(
    "n_total p2o5_total k2o_total p2o5_available k2o_available ca mg s c na cl b zn fe mn cu"
    " calcium_carbonate_equivalent organic_n ammonium_n".split()
)


def own_materials(garden: Garden, library: Library, checked: Checked) -> None:
    """Check the gardener's own materials: their analyses, and what they behave like."""
    for at, own in enumerate(garden.material):
        for name in own.analysis:
            if name not in ANALYSIS:
                checked.fault(
                    ("material", at, "analysis", name),
                    f"{name!r} is no analysis",
                    f"Analyses: {', '.join(sorted(ANALYSIS))}.",
                )
        share = sum(
            own.analysis[name].si
            for name in ("n_total", "p2o5_total", "k2o_total")
            if name in own.analysis
        )
        if share > 1 or any(
            each.si > 1
            for name, each in own.analysis.items()
            if name != "calcium_carbonate_equivalent"
        ):
            checked.fault(("material", at, "analysis"), "the analysis adds up to more than the bag")
        if own.like is not None:
            _resolve(library, checked, ("material", at, "like"), own.like, {})
        elif _is_new(library, own.material):
            checked.fault(
                ("material", at),
                f"{own.material!r} is not in the tables",
                "Add like, the material of the tables that it behaves like.",
            )


def _is_new(library: Library, word: str) -> bool:
    try:
        library.resolve("material_names", "material", word)
    except UnknownName:
        return True
    return False


def _resolve(
    library: Library, checked: Checked, path: FieldPath, word: str, own: dict[str, str]
) -> None:
    what = "material"
    if fold(word) in own:
        checked.keys[path] = own[fold(word)]
        return
    try:
        checked.keys[path] = library.resolve(f"{what}_names", what, word)
    except UnknownName as unknown:
        near = difflib.get_close_matches(fold(word), list(own), n=2, cutoff=0.6)
        nearest = [*(own[each] for each in near), *unknown.nearest]
        hint = f"Nearest: {', '.join(nearest)}." if nearest else ""
        checked.fault(path, f"{word!r} is not a known {what}", hint)


def resolve_names(garden: Garden, library: Library, checked: Checked) -> None:
    """Find the table key, or the gardener's own material, behind every name."""
    own = {
        fold(each.material): each.material
        for each in garden.material
        if _is_new(library, each.material)
    }
    for at, material in enumerate(garden.material):
        if fold(material.material) not in own:
            _resolve(library, checked, ("material", at, "material"), material.material, own)
    seen: dict[str, int] = {}
    for at, material in enumerate(garden.material):
        key = checked.keys.get(("material", at, "material"), material.material)
        if seen.setdefault(fold(key), at) != at:
            checked.fault(("material", at, "material"), f"{material.material!r} is described twice")
    for at, stock in enumerate(garden.stock):
        _resolve(library, checked, ("stock", at, "material"), stock.material, own)
    for at, season in enumerate(garden.history):
        for place, applied in enumerate(season.applied):
            path = ("history", at, "applied", place, "material")
            _resolve(library, checked, path, applied.material, own)
    _resolve_wants(garden, library, checked, own)
    for at, report in enumerate(garden.compost_report):
        if report.material is not None:
            _resolve(library, checked, ("compost_report", at, "material"), report.material, own)


def _resolve_wants(garden: Garden, library: Library, checked: Checked, own: dict[str, str]) -> None:
    for at, mix in enumerate(garden.usual_mix):
        for place, part in enumerate(mix.parts):
            path: FieldPath = ("usual_mix", at, "parts", place, "material")
            _resolve(library, checked, path, part.material, own)
    for at, want in enumerate(garden.want):
        if want.compost is not None:
            path = ("want", at, "compost", "material")
            _resolve(library, checked, path, want.compost.material, own)
        if want.dressing is not None:
            path = ("want", at, "dressing", "material")
            _resolve(library, checked, path, want.dressing.material, own)
    for at, avoided in enumerate(garden.limits.avoid):
        _resolve(library, checked, ("limits", "avoid", at), avoided, own)
