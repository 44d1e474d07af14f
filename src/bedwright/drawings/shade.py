"""The shade of one moment over the garden's plan, and the things that cast it.

A gray wash, darker the less light passes, with a broken line around it; nothing is darker where
two shadows of one kind meet, and the darkest covers the others.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

import numpy as np

from bedwright.drawings.geometry import Polygon, bounds, box, middle
from bedwright.drawings.ink import HEAVY, INK, PAPER, PLAIN, SMALL, THIN
from bedwright.drawings.labels import Room, Words, ground, write
from bedwright.drawings.outside import Taken, beside, write_beside
from bedwright.drawings.svg import add, points
from bedwright.guards import within
from bedwright.light.ground import ground_shadow
from bedwright.light.scene import Cloth, FloatArray, Prism, Scene, Screen
from bedwright.light.shade import beam_transmission, sun_directions

_Thing = Prism | Screen | Cloth
Reach = tuple[float, float, float, float]
ToPage = Callable[[FloatArray], Polygon]

_WASH = 0.28  # of ink in full shade: words on it keep 9:1
_TONES = 4  # grays told apart
_FARTHEST = 0.35  # of the garden's extent: things farther off are not shown, their shade is
_POSTS_M = 2.4  # about 8 ft from post to post: common_practice
_LEAST_POSTS_PX = 9.0


@dataclass(frozen=True, eq=False)
class Mark:
    """A thing that casts shade, and its name on the drawing (empty: without a name)."""

    thing: _Thing
    name: str = ""


@dataclass(frozen=True, eq=False)
class ShadeLayer:
    """The shade of one moment: what casts it, where the sun stands, and how the moment is said.

    ``elevation_deg`` 1 to 90 above the horizon, ``azimuth_deg`` from north over east, ``when`` such
    as "21 June, 3 pm", ``words`` those of the shade. Raises ValueError for a sun lower than that.
    """

    marks: tuple[Mark, ...]
    elevation_deg: float
    azimuth_deg: float
    when: str
    words: Mapping[str, str]

    def __post_init__(self) -> None:
        within(1, 90, elevation_deg=self.elevation_deg)

    @property
    def scene(self) -> Scene:
        """Its things as a scene."""
        things = [mark.thing for mark in self.marks]
        return Scene(
            tuple(each for each in things if isinstance(each, Prism)),
            tuple(each for each in things if isinstance(each, Screen)),
            tuple(each for each in things if isinstance(each, Cloth)),
        )

    @property
    def toward(self) -> FloatArray:
        """The direction (1, 3) toward the sun."""
        return sun_directions(np.array([self.elevation_deg]), np.array([self.azimuth_deg]))

    def tone(self, mark: Mark) -> float:
        """How much of the beam a thing takes, in the middle of its shadow, in a few steps."""
        thing, taken = mark.thing, 1 - mark.thing.transmission
        if isinstance(thing, Prism) and thing.extinction_per_m:
            ahead = self.toward[0, :2] / self.toward[0, 2]
            middle_m = (thing.base_m + thing.top_m) / 2
            at = np.append(thing.footprint.mean(axis=0) - middle_m * ahead, 0.0)
            taken = 1 - float(beam_transmission(at[None], self.toward, Scene((thing,)))[0, 0])
        return math.ceil(taken * _TONES - 1e-9) / _TONES


def with_things(reach: Reach, layer: ShadeLayer) -> Reach:
    """West, south, east and north of the beds, widened to things that stand near them [m]."""
    west, south, east, north = reach
    room = _FARTHEST * max(east - west, north - south)
    corners = [tuple(each) for mark in layer.marks for each in _corners(mark.thing)]
    if not corners:
        return reach
    left, low, right, high = bounds(corners)
    return (
        min(west, max(left, west - room)),
        min(south, max(low, south - room)),
        max(east, min(right, east + room)),
        max(north, min(high, north + room)),
    )


def take_ground(taken: Taken, layer: ShadeLayer, to_page: ToPage, page: Reach) -> None:
    """Keep the beds' names off the things on the page."""
    for mark in layer.marks:
        for each in _outlines(mark.thing, to_page):
            left, top, right, bottom = bounds(each)
            if right > page[0] and bottom > page[1] and left < page[2] and top < page[3]:
                taken.add(each)


