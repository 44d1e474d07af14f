"""What stands in which bed and when, as the layouts of all beds must know it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from bedwright.crops.timing_tables import TimingTables
from bedwright.garden import Bed, Document, Want
from bedwright.planning.findings import Finding, finding
from bedwright.planning.layout.crop_facts import (
    LayoutCrop,
    NoSpacing,
    layout_crop,
    timing_tables,
)
from bedwright.planning.layout.frame import BedFrame, bed_frame
from bedwright.planning.layout.seeds import layout_rule
from bedwright.planning.layout.stays import Stay, stay_of
from bedwright.planning.second_crops import bed_wants
from bedwright.planning.sunlight import Sunlight, sunlight
from bedwright.planning.timing_model import GardenDates
from bedwright.reference import Library


@dataclass(frozen=True)
class Planting:
    """A crop in a bed, with what shares the bed with it.

    ``at`` is its want. ``companion_word`` is the companion as the document calls it. ``findings``
    are of the facts: what was not known and how it was taken.
    """

    bed: Bed
    frame: BedFrame
    at: int
    want: Want
    crop: LayoutCrop
    stay: Stay
    companion: LayoutCrop | None
    companion_word: str
    companion_stay: Stay | None
    findings: tuple[Finding, ...]


@dataclass(frozen=True, eq=False)
class Grounds:
    """The garden as its layouts see it: every planting, and the sun over them.

    ``not_laid`` are the wants of a bed whose crop has no known spacing, by bed. ``sun`` is None
    where the document does not state its latitude.
    """

    document: Document
    library: Library
    plantings: Mapping[str, tuple[Planting, ...]]
    not_laid: Mapping[str, tuple[Finding, ...]]

    @cached_property
    def sun(self) -> Sunlight | None:
        """The sun over the garden, worked once."""
        return sunlight(self.document, self.library)


def grounds_of(document: Document, library: Library, dates: GardenDates | None = None) -> Grounds:
    """Every planting of a garden's wants.

    ``dates`` give the days of wants that state none. Raises WeatherError, when the sun is first
    asked for, for a weather file that can't be used.
    """
    tables = timing_tables(library)
    path = layout_rule(library, "path_width", "m").value
    wanted = () if dates is None else dates.wants
    days = {each.want: each.best.on for each in wanted if each.best is not None}
    plantings: dict[str, list[Planting]] = {}
    missing: dict[str, list[Finding]] = {}
    for each in bed_wants(document):
        want, frame = each.want, bed_frame(each.bed)
        if want.set_out is None and each.at in days:
            want = want.model_copy(update={"set_out": days[each.at]})
        try:
            crop = layout_crop(
                library,
                tables,
                document.key("want", each.at, "crop"),
                document.cultivar("want", each.at, "crop"),
                room_m=0.0 if want.companion is not None else frame.width_m + path,
                days_to_maturity=want.days_to_maturity,
            )
        except NoSpacing as unknown:
            row = library.crop(str(unknown))
            name = row["name"].lower()
            said = finding("layout_no_spacing", "doubt", crop=name)
            if row["kind"] == "cover":
                said = finding("layout_broadcast", "note", crop=name)
            missing.setdefault(each.bed.id, []).append(said)
            continue
        made = Planting(
            each.bed, frame, each.at, want, crop, stay_of(crop, want.set_out), None, "", None, ()
        )
        if want.companion is not None:
            made = _with_companion(made, want.companion, document, library, tables)
        plantings.setdefault(each.bed.id, []).append(_with_doubts(made))
    return Grounds(
        document,
        library,
        {bed: tuple(each) for bed, each in plantings.items()},
        {bed: tuple(each) for bed, each in missing.items()},
    )


def _with_companion(
    made: Planting, word: str, document: Document, library: Library, tables: TimingTables
) -> Planting:
    """A planting with the crop that shares its bed, or with why it does without."""
    key = document.key("want", made.at, "companion")
    name = library.crop(key)["name"].lower()
    if key == made.crop.key:
        return replace(made, findings=(finding("companion_same_crop", "doubt", crop=name),))
    own = document.cultivar("want", made.at, "companion")
    try:
        second = layout_crop(library, tables, key, own, room_m=0.0)
    except NoSpacing:
        return replace(made, findings=(finding("layout_no_spacing", "doubt", crop=name),))
    stay = stay_of(second, made.want.set_out)
    return replace(made, companion=second, companion_word=word, companion_stay=stay)


def _with_doubts(planting: Planting) -> Planting:
    said = list(planting.findings)
    if not planting.frame.known:
        said.append(finding("layout_no_direction", "doubt"))
    crops = [(planting.crop, planting.stay)]
    if planting.companion is not None and planting.companion_stay is not None:
        crops.append((planting.companion, planting.companion_stay))
        if planting.want.set_out is not None:
            said.append(
                finding(
                    "companion_same_day",
                    "assumed",
                    second=planting.companion.name.lower(),
                    first=planting.crop.name.lower(),
                )
            )
    for crop, stay in crops:
        if stay.start is None:
            said.append(finding("layout_undated", "assumed", crop=crop.name.lower()))
        if crop.hills:
            said.append(finding("layout_in_hills", "note", crop=crop.name.lower()))
    return replace(planting, findings=tuple(said))
