"""Light along a bed: a band of cells in gray tones, each with its figure, level with the bed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from bedwright.drawings.ink import INK, SMALL, THIN
from bedwright.drawings.svg import add
from bedwright.face import text_width, wrapped

_TALL, _LINE = 18.0, 17.0  # px of a band, and of the words above it
_GAP = 6.0
_DARKEST = 166  # the gray of no light: figures on it keep 7 to 1


@dataclass(frozen=True)
class LightStrip:
    """Light along one crop's rows, from the left end of the drawing to the right.

    ``light_mol_m2_d`` stand for equal parts of ``from_m`` to ``to_m``; ``open_mol_m2_d`` is that
    of open ground. ``title`` is written above.
    """

    title: str
    light_mol_m2_d: tuple[float, ...]
    open_mol_m2_d: float
    from_m: float
    to_m: float


def strips_height(strips: Sequence[LightStrip]) -> float:
    """How much of the page the bands take [px]."""
    return len(strips) * (_LINE + _TALL + _GAP)


def draw_strips(
    parent: Element,
    strips: Sequence[LightStrip],
    left: float,
    y: float,
    scale: float,
    *,
    right: float,
) -> float:
    """Draw the bands below ``y``, level with the bed; where they end [px].

    Words that would run beyond ``right`` begin at ``left``, and take a second line.
    """
    for strip in strips:
        group = add(parent, "g", class_="light", data_open=f"{strip.open_mol_m2_d:.3g}")
        start = left + strip.from_m * scale
        x = start if start + text_width(strip.title, SMALL) <= right else left
        for line in wrapped(strip.title, right - x, SMALL):
            y += _LINE
            add(group, "text", line, x=x, y=y - 4, font_size=SMALL)
        wide = (strip.to_m - strip.from_m) * scale / len(strip.light_mol_m2_d)
        figures = [f"{each:.0f}" for each in strip.light_mol_m2_d]
        needed = max(text_width(each, SMALL) for each in figures) + 5
        every = next(step for step in range(1, 99) if step * wide >= needed)
        for at, light in enumerate(strip.light_mol_m2_d):
            x = start + at * wide
            add(
                group,
                "rect",
                x=x,
                y=y,
                width=wide,
                height=_TALL,
                fill=tone(light / strip.open_mol_m2_d if strip.open_mol_m2_d > 0 else 1.0),
                stroke=INK,
                stroke_width=THIN,
                data_light=f"{light:.3g}",
            )
        for at, figure in enumerate(figures):
            if at % every == every // 2 and start + (at + 0.5) * wide + needed / 2 <= (
                start + len(figures) * wide + 1
            ):
                add(
                    group,
                    "text",
                    figure,
                    x=start + (at + 0.5) * wide,
                    y=y + _TALL / 2 + SMALL * 0.34,
                    text_anchor="middle",
                    font_size=SMALL,
                )
        y += _TALL + _GAP
    return y


def tone(share: float) -> str:
    """The gray of a share of the open light: paper for all of it, darker for less."""
    level = round(_DARKEST + (255 - _DARKEST) * min(max(share, 0.0), 1.0))
    return f"#{level:02x}{level:02x}{level:02x}"
