"""What each bed is doing on a day, from the plan, or from the document while there is none."""

from __future__ import annotations

from datetime import date

from bedwright.drawings import BedState
from bedwright.garden import Document
from bedwright.garden.failed import open_wants
from bedwright.language import named
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.season import SeasonPlan


def bed_states(document: Document, plan: SeasonPlan | None, as_of: date) -> dict[str, BedState]:
    """The state of every bed of a garden by its id."""
    found = dict.fromkeys((bed.id for bed in document.garden.bed), BedState.EMPTY)
    for bed_id, places in open_wants(document.garden).items():
        set_out = document.garden.want[places[-1]].set_out
        grows = set_out is not None and set_out <= as_of
        found[bed_id] = BedState.STANDING if grows else BedState.PLANNED
    for bed in plan.plantings if plan is not None else ():
        course, bed_id = bed.nitrogen, bed.prescription.bed.id
        waits = as_of < course.spread
        if bed.prescription.nth > 0 and waits and found[bed_id] is not BedState.EMPTY:
            continue  # the first crop of the year tells what the bed does
        if as_of > course.last_harvest:
            state = BedState.EMPTY
        elif as_of >= course.set_out:
            state = BedState.STANDING
        elif as_of >= course.spread and bed.prescription.lines:
            state = BedState.RESTING
        else:
            state = BedState.PLANNED
        found[bed_id] = state
    return found | dict.fromkeys(standing_crops(document, plan, as_of), BedState.STANDING)


def standing_crops(document: Document, plan: SeasonPlan | None, as_of: date) -> dict[str, str]:
    """What the document tells to stand in a bed, by bed, until it is cleared.

    It is out once its clearing is written down as done, and before anything is spread there.
    """
    cleared: set[str | None] = set()
    if plan is not None:
        cleared |= {
            each.prescription.bed.id for each in plan.plantings if each.nitrogen.spread <= as_of
        }
    if plan is not None and plan.work is not None:
        clearings = {each.id: each.bed for each in plan.work.tasks if each.kind == "clear"}
        cleared |= {clearings.get(each.task) for each in plan.work.assigned if each.done}
    return {each.bed: each.crop for each in document.garden.standing if each.bed not in cleared}


def state_words(state: BedState, stands: str | None) -> str:
    """The state of a bed in words, with the crop of :func:`standing_crops` where there is one."""
    if stands is not None:
        return DRAWING_WORDS["bed_stands"].format(crop=named(stands))
    return DRAWING_WORDS[f"state_{state}"]


def last_season(document: Document, bed: str) -> tuple[str, int] | None:
    """The crop of the last season of a bed that the document tells of, with its year."""
    told = [
        (named(each.crop.replace("_", " ")), each.year)
        for each in document.garden.history
        if each.bed == bed and each.crop is not None
    ]
    return max(told, key=lambda each: each[1], default=None)
