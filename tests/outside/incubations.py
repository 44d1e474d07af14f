"""Published incubations beside the release pools: one place that works ours out.

After a change of the pools that is meant, write the table anew and look at the difference:

    python tests/outside/incubations.py
    git diff tests/outside/release_incubations.csv
"""

from __future__ import annotations

import csv
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from bedwright.feeding.materials import material
from bedwright.feeding.pools import MaterialPools, material_pools
from bedwright.feeding.release import Pools, Weeks, rates_by_week, season_nitrogen
from bedwright.reference import Library

TABLE = Path(__file__).with_name("release_incubations.csv")
COLUMNS = ("case", "material", "basis", "weeks", "celsius", "low", "published", "high", "ours",
           "difference", "role", "source_id", "cause")  # fmt: skip


@dataclass(frozen=True)
class Incubation:
    """One published figure: share of the nitrogen that is out after so many weeks.

    ``basis`` is organic or total (mineral nitrogen of the start counted). ``role`` is fitted
    where the pools' constants came from this figure, independent where they did not.
    ``celsius`` lists the temperatures over which the figure is a mean.
    """

    case: str
    material: str
    basis: str
    weeks: float
    celsius: tuple[float, ...]
    low: float | None
    published: float
    high: float | None
    ours: float
    role: str
    source_id: str
    cause: str

    @property
    def difference(self) -> float:
        """Ours less the published figure, as a share of the nitrogen."""
        return self.ours - self.published


def rows() -> list[dict[str, str]]:
    """The table as it stands."""
    with TABLE.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def incubations() -> list[Incubation]:
    """Every published figure of the table with ours worked out now."""
    library = Library()
    found = []
    for row in rows():
        celsius = tuple(float(each) for each in row["celsius"].split())
        ours = np.mean(
            [
                release(library, row["material"], row["basis"], float(row["weeks"]), each)
                for each in celsius
            ]
        )
        found.append(
            Incubation(
                row["case"],
                row["material"],
                row["basis"],
                float(row["weeks"]),
                celsius,
                float(row["low"]) if row["low"] else None,
                float(row["published"]),
                float(row["high"]) if row["high"] else None,
                float(ours),
                row["role"],
                row["source_id"],
                row["cause"],
            )
        )
    return found


def release(library: Library, key: str, basis: str, weeks: float, celsius: float) -> float:
    """Net share of a kilogram's nitrogen out in moist soil, run day by day in the engine.

    A key of the form ``c_to_n:20`` is a fresh material of that ratio. Soil nitrogen is at hand,
    so that what wants to bind can.
    """
    pools = _pools(library, key)
    days = round(weeks * 7)
    at_hand = 10.0
    one, kelvin = np.ones((1, 1)), np.full(days, 273.15 + celsius)
    organic = 1 - pools.mineral.value
    fast = organic * pools.fast.value

    def per_day(rate: float, q10: float) -> np.ndarray:
        weekly = rates_by_week(
            one * rate, one * q10, one * (273.15 + pools.reference.value), kelvin, np.ones(days)
        )
        return weekly / 7

    season = season_nitrogen(
        Pools(
            mineral=one * pools.mineral.value,
            fast=one * fast,
            slow=one * (organic - fast),
            tie_up=one * organic * pools.tie_up.value,
            fast_rate=per_day(pools.k_fast.value, pools.q10_fast.value),
            slow_rate=per_day(pools.k_slow.value, pools.q10_slow.value),
            wetted=one,
            ammonia=one * 0,
            surface_ammonia=one * 0,
            spread=np.array([0]),
        ),
        Weeks(
            demand=np.zeros((1, days)),
            income=np.array([[at_hand, *([0.0] * (days - 1))]]),
            leached=np.zeros((1, days)),
            return_rate=np.zeros((1, days)),
        ),
    )
    net = float(season.in_soil[0, -1]) - at_hand
    return net if basis == "total" else (net - pools.mineral.value) / organic


def _pools(library: Library, key: str) -> MaterialPools:
    if key.startswith("c_to_n:"):
        from bedwright.feeding.pools import split_by_carbon
        from bedwright.working import Figure

        straw = material_pools(library, material(library, "straw"))
        assert straw is not None
        ratio = Figure("c_to_n", float(key.removeprefix("c_to_n:")), "-", "stated")
        fast, tie_up = split_by_carbon(
            library, straw.release_class, ratio, straw.k_fast.value, straw.k_slow.value
        )
        return replace(straw, fast=fast, tie_up=tie_up)
    pools = material_pools(library, material(library, key))
    assert pools is not None
    return pools


def write() -> None:
    """Write the columns ``ours`` and ``difference`` anew."""
    with TABLE.open(encoding="utf-8", newline="") as stream:
        kept = list(csv.DictReader(stream))
    worked = incubations()
    with TABLE.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, COLUMNS, lineterminator="\n")
        writer.writeheader()
        for row, each in zip(kept, worked, strict=True):
            writer.writerow(
                {**row, "ours": f"{each.ours:.3f}", "difference": f"{each.difference:+.3f}"}
            )


if __name__ == "__main__":
    write()
