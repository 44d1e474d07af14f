"""The rows of the tables of turnover, as figures."""

from __future__ import annotations

from bedwright.reference import Library
from bedwright.reference.library import figure_of
from bedwright.units import to_si
from bedwright.working import Figure, Source

_ZERO_CELSIUS_K = to_si(0.0, "degC", "temperature")


def rule(library: Library, key: str, unit: str) -> Figure:
    """A rule of ``turnover_rules.csv`` in ``unit``. Raises LookupError where it has none in use."""
    for row in library.rows("turnover_rules"):
        if row["rule"] == key and row.used:
            return figure_of(key, row, unit)
    raise LookupError(f"turnover_rules.csv holds no {key!r} in use")


def temperature_rule(library: Library, key: str) -> Figure:
    """A rule that is a temperature [C]. Raises LookupError where the table has none in use."""
    for row in library.rows("turnover_rules"):
        if row["rule"] == key and row.used:
            value = row.in_kind(row.typical(), "temperature") - _ZERO_CELSIUS_K
            return Figure(key, value, "C", "table", sources=(row.source,))
    raise LookupError(f"turnover_rules.csv holds no {key!r} in use")


def hold_of(library: Library, crop: str) -> Figure | None:
    """How long a ripe crop keeps where it stands [day]; None where no table says."""
    for row in library.rows("turnover_holds"):
        if row["crop"] == crop and row.used:
            return figure_of("hold", row, "day")
    return None


def moves_of(library: Library, crop: str) -> tuple[str, Source] | None:
    """How a grown plant bears moving, and who says so; None where no table says.

    divide: the clump is divided. dormant: its crown, while it rests. indoors: potted and brought
    in. young: only as a young plant. no: not at all.
    """
    for row in library.rows("turnover_moves"):
        if row["crop"] == crop and row.used:
            return row["moves"], row.source
    return None


def dangers_of(library: Library, crop: str, stock: str) -> tuple[tuple[str, Source], ...]:
    """What may harm a kind of stock in a crop's remains, each with who says so."""
    return tuple(
        (row["danger"], row.source)
        for row in library.rows("turnover_dangers")
        if row["crop"] == crop
        and row.used
        and (row["stock"] == "all" or stock in row["stock"].split())
    )


def root_ball(library: Library, stem_m: float | None) -> tuple[Figure, Figure]:
    """Least width and depth [m] of a plant's root ball by its stem.

    ``stem_m`` is the width of the stem [m], above 0; None takes the smallest ball of the table.
    A stem at the edge of a class takes the larger ball. Raises ValueError for a stem beyond the
    table: such a plant is a tree.
    """
    stem = 0.0 if stem_m is None else stem_m
    width = _by_size(library, "width", stem, "m")
    share = _by_size(library, "depth_share", width.value, "-")
    depth = Figure("ball_depth", width.value * share.value, "m", "computed",
                   formula="width x share", inputs=(width, share))  # fmt: skip
    return width.named("ball_width"), depth


def _by_size(library: Library, kind: str, size_m: float, unit: str) -> Figure:
    for row in library.rows("turnover_root_balls"):
        if row["kind"] != kind or not row.used:
            continue
        low, high = (
            to_si(float(row[end]), row["measure_unit"], "length") for end in ("lower", "upper")
        )
        if low <= size_m + 1e-9 < high:
            return figure_of(kind, row, unit)
    raise ValueError(f"turnover_root_balls.csv has no {kind} for {size_m:g} m")
