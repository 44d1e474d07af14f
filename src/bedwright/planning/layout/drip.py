"""Drip lines of a bed: as its water zone has them, else by its rows."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bedwright.garden.model_water import WaterZone
from bedwright.planning.layout.frame import BedFrame
from bedwright.planning.layout.seeds import layout_rule
from bedwright.reference import Library

_ALMOST = 1e-6


@dataclass(frozen=True)
class Drip:
    """Drip lines of a bed; ``each_row`` tells that every row has its own."""

    lines: int
    length_m: float
    each_row: bool


def drip_of(
    frame: BedFrame,
    zone: WaterZone | None,
    rows: Sequence[float] | None,
    apart_m: float | None,
    library: Library,
) -> Drip:
    """The drip lines of a bed.

    What the zone states goes first: its lines to a bed, or how far apart they lie. Else each row
    has its own where rows stand no closer than the rule's distance; else, and where no row is
    known, lines lie that far apart over the bed's width.

    Parameters
    ----------
    frame : the bed's
    zone : its water zone as the document describes it; None where it names none
    rows : how far across the bed each row lies [m]; None where none is known
    apart_m : between the nearest two rows [m]; None for a single row
    library : the tables
    """
    width = frame.width_m
    least = layout_rule(library, "drip_line_apart", "m").value
    wide = apart_m is None or apart_m >= least - _ALMOST
    if zone is not None and zone.lines is not None:
        count = zone.lines
    elif zone is not None and zone.line_spacing is not None:
        count = _over(width, zone.line_spacing.si)
    elif rows and wide:
        count = len(rows)
    else:
        count = _over(width, least)
    each_row = bool(rows) and wide and count == len(rows or ())
    lie = rows if each_row and rows else [width * (at + 0.5) / count for at in range(count)]
    spans = (span for across in lie for span in frame.spans(across))
    return Drip(count, math.fsum(end - start for start, end in spans), each_row)


def _over(width_m: float, apart_m: float) -> int:
    """Lines so far apart over a width, one at least."""
    return max(1, math.ceil(width_m / apart_m - _ALMOST))
