"""What a standing crop leaves behind: its dry matter, and what that does to the soil's nitrogen."""

from __future__ import annotations

import math

from bedwright.crops.covers import wait_after
from bedwright.crops.growing import growing
from bedwright.crops.timing_tables import TimingTables
from bedwright.feeding.pools import class_parameter, split_by_carbon
from bedwright.feeding.residues import residue_nitrogen
from bedwright.planning.turnover.facts import rule
from bedwright.planning.turnover.model import Residue
from bedwright.reference import Library
from bedwright.working import Figure

_CLASS = "fresh_organic"  # of release_pools.csv
_MONTH = 4.0  # weeks


def residue_of(
    crop: str, area: Figure, small_seed: bool, library: Library, tables: TimingTables
) -> Residue | None:
    """What all the plants of a crop on an area leave; None where no table tells its mass and C:N.

    Parameters
    ----------
    crop : key of the standing crop
    area : of the ground that it takes [m2]
    small_seed : whether the next crop is sown and its seed is small: it waits longer
    library, tables : the tables
    """
    facts = growing(library, crop)
    ratio, dry = facts.residue_c_to_n, _dry(crop, area, library)
    if ratio is None or dry is None:
        return None
    carbon = rule(library, "carbon_of_residue", "%")
    balanced = rule(library, "balanced_c_to_n", "-")
    whole = Figure(
        "nitrogen_as_a_whole",
        residue_nitrogen(dry.value, ratio.value, carbon.value, balanced.value),
        "kg", "computed", sources=balanced.sources, inputs=(dry, ratio, carbon, balanced),
        formula="dry x carbon x (1 / C:N - 1 / balanced C:N)",
    )  # fmt: skip
    days = wait_after(tables, crop, ratio.value, dead=False)
    wait = Figure("wait", days, "day", "table", inputs=(ratio,))
    small = rule(library, "small_seed_wait", "day")
    if small_seed and small.value > days:
        wait = small.named("wait")
    return Residue(dry, ratio, _in_a_month(dry, ratio, carbon, library), whole, wait)


def freed_share(c_to_n: Figure, weeks: float, library: Library) -> Figure:
    """The share of the remains' nitrogen that is free after some weeks in warm moist soil [-].

    Below 0 it is bound. By the pools of fresh organic matter; ``weeks`` is 0 and up.
    """
    quick, slow = (
        class_parameter(library, _CLASS, each, "1/week") for each in ("k_fast", "k_slow")
    )
    fast, tie_up = split_by_carbon(library, _CLASS, c_to_n, quick.value, slow.value)
    out, late = -math.expm1(-quick.value * weeks), -math.expm1(-slow.value * weeks)

    def share(fast_share: float, bound: float) -> float:
        return fast_share * out + (1 - fast_share) * late - bound * out

    return Figure(
        "freed_share", share(fast.value, tie_up.value), "-", "computed",
        share(fast.least, tie_up.most), share(fast.most, tie_up.least), fast.sources,
        formula="fast x quick pool + (1 - fast) x slow pool - tie-up x quick pool",
        inputs=(fast, tie_up, quick, slow),
    )  # fmt: skip


def _in_a_month(dry: Figure, ratio: Figure, carbon: Figure, library: Library) -> Figure:
    held = dry.value * carbon.value / 100 / ratio.value
    nitrogen = Figure("residue_nitrogen", held, "kg", "computed",
                      formula="dry x carbon / C:N", inputs=(dry, carbon, ratio))  # fmt: skip
    share = freed_share(ratio, _MONTH, library)
    ends = (nitrogen.value * share.least, nitrogen.value * share.most)
    return Figure("nitrogen_in_a_month", nitrogen.value * share.value, "kg", "computed",
                  min(ends), max(ends), formula="residue nitrogen x share freed",
                  inputs=(nitrogen, share))  # fmt: skip


def _dry(crop: str, area: Figure, library: Library) -> Figure | None:
    facts = growing(library, crop)
    cover = facts.cover_dry_mass
    if cover is not None:
        return Figure("dry_residue", cover.value * area.value, "kg", "computed",
                      formula="dry mass x area", inputs=(cover, area))  # fmt: skip
    table = library.fact("crop_facts", crop, "yield", "kg/m2")
    if facts.residue_share is None or table is None:
        return None
    return Figure(
        "dry_residue", facts.residue_share.value * table.value * area.value, "kg", "computed",
        formula="dry residue for each mass picked x yield x area",
        inputs=(facts.residue_share, table, area),
    )  # fmt: skip