def clipped(root: Element, page: Reach, id_prefix: str) -> str:
    """Keep to the page's ground (left, top, right, bottom) what is drawn with this address."""
    left, top, right, bottom = page
    clip = add(add(root, "defs"), "clipPath", id=f"{id_prefix}-ground")
    add(clip, "rect", x=left, y=top, width=right - left, height=bottom - top)
    return f"url(#{id_prefix}-ground)"


def draw_things(root: Element, layer: ShadeLayer, to_page: ToPage, clip: str) -> None:
    """Draw what casts the shade: solids, crowns, screens with their posts, cloths."""
    group = add(
        root,
        "g",
        class_="things",
        clip_path=clip,
        pointer_events="none",  # the beds under them can still be touched
        aria_hidden="true",
    )
    for mark in layer.marks:
        _draw_thing(group, mark, to_page)


def draw_shade(
    root: Element, layer: ShadeLayer, to_page: ToPage, page: Reach, taken: Taken, id_prefix: str
) -> None:
    """Draw the shadows over beds and words, and the names of what casts them.

    ``page`` is the ground (left, top, right, bottom) to which :func:`clipped` keeps them.
    """
    room = add(root, "defs")
    over = add(
        root,
        "g",
        class_="shade",
        clip_path=f"url(#{id_prefix}-ground)",
        pointer_events="none",
        aria_hidden="true",
    )
    tones = _by_tone(layer, to_page)
    roofs = [
        f"M{points(to_page(mark.thing.footprint))}Z"
        for mark in layer.marks
        if isinstance(mark.thing, Prism) and mark.thing.base_m == 0
    ]
    for at, (tone, path) in enumerate(tones):
        darker = [each for _, each in tones[:at]] + roofs
        mask = _around(room, f"{id_prefix}-tone-{at}", darker, page) if darker else None
        wash = _WASH * tone
        add(over, "path", d=path, class_="shadow", fill=INK, fill_opacity=wash, mask=mask)
    if tones:
        whole = [each for _, each in tones] + roofs
        add(
            over,
            "path",
            d=" ".join(path for _, path in tones),
            class_="shadow-edge",
            fill="none",
            stroke=INK,
            stroke_width=2 * THIN,
            stroke_dasharray="4 3",
            mask=_around(room, f"{id_prefix}-edge", whole, page),
        )
    _names(root, layer, to_page, page, taken)


def sun_mark(root: Element, center: tuple[float, float], layer: ShadeLayer) -> None:
    """The sun with an arrow along its light, 40 px across, its name to the left."""
    x, y = center
    turn = math.radians(layer.azimuth_deg)
    ux, uy = math.sin(turn), -math.cos(turn)  # toward the sun, north at the top
    group = add(root, "g", class_="sun", data_azimuth=layer.azimuth_deg)
    sun, tip = (x + 14 * ux, y + 14 * uy), (x - 18 * ux, y - 18 * uy)
    add(group, "circle", cx=sun[0], cy=sun[1], r=6, fill=PAPER, stroke=INK, stroke_width=PLAIN)
    line = {"x1": x + 8 * ux, "y1": y + 8 * uy, "x2": x - 12 * ux, "y2": y - 12 * uy}
    add(group, "line", stroke=INK, stroke_width=PLAIN, **line)
    base = (x - 9 * ux, y - 9 * uy)
    head = (tip, (base[0] - 4.5 * uy, base[1] + 4.5 * ux), (base[0] + 4.5 * uy, base[1] - 4.5 * ux))
    add(group, "polygon", points=points(head), fill=INK)
    word = layer.words["shade_sun"]
    add(root, "text", word, x=x - 26, y=y + SMALL / 3, font_size=SMALL, text_anchor="end")


def _corners(thing: _Thing) -> FloatArray:
    return np.stack([thing.start, thing.end]) if isinstance(thing, Screen) else thing.footprint


def _outlines(thing: _Thing, to_page: ToPage) -> list[Polygon]:
    """The ground on the page that a thing takes; a hanging cloth takes none."""
    if isinstance(thing, Cloth):
        return []
    corners = to_page(_corners(thing))
    if not isinstance(thing, Screen):
        return [corners]
    (x1, y1), (x2, y2) = corners
    turn = math.degrees(math.atan2(y2 - y1, x2 - x1))
    return [box(middle(corners), math.dist((x1, y1), (x2, y2)), 6.0, turn)]


