"""The parts of a trellis: posts and how deep they stand, mesh, line, and what to mind."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bedwright.guards import not_negative, positive, within
from bedwright.planning.findings import Finding, finding
from bedwright.planning.layout.crop_facts import LayoutCrop
from bedwright.planning.layout.rows import PlantRow
from bedwright.reference import Library
from bedwright.reference.library import figure_of
from bedwright.working import Figure, Source, formula, work

_LENGTH = ("length", "m")
_PLAIN = ("ratio", "-")
_ALMOST = 1e-6


@dataclass(frozen=True)
class TrellisParts:
    """What the trellised rows of a bed need. ``kind`` is ``panel`` or ``stake``.

    ``posts`` (or stakes) stand ``post_apart_m`` apart, ``post_length`` long and ``post_depth`` of
    it in the ground; ``top`` is the upper edge of mesh or line above the ground. ``clearance``,
    ``panels`` and their size are those of mesh; ``line`` is the length of line [m]; ``mass`` that
    of all posts together [kg], None for wooden stakes.
    """

    kind: str
    crop: str
    length_m: float
    top: Figure
    clearance: Figure | None
    posts: int
    post_apart_m: float
    post_length: Figure
    post_depth: Figure
    panels: int
    panel_length: Figure | None
    panel_height: Figure | None
    line: Figure
    mass: Figure | None
    findings: tuple[Finding, ...]


@formula(
    "depth = height above the ground x share in the ground / (1 - share), or the least",
    result=_LENGTH,
    sources=(Source("end_posts_page", "p. 468", "a third to a half of the whole post"),),
    example={"above_m": "62 in", "share_in_ground": "0.333", "least_m": "18 in"},
    above_m=_LENGTH,
    share_in_ground=_PLAIN,
    least_m=_LENGTH,
)
def post_depth(above_m: float, share_in_ground: float, least_m: float) -> float:
    """How deep a post stands in the ground [m].

    Parameters
    ----------
    above_m : its height above the ground [m], 0 and up
    share_in_ground : share of the whole post [-], 0 to 0.5
    least_m : the least depth [m], 0 and up

    Raises ValueError for an input outside its range.
    """
    not_negative(above_m=above_m, least_m=least_m)
    within(0, 0.5, share_in_ground=share_in_ground)
    return max(above_m * share_in_ground / (1 - share_in_ground), least_m)


def posts_along(length_m: float, most_apart_m: float) -> int:
    """Posts along a row: one at each end, and between them no farther apart than that."""
    positive(length_m=length_m, most_apart_m=most_apart_m)
    return max(1, math.ceil(length_m / most_apart_m - _ALMOST)) + 1


def trellis_parts(
    crop: LayoutCrop, rows: Sequence[PlantRow], library: Library
) -> TrellisParts | None:
    """The parts for a crop's trellised rows; None for a crop that stands by itself."""
    spans = [end - start for each in rows for start, end in each.spans]
    if not crop.trellised or not spans:
        return None
    return (
        _panels(crop, spans, library)
        if crop.trellis == "trellis"
        else _stakes(crop, rows, spans, library)
    )


def _panels(crop: LayoutCrop, spans: Sequence[float], library: Library) -> TrellisParts:
    length = _part(library, "panel", "length", "m")
    height = _part(library, "panel", "height", "m")
    clearance = _part(library, "clearance", "height", "m")
    apart = _part(library, "panel", "post_apart", "m")
    top = Figure(
        "top", clearance.value + height.value, "m", "computed",
        formula="clearance + height of the mesh", inputs=(clearance, height),
    )  # fmt: skip
    depth = _depth(top, _part(library, "panel", "least_depth", "m"), library)
    posts = sum(posts_along(each, apart.value) for each in spans)
    whole = sum(spans)
    panels = sum(math.ceil(each / length.value - _ALMOST) for each in spans)
    said = [finding("trellis_clearance", "note", clearance=clearance, sources=clearance.sources)]
    rest = max(each % length.value for each in spans)
    if 0.05 < rest < length.value - 0.05:
        said.append(
            finding("trellis_cut_panel", "note", rest=Figure("rest", rest, "m", "computed"))
        )
    reach = crop.height
    if reach is not None and reach.value > top.value + 0.15:
        said.append(
            finding("trellis_outgrown", "note", crop=crop.name.lower(), reach=reach, top=top)
        )
    post_length = _whole_post(top, depth)
    mass = _mass(posts, post_length, library)
    return TrellisParts(
        "panel", crop.key, whole, top, clearance, posts,
        max(each / (posts_along(each, apart.value) - 1) for each in spans),
        post_length, depth, panels, length, height, _line(whole, 1, library), mass,
        (*said, *_cautions(posts, mass)),
    )  # fmt: skip


