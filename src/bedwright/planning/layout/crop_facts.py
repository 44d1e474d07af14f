"""What a layout must know of a crop: the tables' facts under the gardener's own."""

from __future__ import annotations

from dataclasses import dataclass, replace

from bedwright.crops.growing import Growing, growing
from bedwright.crops.timing_tables import NotTimed, TimingTables
from bedwright.garden.model_rotation import OwnCrop
from bedwright.reference import Library
from bedwright.working import Figure

_TIMING = ("crop_timing", "crop_habits", "emergence", "fruit_set_responses", "protection")
HILLS = "hills"  # condition of spacings in crop_growing.csv


@dataclass(frozen=True)
class LayoutCrop:
    """One crop as it is laid out. Lengths in meters.

    ``trellised`` tells whether it stands on a trellis or stakes here, ``trellis`` on which
    (``trellis``, ``stake`` or ``none``). ``days_to_pick`` are from its start to the first harvest,
    ``days_picked`` from there to the last, ``days_raised`` under cover before it is set out; NaN
    where not known. ``hills`` tells that its spacing
    is that of hills with several plants. ``stated`` are the facts that the gardener's own words
    gave.
    """

    key: str
    name: str
    family: str
    facts: Growing
    in_row: Figure
    between_rows: Figure
    hills: bool
    trellis: str
    trellised: bool
    start: str
    days_to_pick: float
    days_picked: float
    days_raised: float
    stated: tuple[str, ...]

    @property
    def equidistant(self) -> Figure:
        """How far it keeps off other crops, all round: the table's, else the one in the row."""
        return self.facts.spacing_equidistant or self.in_row

    @property
    def height(self) -> Figure | None:
        """How high it stands here, grown; None where no table says."""
        if self.trellised and self.facts.trellised_height is not None:
            return self.facts.trellised_height
        return self.facts.height

    @property
    def grid_spacing(self) -> Figure:
        """Spacing of a triangular grid of the same form of the crop as in the rows.

        Published spacings for grids may be those of a smaller form: leaf lettuce where rows are
        spaced for heads, bulbs pulled small. A grid saves the walking room between rows, not the
        distance from plant to plant: it is never closer than the one in the row, and is that one
        where the gardener states it.
        """
        wide = self.facts.spacing_equidistant
        stated = self.in_row.origin == "stated"
        if wide is None or stated or wide.value < self.in_row.value:
            return self.in_row
        return wide


class NoSpacing(LookupError):
    """A crop whose spacing no table tells and the gardener does not state."""


def timing_tables(library: Library) -> TimingTables:
    """The tables of timing, for :func:`layout_crop`."""
    return TimingTables.of(*(library.rows(name) for name in _TIMING))


def layout_crop(
    library: Library,
    tables: TimingTables,
    key: str,
    own: OwnCrop | None,
    *,
    room_m: float,
    days_to_maturity: int | None = None,
) -> LayoutCrop:
    """A crop's facts for a bed, the gardener's own before those of the tables.

    One that may stand on a trellis or sprawl stands on it where the bed with a path beside it,
    ``room_m`` together, is narrower than its rows are apart; give 0 where it shares the bed.
    ``days_to_maturity`` is that of the want. Raises NoSpacing where no spacing is known,
    LookupError for a key that ``crops.csv`` does not hold.
    """
    row = library.crop(key)
    facts = growing(library, key)
    stated: list[str] = []
    if own is not None:
        facts, stated = _under_own(facts, own)
    name = row["name"] if own is None else own.name or (own.crop if own.like else row["name"])
    hills = False
    in_row, between = facts.spacing_in_row, facts.spacing_between_rows
    if in_row is None:
        in_row = library.fact("crop_growing", key, "spacing_in_row", "m", HILLS)
        hills = in_row is not None
        if hills:
            wide = library.fact("crop_growing", key, "spacing_between_rows", "m", HILLS)
            between = between or wide
    in_row = in_row or facts.spacing_equidistant
    between = between or facts.spacing_equidistant or in_row
    if in_row is None or between is None:
        raise NoSpacing(key)
    trellis = _trellis(facts, between, room_m)
    start = tables.words.get((key, "start"))
    own_days = own.days_to_maturity if own is not None else None
    return LayoutCrop(
        key=key,
        name=name,
        family=row["family"],
        facts=facts,
        in_row=in_row,
        between_rows=between,
        hills=hills,
        trellis=trellis,
        trellised=trellis != "none",
        start="" if start is None else start["word"],
        days_to_pick=_days_to_pick(tables, key, days_to_maturity or own_days),
        days_picked=tables.days(key, "harvest_span"),
        days_raised=tables.days(key, "sow_ahead"),
        stated=tuple(stated),
    )


def _under_own(facts: Growing, own: OwnCrop) -> tuple[Growing, list[str]]:
    stated = {
        "spacing_in_row": own.spacing_in_row,
        "spacing_between_rows": own.spacing_between_rows,
        "sowing_depth": own.sowing_depth,
    }
    if own.height is not None:
        stated["height"] = own.height
        if facts.trellised_height is not None:
            stated["trellised_height"] = own.height
    figures = {
        key: Figure(key, each.si, "m", "stated", note=each.text)
        for key, each in stated.items()
        if each is not None
    }
    if own.daily_light is not None:
        light = Figure("daily_light_need", own.daily_light, "mol/m2/d", "stated")
        figures["daily_light_need"] = light
    changed = replace(facts, **figures)  # type: ignore[arg-type]
    if own.trellis is not None:
        changed = replace(changed, trellis=own.trellis)
    found = [*figures, *(["trellis"] if own.trellis is not None else [])]
    return changed, found


def _trellis(facts: Growing, between: Figure, room_m: float) -> str:
    if facts.trellis != "optional":
        return facts.trellis or "none"
    narrow = room_m < between.value
    return "trellis" if narrow and facts.trellised_height is not None else "none"


def _days_to_pick(tables: TimingTables, key: str, stated: int | None) -> float:
    if stated is not None:
        return float(stated)
    try:
        return tables.days_to_harvest(key, tables.usual_start(key))
    except NotTimed:
        return float("nan")