def _by_tone(layer: ShadeLayer, to_page: ToPage) -> list[tuple[float, str]]:
    """The shadows' outlines as one path for each tone, the darkest first."""
    paths: dict[float, list[str]] = {}
    for mark in layer.marks:
        tone = layer.tone(mark)
        parts = ground_shadow(mark.thing, layer.elevation_deg, layer.azimuth_deg)
        for part in parts if tone > 0 else ():
            paths.setdefault(tone, []).append(f"M{points(to_page(part))}Z")
    return [(tone, " ".join(paths[tone])) for tone in sorted(paths, reverse=True)]


def _around(room: Element, name: str, without: Sequence[str], page: Reach) -> str:
    """A mask that leaves out some ground; its address."""
    left, top, right, bottom = page
    wide, tall = right - left, bottom - top
    mask = add(
        room, "mask", id=name, maskUnits="userSpaceOnUse", x=left, y=top, width=wide, height=tall
    )
    add(mask, "rect", x=left, y=top, width=wide, height=tall, fill="#ffffff")
    add(mask, "path", d=" ".join(without), fill="#000000")
    return f"url(#{name})"


def _draw_thing(parent: Element, mark: Mark, to_page: ToPage) -> None:
    corners = to_page(_corners(mark.thing))
    if isinstance(mark.thing, Screen):
        _draw_screen(parent, mark.thing, corners)
        return
    kind, weight, dash, cap = "solid", HEAVY, None, None
    if isinstance(mark.thing, Cloth):
        kind, weight, dash = "cloth", PLAIN, "10 3 2 3"
    elif mark.thing.base_m > 0:  # a crown: its trunk stands in the middle
        kind, weight, dash, cap = "crown", PLAIN, "1.5 4", "round"
        x, y = middle(corners)
        add(parent, "circle", cx=x, cy=y, r=2.4, fill=INK)
    add(
        parent,
        "polygon",
        class_=kind,
        points=points(corners),
        fill=PAPER if kind == "solid" else "none",
        stroke=INK,
        stroke_width=weight,
        stroke_dasharray=dash,
        stroke_linecap=cap,
    )


def _draw_screen(parent: Element, screen: Screen, ends: Polygon) -> None:
    """A heavy line with its posts."""
    (x1, y1), (x2, y2) = ends
    add(parent, "line", class_="screen", x1=x1, y1=y1, x2=x2, y2=y2, stroke=INK, stroke_width=HEAVY)
    length = float(np.hypot(*(screen.end - screen.start)))
    spans = max(1, round(length / _POSTS_M))
    spans = min(spans, max(1, int(math.dist(*ends) / _LEAST_POSTS_PX)))
    for at in range(spans + 1):
        x, y = (a + (b - a) * at / spans for a, b in zip(*ends, strict=True))
        add(parent, "circle", cx=x, cy=y, r=2.6, fill=INK)


def _names(root: Element, layer: ShadeLayer, to_page: ToPage, page: Reach, taken: Taken) -> None:
    """Each thing's name in it or beside it, once for each name, where there is room."""
    group = add(root, "g", class_="thing-names")
    written: set[str] = set()
    for mark in layer.marks:
        if not mark.name or mark.name in written:
            continue
        words = Words(mark.name, SMALL, italic=True)
        corners = to_page(_corners(mark.thing))
        left, top, right, bottom = bounds(corners)
        center = ((left + right) / 2, (top + bottom) / 2)
        solid = isinstance(mark.thing, Prism) and mark.thing.base_m == 0
        if solid and words.width + 8 <= right - left and bottom - top >= 2 * SMALL:
            write(group, Room(center, right - left, bottom - top), (words,), plate=False)
            written.add(mark.name)
            continue
        turn = 0.0
        if isinstance(mark.thing, Screen):
            (x1, y1), (x2, y2) = sorted(corners)
            turn = math.degrees(math.atan2(y2 - y1, x2 - x1))
            room = Room(center, math.dist((x1, y1), (x2, y2)), 6.0, turn)
        else:
            room = Room(center, right - left, bottom - top)
        own = box(center, room.along, room.across, turn)
        place = beside(words, room, own, taken, page)
        if place is not None:
            taken.add(ground(place.room, words))
            write_beside(group, place)
            written.add(mark.name)
