"""The layout of a bed as plain data: keys and values in SI, no prose."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bedwright.planning.findings import Finding
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.layout.seeds import CropCount
from bedwright.planning.layout.trellis import TrellisParts
from bedwright.reports.figures_json import day_or_null
from bedwright.working import Figure

_DIGITS = 6


def layout_dict(layout: BedLayout) -> dict[str, Any]:
    """One planting's layout: lengths [m], light [mol/m2/d], masses [kg], months January first."""
    planting, lights, side = layout.planting, layout.lights, layout.side
    return {
        "bed": planting.bed.id,
        "crop": planting.crop.key,
        "companion": None if planting.companion is None else planting.companion.key,
        "set_out": day_or_null(planting.want.set_out),
        "companion_days": None
        if layout.companion_days is None
        else {
            key: day_or_null(getattr(layout.companion_days, key))
            for key in ("sow_under_cover", "start", "first_pick", "end")
        },
        "bearing_deg": _number(np.degrees(planting.frame.bearing_rad)),
        "width_m": _number(planting.frame.width_m),
        "length_m": _number(planting.frame.length_m),
        "rows": [
            {
                "crop": row.crop,
                "offset_m": _number(row.offset_m),
                "spans_m": [[_number(a), _number(b)] for a, b in row.spans],
                "places": len(row.places),
                "tall": row.tall,
                "light_mol_m2_d": None
                if lights is None
                else _numbers(lights.rows[at].light_mol_m2_d.mean(axis=0)),
                "sun_h": None if lights is None else _numbers(lights.rows[at].sun_h.mean(axis=0)),
                "along_m": None if lights is None else _numbers(lights.rows[at].stations_m),
                "light_along_mol_m2_d": None
                if lights is None
                else _numbers(lights.rows[at].light_mol_m2_d[:, lights.month]),
            }
            for at, row in enumerate(layout.rows)
        ],
        "month_along": None if lights is None else lights.month + 1,
        "open_light_mol_m2_d": None if lights is None else _numbers(lights.open_mol_m2_d),
        "open_sun_h": None if lights is None else _numbers(lights.open_sun_h),
        "counts": [_count(each) for each in layout.counts],
        "grid_plants": layout.grid,
        "trellises": [_trellis(each) for each in layout.trellises],
        "side": None
        if side is None
        else {
            "position": side.taken.arrangement.position,
            "why": side.why,
            "compared": [
                {
                    "position": each.arrangement.position,
                    "low_mol_m2_d": _number(each.low_mol),
                    "short_mol_m2_d": _number(each.short_mol),
                    "beside_short_mol_m2_d": _number(each.beside_short_mol),
                    "ground_mol_m2_d": _number(each.ground_mol),
                }
                for each in side.judged
            ],
        },
        "pair": None
        if layout.pair is None
        else {
            "verdict": layout.pair.verdict,
            "findings": [finding_dict(each) for each in layout.pair.findings],
            "evidence": [
                {
                    "finding": row["finding"],
                    "condition": row["condition"],
                    "lower": row.number("lower"),
                    "upper": row.number("upper"),
                    "source": row.source.source_id,
                }
                for row in layout.pair.evidence
            ],
        },
        "drip": {
            "lines": layout.drip.lines,
            "length_m": _number(layout.drip.length_m),
            "each_row": layout.drip.each_row,
        },
        "paths": [
            {"beside": each.beside, "left": each.left, "width_m": _number(each.width_m)}
            for each in layout.paths
        ],
        "findings": [finding_dict(each) for each in layout.findings],
    }


def finding_dict(found: Finding) -> dict[str, Any]:
    """A finding's code, weight, values and sources."""
    values = {
        key: _figure(each) if isinstance(each, Figure) else each
        for key, each in found.values.items()
    }
    return {
        "code": found.code,
        "weight": found.weight,
        "values": values,
        "sources": [each.source_id for each in found.sources],
    }


def _count(count: CropCount) -> dict[str, Any]:
    return {
        "crop": count.crop,
        "rows": count.rows,
        "row_length_m": _number(count.row_length_m),
        "places": count.places,
        "plants": _figure(count.plants),
        "to_raise": _figure(count.to_raise),
        "seeds": _figure(count.seeds),
        "seed_mass": _figure(count.seed_mass),
    }


def _trellis(parts: TrellisParts) -> dict[str, Any]:
    figures = ("top", "clearance", "post_length", "post_depth", "panel_length", "panel_height")
    return {
        "kind": parts.kind,
        "crop": parts.crop,
        "length_m": _number(parts.length_m),
        "posts": parts.posts,
        "post_apart_m": _number(parts.post_apart_m),
        "panels": parts.panels,
        **{name: _figure(getattr(parts, name)) for name in (*figures, "line", "mass")},
        "findings": [finding_dict(each) for each in parts.findings],
    }


def _figure(each: Figure | None) -> dict[str, Any] | None:
    if each is None:
        return None
    return {
        "value": _number(each.value),
        "low": _number(each.low),
        "high": _number(each.high),
        "unit": each.unit,
        "origin": each.origin,
        "sources": [source.source_id for source in each.sources],
    }


def _numbers(values: NDArray[np.float64] | Sequence[float]) -> list[float | None]:
    return [_number(float(each)) for each in values]


def _number(value: float | None) -> float | None:
    return None if value is None or np.isnan(value) else float(f"{float(value):.{_DIGITS}g}")
