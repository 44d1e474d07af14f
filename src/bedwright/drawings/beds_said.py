"""What a drawing says of a bed: in it, and to a screen reader."""

from __future__ import annotations

from collections.abc import Mapping

from bedwright.drawings.hatching import BedState
from bedwright.drawings.labels import BedWords
from bedwright.drawings.lengths import tape
from bedwright.garden import Bed, Garden
from bedwright.garden.failed import open_wants
from bedwright.language import named
from bedwright.units import UnitSystem, show

Words = Mapping[str, str]


def size_words(bed: Bed, system: UnitSystem, words: Words) -> str:
    """Length by width, or the area within an outline."""
    if bed.length is not None and bed.width is not None:
        return words["size"].format(
            length=tape(bed.length.si, system), width=tape(bed.width.si, system)
        )
    return words["bed_area"].format(area=show(bed.area_m2, "area", system))


def bed_words(
    garden: Garden, states: Mapping[str, BedState], words: Words, stands: Mapping[str, str]
) -> dict[str, BedWords]:
    """Name, crop, state and last season's crop of every bed, by its id.

    ``stands`` has the crops that stand already, by bed; the others tell the crop that is wanted.
    Raises ValueError for a bed that has no state: unknown is not empty.
    """
    wanted = {bed: garden.want[at[-1]].crop for bed, at in open_wants(garden).items()}
    last: dict[str, tuple[int, str]] = {}
    for season in garden.history:
        if season.crop is not None and season.year >= last.get(season.bed, (0, ""))[0]:
            last[season.bed] = (season.year, season.crop)
    found = {}
    for bed in garden.bed:
        if bed.id not in states:
            raise ValueError(f"bed {bed.id!r} has no state to be drawn with")
        year, crop = last.get(bed.id, (0, ""))
        found[bed.id] = BedWords(
            bed.id,
            named(stands.get(bed.id) or wanted.get(bed.id, "")),
            words[f"state_{states[bed.id]}"],
            words["last_crop"].format(crop=named(crop), year=year) if crop else "",
        )
    return found


def bed_label(bed: Bed, state: BedState, said: BedWords, system: UnitSystem, words: Words) -> str:
    """One sentence for a screen reader: size, kind, state, crop, last season's crop."""
    facts = [size_words(bed, system, words)]
    if bed.kind == "raised" and bed.fill_depth is not None:
        facts.append(words["bed_raised"].format(depth=tape(bed.fill_depth.si, system)))
    facts += [said.state] if said.state else []
    told = "bed_stands" if state is BedState.STANDING else "bed_wanted"
    facts += [words[told].format(crop=said.crop)] if said.crop else []
    facts += [words["bed_last"].format(crop=said.last)] if said.last else []
    return words["bed_label"].format(bed=bed.id, facts=", ".join(facts))
