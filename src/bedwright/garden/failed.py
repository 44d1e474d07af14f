"""Wanted plantings that were lost: the history tells of them, and nothing more is planned."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from bedwright.garden.checked import Checked
from bedwright.garden.model import Garden, Season, Want
from bedwright.reference.library import fold

_LONGEST = timedelta(days=366)  # from planting: what was lost later is another year's planting


def failed_wants(garden: Garden) -> dict[tuple[int, str], date]:
    """The wants whose planting on a bed is lost, by the want's place and the bed, with the day.

    It is the one of the same crop that was planted by that day, or that states no day.
    """
    lost: dict[tuple[int, str], date] = {}
    for season in garden.history:
        if season.failed is None:
            continue
        for at, want in enumerate(garden.want):
            if _is_of(season, want, season.failed):
                lost[(at, season.bed)] = season.failed
    return lost


def open_wants(garden: Garden) -> dict[str, list[int]]:
    """By bed, the places of the wants that are planned for it still: not those lost there."""
    lost = failed_wants(garden)
    found: dict[str, list[int]] = {}
    for at, want in enumerate(garden.want):
        for bed in want.beds:
            if (at, bed) not in lost:
                found.setdefault(bed, []).append(at)
    return found


def _is_of(season: Season, want: Want, failed: date) -> bool:
    if season.bed not in want.beds or season.crop is None:
        return False
    if fold(season.crop) != fold(want.crop):
        return False
    return want.set_out is None or want.set_out <= failed <= want.set_out + _LONGEST


def check_failed(garden: Garden, checked: Checked, as_of: date) -> None:
    """That a loss names its crop, as the want does, and a day that is past."""
    for at, season in enumerate(garden.history):
        if season.failed is None:
            continue
        path = ("history", at, "failed")
        if season.crop is None:
            checked.fault(path, "what failed is not said", 'Add the crop, such as crop = "tomato".')
        if season.failed > as_of:
            checked.fault(
                path,
                f"{season.failed} lies after {as_of}, the day of reading",
                "Correct the date, or read as of a later day.",
            )
        if abs(season.failed.year - season.year) > 1:
            checked.fault(path, f"{season.failed} does not belong to the season of {season.year}")
        for word in _other_words(garden, checked, at, season):
            checked.fault(
                ("history", at, "crop"),
                f"{season.crop!r} failed, and {word!r} is wanted there: the same crop?",
                f"Write it as the [[want]] does, {word!r}.",
            )


def _other_words(garden: Garden, checked: Checked, at: int, season: Season) -> Iterator[str]:
    """How wants of the bed call the crop that failed, where that is another word."""
    key = checked.keys.get(("history", at, "crop"))
    for place, want in enumerate(garden.want):
        same = key is not None and checked.keys.get(("want", place, "crop")) == key
        if same and season.bed in want.beds and fold(want.crop) != fold(season.crop or ""):
            yield want.crop
