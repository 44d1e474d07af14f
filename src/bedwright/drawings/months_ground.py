"""The ground of one month on the page: the beds to scale, as large as the paper takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bedwright.drawings.geometry import Polygon, bounds
from bedwright.drawings.ink import SMALL
from bedwright.drawings.loose import shelves
from bedwright.garden import Garden
from bedwright.garden.ground_plan import placed_plan

EDGE, BETWEEN, TITLE = 6.0, 12.0, 24.0  # px
_LOOSE = 10.0  # px between the placed beds and those that lie beside
_MOST_SCALE = 60.0  # px per meter: a single small bed need not fill its month
_SMALLER = 0.93
_COLUMNS = (1, 2, 3, 4, 6, 12)
_LEAST_PANEL = 40.0  # px


@dataclass(frozen=True)
class Size:
    """The paper: its width [px], the columns of months (None: as they fit best), the height that
    it must not pass [px] (None: as high as it gets), and how small a bed's letters may be [px]."""

    width: float
    columns: int | None = None
    height: float | None = None
    letters: float = SMALL


@dataclass(frozen=True)
class Panel:
    """The beds of one month on its own ground: corners by their number, headings, the height."""

    beds: Mapping[int, Polygon]
    headings: tuple[tuple[str, tuple[float, float]], ...]
    height: float


def wide_of(width: float, columns: int) -> float:
    """The width of one month on paper of this width in so many columns [px]."""
    return (width - 2 * EDGE - (columns - 1) * BETWEEN) / columns


def arranged(garden: Garden, count: int, size: Size, key: float) -> tuple[int, Panel]:
    """The columns, and the ground of one month: as large as the paper takes.

    ``key`` is the height of what stands below the months [px]. Raises ValueError for paper that is
    too small.
    """
    choices = _COLUMNS if size.columns is None else (size.columns,)
    best: tuple[float, int, Panel] | None = None
    for columns in choices:
        wide = wide_of(size.width, columns)
        if wide < _LEAST_PANEL:
            continue
        tall = None
        if size.height is not None:
            rows = -(-count // columns)
            tall = (size.height - key - EDGE) / rows - TITLE - BETWEEN
            if tall < _LEAST_PANEL:
                continue
        scale, panel = _panel(garden, wide, tall)
        if best is None or scale > best[0]:
            best = scale, columns, panel
        if size.columns is None and size.height is None:
            break
    if best is None:
        raise ValueError(f"paper of {size.width} by {size.height} px is too small for the months")
    return best[1], best[2]


def _panel(garden: Garden, wide: float, tall: float | None) -> tuple[float, Panel]:
    plans = {at: plan for at, bed in enumerate(garden.bed) if (plan := placed_plan(bed))}
    loose = [at for at in range(len(garden.bed)) if at not in plans]
    reach = bounds([p for plan in plans.values() for p in plan]) if plans else None
    scale = _MOST_SCALE
    if reach is not None:
        scale = min(scale, (wide - 2) / (reach[2] - reach[0]))
    while True:
        beds: dict[int, Polygon] = {}
        y = 1.0
        if reach is not None:
            west, _, _, north = reach
            for at, plan in plans.items():
                beds[at] = tuple((1 + (e - west) * scale, y + (north - n) * scale) for e, n in plan)
            y += (reach[3] - reach[1]) * scale + (_LOOSE if loose else 0.0)
        headings: tuple[tuple[str, tuple[float, float]], ...] = ()
        right = 0.0
        if loose:
            shelf = shelves(garden, loose, scale, wide - 2)
            for at, corners in shelf.beds.items():
                beds[at] = tuple((x + 1, down + y) for x, down in corners)
                right = max(right, bounds(beds[at])[2])
            headings = tuple((text, (x + 1, down + y)) for text, (x, down) in shelf.headings)
            y += shelf.height
        if right <= wide and (tall is None or y + 1 <= tall):
            return scale, Panel(beds, headings, y + 1)
        scale *= _SMALLER
        if scale < 1e-3:
            raise ValueError("the garden is too wide for its months")
