"""What stands in a bed, told by hatching: four patterns that stay apart in gray."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from xml.etree.ElementTree import Element

from bedwright.drawings.ink import FAINT, PAPER
from bedwright.drawings.svg import add


class BedState(StrEnum):
    """What a bed is doing."""

    PLANNED = "planned"  # a crop is wanted and not yet set out
    STANDING = "standing"  # a crop grows
    RESTING = "resting"  # between spreading and setting out
    EMPTY = "empty"  # nothing grows and nothing is wanted


def define_hatches(root: Element, id_prefix: str, states: Iterable[BedState]) -> None:
    """Add the patterns of these states to a drawing."""
    wanted = [state for state in BedState if state in set(states) and state in _STROKES]
    if not wanted:
        return
    room = add(root, "defs")
    for state in wanted:
        size, path, width = _STROKES[state]
        pattern = add(
            room,
            "pattern",
            id=f"{id_prefix}-{state}",
            patternUnits="userSpaceOnUse",
            width=size,
            height=size,
        )
        add(pattern, "rect", width=size, height=size, fill=PAPER)
        add(pattern, "path", d=path, stroke=FAINT, stroke_width=width, stroke_linecap="round")


def hatch(state: BedState | None, id_prefix: str) -> str:
    """The fill of a bed in this state; paper for an empty bed or one whose state is not told."""
    return f"url(#{id_prefix}-{state})" if state in _STROKES else PAPER


_STROKES: dict[BedState | None, tuple[float, str, float]] = {  # size of the pattern, path, weight
    BedState.PLANNED: (9.0, "M-2 2 L2 -2 M0 9 L9 0 M7 11 L11 7", 1.0),
    BedState.STANDING: (6.0, "M0 6 L6 0 M0 0 L6 6", 0.9),
    BedState.RESTING: (7.0, "M2 2 h0.01 M5.5 5.5 h0.01", 1.7),
}