def _stakes(
    crop: LayoutCrop, rows: Sequence[PlantRow], spans: Sequence[float], library: Library
) -> TrellisParts:
    each = _part(library, "stake", "plants_each", "1")
    apart = min(each.value * crop.in_row.value, _part(library, "stake", "apart", "m").value)
    levels_apart = _part(library, "line", "apart", "m", "weave")
    most = _part(library, "stake", "top", "m")
    reach = most if crop.height is None or crop.height.value > most.value else crop.height
    depth = _part(library, "stake", "depth", "m").named("depth")
    posts = sum(posts_along(span, apart) for span in spans)
    whole = sum(spans)
    levels = max(1, math.floor(reach.value / levels_apart.value + _ALMOST))
    return TrellisParts(
        "stake", crop.key, whole, reach.named("top"), None, posts,
        max(span / (posts_along(span, apart) - 1) for span in spans),
        _whole_post(reach, depth), depth, 0, None, None, _line(whole, 2 * levels, library), None,
        (finding("stakes_brace_ends", "note"), *_cautions(posts, None)),
    )  # fmt: skip


def _depth(top: Figure, least: Figure, library: Library) -> Figure:
    share = _part(library, "post", "share_in_ground", "1")
    plain = Figure(share.name, share.value, "-", share.origin, sources=share.sources)
    return work(post_depth, "depth", above_m=top, share_in_ground=plain, least_m=least)


def _whole_post(above: Figure, depth: Figure) -> Figure:
    return Figure(
        "post_length", above.value + depth.value, "m", "computed",
        formula="height above the ground + depth", inputs=(above, depth),
    )  # fmt: skip


def _mass(posts: int, length: Figure, library: Library) -> Figure:
    each = _part(library, "post", "mass_per_length", "kg/m")
    return Figure(
        "mass", posts * length.value * each.value, "kg", "computed",
        low=posts * length.value * each.least, high=posts * length.value * each.most,
        formula="posts x length x mass per length", inputs=(length, each),
    )  # fmt: skip


def _line(length_m: float, runs: int, library: Library) -> Figure:
    spare = _part(library, "line", "spare", "1")
    row = Figure("length", length_m, "m", "computed")
    return Figure(
        "line", length_m * runs * (1 + spare.value), "m", "computed",
        formula=f"length x {runs} x (1 + spare)", inputs=(row, spare),
    )  # fmt: skip


def _cautions(posts: int, mass: Figure | None) -> tuple[Finding, ...]:
    """What can hurt: lines in the ground, a driver over the head, weight."""
    found = [
        finding("posts_call_first", "caution", sources=(Source("nwga_811", "text"),)),
        finding("posts_driving", "caution"),
    ]
    if mass is not None:
        found.append(finding("posts_lifting", "caution", posts=float(posts), mass=mass))
    return tuple(found)


def _part(library: Library, part: str, property_: str, unit: str, condition: str = "") -> Figure:
    for row in library.rows("trellis_parts"):
        key = (row["part"], row["property"], row["condition"])
        if row.used and key == (part, property_, condition):
            return figure_of(property_, row, unit)
    raise LookupError(f"trellis_parts.csv has no {part} {property_} in use")
