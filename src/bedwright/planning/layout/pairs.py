"""Two crops in one bed: whether times, light and roots allow it, and what trials have found."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from bedwright.guards import not_negative, positive
from bedwright.planning.findings import Finding, Weight, finding
from bedwright.planning.layout.crop_facts import LayoutCrop
from bedwright.reference import Library
from bedwright.reference.tables import Row
from bedwright.working import Source, formula

ANY = "any"
_HEADING = ("head", "iceberg", "cos", "romaine")  # in the name of a lettuce that makes heads
_YIELD = ("mass_per_area", "kg/m2")
_PART_SHADE = frozenset({"part_shade_ok", "shade_in_heat"})


@dataclass(frozen=True)
class Pair:
    """Two crops in one bed. ``verdict`` is fits, with_care or not_advised.

    ``evidence`` are the rows of trials of this pair, or of mixed stands at large where there is
    none.
    """

    verdict: str
    first: str
    second: str
    findings: tuple[Finding, ...]
    evidence: tuple[Row, ...]


@dataclass(frozen=True)
class PairLight:
    """The light of the lower crop beside the taller, over the months in which both stand.

    ``least_mol`` is the darkest month's [mol/m2/d], ``need_mol`` what the crop asks for, None
    where not known; ``shaded_from`` the day from which a marked share is lost, None where that
    never comes; ``low_done`` the day on which the lower crop is done.
    """

    least_mol: float
    need_mol: float | None
    shaded_from: date | None
    low_done: date | None


@formula(
    "land equivalent ratio = first beside second / first alone + second beside first / second "
    "alone",
    result=("ratio", "-"),
    sources=(Source("mead_willey_1980", "", "both alone under the same care"),),
    example={
        "first_mixed": "0.4 kg/m2",
        "first_alone": "0.5 kg/m2",
        "second_mixed": "0.9 kg/m2",
        "second_alone": "1.5 kg/m2",
    },
    first_mixed=_YIELD,
    first_alone=_YIELD,
    second_mixed=_YIELD,
    second_alone=_YIELD,
)
def land_equivalent_ratio(
    first_mixed: float, first_alone: float, second_mixed: float, second_alone: float
) -> float:
    """How much land two crops apart would take for what a mixed bed yields [-].

    Above 1 the mixed bed yields more than its halves alone would.

    Parameters
    ----------
    first_mixed, second_mixed : yield of each from the mixed bed, over all of it [kg/m2], 0 and up
    first_alone, second_alone : yield of each alone, under the same care [kg/m2], more than 0

    Raises ValueError for an input outside its range.
    """
    not_negative(first_mixed=first_mixed, second_mixed=second_mixed)
    positive(first_alone=first_alone, second_alone=second_alone)
    return first_mixed / first_alone + second_mixed / second_alone


def pair(
    first: LayoutCrop,
    second: LayoutCrop,
    words: Sequence[str],
    low: LayoutCrop | None,
    light: PairLight | None,
    library: Library,
) -> Pair:
    """The verdict on two crops in one bed, with its reasons.

    Parameters
    ----------
    first, second : the crop wanted and its companion
    words : what the document calls them, which may tell a heading lettuce
    low : the lower of the two where one stands over the other
    light : the lower one's light; None where it can't be worked
    library : the tables
    """
    said: list[Finding] = []
    one, other = first.name.lower(), second.name.lower()
    if first.family == second.family:
        said.append(
            finding("pair_same_family", "caution", family=first.family, first=one, second=other)
        )
    said += _roots(first, second)
    if low is not None:
        said += _light(low, light)
    elif light is None:
        said.append(finding("pair_neither_taller", "note", first=one, second=other))
    rows = _trials(first.key, second.key, words, library)
    if low is not None and _heads(low, words) and first.trellised != second.trellised:
        found = next(row for row in library.rows("pairings") if row["finding"] == "heads_fail")
        said.append(
            finding("pair_heads_fail", "caution", crop=low.name.lower(), sources=(found.source,))
        )
    if not rows:
        rows = [row for row in library.rows("pairings") if row["crop_a"] == ANY and row.used]
        said.append(finding("pair_no_trial", "doubt", first=one, second=other))
    weights = {each.weight for each in said}
    verdict = "fits"
    if "caution" in weights or "doubt" in weights:
        verdict = "with_care"
    if "act" in weights:
        verdict = "not_advised"
    return Pair(verdict, first.key, second.key, tuple(said), tuple(rows))


def _roots(first: LayoutCrop, second: LayoutCrop) -> list[Finding]:
    one, other = first.facts.root_class, second.facts.root_class
    names = first.name.lower(), second.name.lower()
    if not one or not other:
        return [finding("pair_roots_unknown", "doubt", first=names[0], second=names[1])]
    if one != other:
        ordered = names if _DEPTHS.index(one) > _DEPTHS.index(other) else names[::-1]
        return [finding("pair_roots_apart", "note", deeper=ordered[0], other=ordered[1])]
    weight: Weight = "caution" if one == "deep" else "note"
    return [finding(f"pair_roots_{one}", weight, first=names[0], second=names[1])]


_DEPTHS = ("shallow", "medium", "deep")


def _light(low: LayoutCrop, light: PairLight | None) -> list[Finding]:
    name = low.name.lower()
    if light is None:
        return [finding("pair_light_unknown", "doubt", crop=name)]
    least = round(light.least_mol, 1)
    need = light.need_mol
    if need is not None and light.least_mol >= need:
        return [finding("pair_light_enough", "note", crop=name, light=least, need=need)]
    if light.shaded_from is None:
        return [finding("pair_shaded_little", "note", crop=name, light=least)]
    if light.low_done is not None and light.low_done <= light.shaded_from:
        return [finding("pair_done_in_time", "note", crop=name, done=light.low_done.isoformat())]
    if need is None:
        return [finding("pair_need_unknown", "doubt", crop=name, light=least)]
    shade = low.facts.light in _PART_SHADE
    return [
        finding("pair_stands_shade", "caution", crop=name, light=least, need=need)
        if shade
        else finding("pair_too_dark", "act", crop=name, light=least, need=need)
    ]


def _heads(low: LayoutCrop, words: Sequence[str]) -> bool:
    return low.key == "lettuce" and any(
        each in word.lower().split()
        or f"{each}ing" in word.lower()
        or f"{each}head" in word.lower()
        for word in words
        for each in _HEADING
    )


def _trials(first: str, second: str, words: Sequence[str], library: Library) -> list[Row]:
    """The rows in use on a pair, in either order; those of a kind of lettuce only for that kind."""
    heading = any(each in word.lower() for word in words for each in _HEADING)
    leaf = any("leaf" in word.lower() for word in words)
    return [
        row
        for row in library.rows("pairings")
        if row.used
        and {row["crop_a"], row["crop_b"]} == {first, second}
        and (
            not row["condition"]
            or (row["condition"] == "heading" and heading)
            or (row["condition"] == "loose leaf" and leaf)
        )
    ]
