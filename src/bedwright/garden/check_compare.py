"""What a document says of comparisons, held against its beds, their ways and the day."""

from __future__ import annotations

from datetime import date

from bedwright.garden.checked import Checked
from bedwright.garden.faults import Path as FieldPath
from bedwright.garden.model import Garden
from bedwright.garden.model_compare import Comparison, ComparisonResult
from bedwright.units import UnitError


def check_compare(garden: Garden, checked: Checked, as_of: date) -> None:
    """Check names, beds, days and values of comparisons, and the days of germination tests."""
    seen: set[str] = set()
    beds = {bed.id for bed in garden.bed}
    for at, test in enumerate(garden.germination_test):
        if test.on > as_of:
            checked.fault(
                ("germination_test", at, "on"), f"{test.on} lies after {as_of}, the day of reading",
                "Correct the date, or read as of a later day.",
            )  # fmt: skip
    for at, each in enumerate(garden.comparison):
        path: FieldPath = ("comparison", at)
        if each.id.casefold() in seen:
            checked.fault(
                (*path, "id"), f"there are two comparisons called {each.id!r}",
                "Give each its own id.",
            )  # fmt: skip
        seen.add(each.id.casefold())
        _blocks(path, each, beds, checked)
        _results(path, each, checked, as_of)


def _blocks(path: FieldPath, each: Comparison, beds: set[str], checked: Checked) -> None:
    whole: set[str] = set()
    cut = {block[0] for block in each.blocks if len(block) == 1}
    for at, block in enumerate(each.blocks):
        for place, bed in enumerate(block):
            where = (*path, "blocks", at, place)
            if bed not in beds:
                checked.fault(
                    where, f"there is no bed {bed!r}", f"Beds: {', '.join(sorted(beds))}."
                )
            elif len(block) > 1 and (bed in whole or bed in cut):
                checked.fault(
                    where, f"bed {bed!r} stands in two blocks",
                    "A whole bed is one plot; a bed that is cut into strips may bear more blocks.",
                )  # fmt: skip
            if len(block) > 1:
                whole.add(bed)
    for at, bed in enumerate(each.beds):
        if bed not in beds:
            checked.fault(
                (*path, "beds", at), f"there is no bed {bed!r}",
                f"Beds: {', '.join(sorted(beds))}.",
            )  # fmt: skip


def _results(path: FieldPath, each: Comparison, checked: Checked, as_of: date) -> None:
    seen: set[tuple[int | None, str | None, date]] = set()
    for at, result in enumerate(each.result):
        where = (*path, "result", at)
        _of_its_design(where, each, result, checked)
        if each.beds and result.bed is not None and result.bed not in each.beds:
            checked.fault(
                (*where, "bed"), f"bed {result.bed!r} is none of the comparison's",
                f"Beds: {', '.join(each.beds)}.",
            )  # fmt: skip
        if each.blocks and result.block is not None and result.block > len(each.blocks):
            checked.fault(
                (*where, "block"), f"there is no block {result.block}",
                f"Blocks are counted from 1 to {len(each.blocks)}.",
            )  # fmt: skip
        if result.way is not None and result.way not in each.every_way:
            checked.fault(
                (*where, "way"), f"{result.way!r} is none of the ways",
                f"Ways: {', '.join(each.every_way)}.",
            )  # fmt: skip
        if result.on > as_of:
            checked.fault(
                (*where, "on"), f"{result.on} lies after {as_of}, the day of reading",
                "Correct the date, or read as of a later day.",
            )  # fmt: skip
        try:
            value = each.read(result.value)
        except UnitError as error:
            example = f"12 {each.unit}" if each.kind != "count" else "12"
            quoted = f'"{example}"' if each.kind != "count" else example
            checked.fault((*where, "value"), error.problem, f"Such as value = {quoted}.")
        else:
            if value < 0:
                checked.fault((*where, "value"), f"{result.value!r} is less than 0")
        plot = (result.block, result.way or result.bed, result.on)
        named = f"bed {result.bed!r}" if result.bed else f"block {result.block}, {result.way!r},"
        if plot in seen:
            checked.fault(
                (*where, "on"),
                f"{named} stands twice on {result.on}",
                "One value for each plot and day.",
            )
        seen.add(plot)


def _of_its_design(
    where: FieldPath, each: Comparison, result: ComparisonResult, checked: Checked
) -> None:
    """A result names its plot by block and way; without blocks by its bed alone."""
    wanted, other = (("bed",), ("block", "way")) if each.beds else (("block", "way"), ("bed",))
    for name in wanted:
        if getattr(result, name) is None:
            checked.fault((*where, name), f"{name} is missing")
    for name in other:
        if getattr(result, name) is not None:
            remedy = (
                "Its bed alone tells the plot." if each.beds else "Block and way tell the plot."
            )
            checked.fault((*where, name), f"{name} is not needed here", f"Take it out. {remedy}")
