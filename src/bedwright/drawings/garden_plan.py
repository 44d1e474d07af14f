"""The garden drawn to scale: every bed where it lies, with its name, its state and its crops."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from xml.etree.ElementTree import Element

from bedwright.drawings.bed_shape import draw_shape, rooms
from bedwright.drawings.beds_said import bed_label, bed_words
from bedwright.drawings.geometry import Polygon, bounds, box
from bedwright.drawings.hatching import BedState, define_hatches, hatch
from bedwright.drawings.ink import INK, SMALL, TEXT, THIN
from bedwright.drawings.labels import BedWords, Room, Words, fitted, ground, write
from bedwright.drawings.lengths import round_step, tape
from bedwright.drawings.loose import Shelves, fitting_scale, shelves, widest_m
from bedwright.drawings.marks import dimension, north_arrow, scale_bar
from bedwright.drawings.outside import Beside, Taken, beside, write_beside
from bedwright.drawings.shade import (
    ShadeLayer,
    ToPage,
    clipped,
    draw_shade,
    draw_things,
    sun_mark,
    take_ground,
    with_things,
)
from bedwright.drawings.shade_said import shade_said
from bedwright.drawings.svg import add, clean, finish, sheet
from bedwright.face import text_width, wrapped
from bedwright.garden import Document, Garden
from bedwright.garden.ground_plan import placed_plan
from bedwright.units import UnitSystem

_EDGE = 10.0  # px kept free at the paper's edge
_LEFT, _TOP, _BELOW = 42.0, 36.0, 36.0  # px around the placed beds, for dimensions and names
_OFF = 24.0  # px from the beds to a dimension line
_TALLEST = 1.3  # of the width
_MOST_SCALE = 160.0  # px per meter: a single small bed need not fill the page
_LEAST_WIDTH = 240.0
_NAMED = 12  # beds named in a note before the rest is counted


@dataclass
class _Page:
    """What is being drawn: beds on the page by their number, and ground that is taken."""

    garden: Garden
    words: Mapping[str, str]
    width: float
    left: float = _LEFT
    scale: float = 1.0
    corners: dict[int, Polygon] = field(default_factory=dict)
    taken: Taken = field(default_factory=Taken)
    unnamed: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class _Told:
    """What is told of each bed by its id, and how."""

    states: Mapping[str, BedState]
    said: Mapping[str, BedWords]
    system: UnitSystem
    link: Callable[[str], str] | None
    id_prefix: str


def garden_drawing(
    document: Document,
    *,
    states: Mapping[str, BedState],
    system: UnitSystem,
    words: Mapping[str, str],
    link: Callable[[str], str] | None = None,
    id_prefix: str = "garden",
    width_px: float = 720.0,
    shade: ShadeLayer | None = None,
    stands: Mapping[str, str] | None = None,
) -> str:
    """The plan of the garden as SVG text, north at the top.

    ``states`` has every bed by its id, ``stands`` the crops that stand before what is wanted;
    ``link`` gives the address of a bed's page by its id; ``words`` are those of the drawings;
    ``id_prefix`` begins every id in the drawing. The drawing is laid out for ``width_px`` (240 or
    more), its words 14 px and 12.5 px high there, and scales to the room it is given; ask for the
    width of the screen it is meant for. Beds whose corner is not stated stand beside the others, to
    scale. ``shade`` lays the shade of one moment over the placed beds and draws what casts it.
    Raises ValueError for a bed without a state, a width below 240 and a prefix that cannot begin an
    id.
    """
    if not width_px >= _LEAST_WIDTH:
        raise ValueError(f"a plan of {width_px} px is too narrow to be read")
    garden = document.garden
    told = _Told(states, bed_words(garden, states, words, stands or {}), system, link, id_prefix)
    page = _Page(garden, words, width_px)
    plans = {at: plan for at, bed in enumerate(garden.bed) if (plan := placed_plan(bed))}
    loose = [at for at in range(len(garden.bed)) if at not in plans]
    reach = bounds([point for plan in plans.values() for point in plan]) if plans else None
    said = shade_said(
        shade,
        {garden.bed[at].id: plan for at, plan in plans.items()},
        system,
        loose=bool(loose),
        listed=lambda names: _listed(names, words),
    )
    described = _described(page, reach, system)
    if reach is not None and shade is not None:
        reach = with_things(reach, shade)
    page.scale = _scale(page, reach, loose)
    if reach is not None:
        height = tape(reach[3] - reach[1], system)
        beyond = _OFF + 12 + text_width(height, SMALL)
        if (reach[3] - reach[1]) * page.scale < beyond:  # its words stand beside a short line
            page.left = max(_LEFT, beyond)
            page.scale = _scale(page, reach, loose)

    title = words["garden_title"].format(garden=garden.garden.name)
    description = " ".join((described, *said))
    root = sheet(title, description, id_prefix, linked=link is not None)
    root.set("data-px-per-m", f"{page.scale:.9g}")
    used = [states[bed.id] for bed in garden.bed]
    define_hatches(root, id_prefix, used)
    y = _TOP if reach is not None else _EDGE
    if reach is not None:
        west, south, east, north = reach

        def to_page(corners: Iterable[Iterable[float]]) -> Polygon:
            return tuple(
                (page.left + (x - west) * page.scale, _TOP + (north - up) * page.scale)
                for x, up in corners
            )

        page.corners |= {at: to_page(plan) for at, plan in plans.items()}
        edges = (
            page.left,
            y,
            page.left + (east - west) * page.scale,
            y + (north - south) * page.scale,
        )
        within = (page.left - 14, 3.0, page.width - 3.0, edges[3] + _BELOW)
        _placed(root, page, plans, within, told, shade, to_page)
        low = page.taken.lowest
        _dimensions(root, edges, reach, system, max(_OFF, low - edges[3] + 10))
        y = max(edges[3] + _OFF, low + 10) + 14
    if loose:
        y = _lines(root, page, _loose_words(page, loose, reach is None), y)
        shelf = shelves(garden, loose, page.scale, page.width - 2 * _EDGE)
        within = (3.0, y + 2, page.width - 3.0, y + shelf.height + 26)
        y = _shelve(root, page, shelf, y)
        _beds(root, page, loose, within, told)
    y = _foot(root, page, y, system, shade if plans else None, turned=_turned(garden))
    y = _key(root, page, y, used, id_prefix)
    for each in (*said, *_notes(page, loose)):
        y = _lines(root, page, each, y)
    return finish(root, page.width, y + _EDGE)


def _scale(
    page: _Page, reach: tuple[float, float, float, float] | None, loose: Sequence[int]
) -> float:
    """px per meter: as large as width and height allow."""
    if reach is None:
        room = page.width - 2 * _EDGE
        return fitting_scale(page.garden, loose, room, page.width, _MOST_SCALE)
    west, south, east, north = reach
    return min(
        (page.width - page.left - _EDGE - 8) / (east - west),
        page.width * _TALLEST / (north - south),
        (page.width - 2 * _EDGE) / max(widest_m(page.garden, loose), 1e-9),
        _MOST_SCALE,
    )


def _described(
    page: _Page, reach: tuple[float, float, float, float] | None, system: UnitSystem
) -> str:
    count = len(page.garden.bed)
    beds = page.words["beds_one" if count == 1 else "beds_many"].format(count=count)
    if reach is None:
        return page.words["garden_loose"].format(beds=beds)
    west, south, east, north = reach
    return page.words["garden_placed"].format(
        beds=beds, east=tape(east - west, system), north=tape(north - south, system)
    )


def _loose_words(page: _Page, loose: Sequence[int], all_of_them: bool) -> str:
    if all_of_them:
        return page.words["loose_all"]
    return page.words["loose_one" if len(loose) == 1 else "loose_many"].format(count=len(loose))


def _dimensions(
    root: Element,
    edges: tuple[float, float, float, float],
    reach: tuple[float, float, float, float],
    system: UnitSystem,
    below: float,
) -> None:
    left, top, right, bottom = edges
    west, south, east, north = reach
    dimension(root, (right, bottom), (left, bottom), tape(east - west, system), off=below)
    dimension(root, (left, bottom), (left, top), tape(north - south, system), off=_OFF)


def _shelve(root: Element, page: _Page, shelf: Shelves, y: float) -> float:
    for at, corners in shelf.beds.items():
        page.corners[at] = tuple((px + _EDGE, py + y) for px, py in corners)
    for text, (x, foot) in shelf.headings:
        add(root, "text", text, x=x + _EDGE, y=foot + y, font_weight="bold")
        wide = text_width(text, TEXT, bold=True)
        page.taken.add(box((x + _EDGE + wide / 2, foot + y - TEXT / 3), wide, TEXT))
    return y + shelf.height + 26.0


def _placed(
    root: Element,
    page: _Page,
    plans: Mapping[int, object],
    within: tuple[float, float, float, float],
    told: _Told,
    shade: ShadeLayer | None,
    to_page: ToPage,
) -> None:
    """The beds where they lie with the names of their blocks, and the shade over them."""
    if shade is None:
        _beds(root, page, list(plans), within, told)
        _block_names(root, page, plans, within)
        return
    take_ground(page.taken, shade, to_page, within)
    clip = clipped(root, within, told.id_prefix)
    _beds(root, page, list(plans), within, told, lambda: draw_things(root, shade, to_page, clip))
    names = add(root, "g", class_="block-names")
    _block_names(names, page, plans, within, plate=True)
    draw_shade(root, shade, to_page, within, page.taken, told.id_prefix)
    root.remove(names)  # their ground was kept free of other words; they stand over the shade
    root.append(names)


def _beds(
    root: Element,
    page: _Page,
    beds: Sequence[int],
    within: tuple[float, float, float, float],
    told: _Told,
    between: Callable[[], None] | None = None,
) -> None:
    """Draw these beds with their words in them, or their names beside them.

    ``between`` draws what stands in the beds: over their ground, under their words.
    """
    for at in beds:
        page.taken.add(page.corners[at])
    groups, inside, beyond = {}, [], []
    for at in beds:
        bed = page.garden.bed[at]
        state = told.states[bed.id]
        label = bed_label(bed, state, told.said[bed.id], told.system, page.words)
        kind = f"bed bed-{state}"
        if told.link is None:
            group = add(root, "g", class_=kind, data_bed=bed.id)
        else:
            group = add(root, "a", class_=kind, data_bed=bed.id, href=told.link(bed.id))
            group.set("aria-label", clean(label))
        add(group, "title", label)
        draw_shape(group, bed, page.corners[at], hatch(state, told.id_prefix))
        groups[at] = group
        both = rooms(bed, page.corners[at])
        found = fitted(both, told.said[bed.id])
        if found is None:
            beyond.append((at, max(both, key=lambda room: room.along)))
        elif between is None:
            write(group, *found, plate=state is not BedState.EMPTY)
        else:
            inside.append((bed.id, found))
    if between is not None:
        between()
    for bed_id, fit in inside:
        over = add(root, "g", class_="bed-words", data_bed=bed_id, pointer_events="none")
        write(over, *fit, plate=True)
    for at, room in beyond:
        name = Words(page.garden.bed[at].id, SMALL, bold=True)
        own = page.corners[at]
        place: Beside | None = beside(name, room, own, page.taken, within)
        if place is None:
            page.unnamed.append(name.text)
            continue
        page.taken.add(ground(place.room, name))
        write_beside(groups[at], place)


def _block_names(
    root: Element,
    page: _Page,
    plans: Mapping[int, object],
    within: tuple[float, float, float, float],
    *,
    plate: bool = False,
) -> None:
    """Write each block's name beside its beds, where there is room for it."""
    for block in page.garden.block:
        members = [at for at in plans if page.garden.bed[at].block == block.id]
        if not members:
            continue
        left, top, right, bottom = bounds([p for at in members for p in page.corners[at]])
        name = Words(block.name or block.id, bold=True)
        half = name.width / 2
        for x, y in (
            (left + half, top - 12),
            ((left + right) / 2, top - 12),
            (right - half, top - 12),
            (left + half, bottom + 12),
            (right - half, bottom + 12),
        ):
            room = Room((x, y), name.width, TEXT)
            covered = ground(room, name)
            fits = x - half >= within[0] and x + half <= within[2]
            fits = fits and y - TEXT / 2 >= within[1] and y + TEXT / 2 <= within[3]
            if fits and not page.taken.meets(covered):
                page.taken.add(covered)
                write(root, room, (name,), plate=plate)
                break


def _turned(garden: Garden) -> bool:
    """Whether any bed's direction is known, so that a north arrow says something."""
    return any(bed.long_axis is not None or bed.outline is not None for bed in garden.bed)


def _foot(
    root: Element,
    page: _Page,
    y: float,
    system: UnitSystem,
    shade: ShadeLayer | None,
    *,
    turned: bool,
) -> float:
    """The scale bar, and sun and north arrow at the right; where the next thing may begin."""
    step = round_step((page.width - 2 * _EDGE) / page.scale, 5, system)
    unit = page.words["unit_us" if system is UnitSystem.US else "unit_metric"]
    scale_bar(root, (_EDGE + 10, y + 28), step, unit, page.scale)
    if shade is not None:
        sun_mark(root, (page.width - _EDGE - 76, y + 26), shade)
    if turned:
        north_arrow(root, (page.width - _EDGE - 16, y + 30), 0.0, page.words["north"])
    return y + 52


def _key(root: Element, page: _Page, y: float, used: Sequence[BedState], id_prefix: str) -> float:
    """Each hatching in use with its word, since small beds have no room for it."""
    x = _EDGE
    for state in (each for each in BedState if each in used):
        word = page.words[f"state_{state}"]
        wide = 32 + text_width(word, TEXT) + 20
        if x > _EDGE and x + wide > page.width - _EDGE:
            x, y = _EDGE, y + 26
        fill = hatch(state, id_prefix)
        add(
            root,
            "rect",
            x=x,
            y=y,
            width=26,
            height=18,
            fill=fill,
            stroke=INK,
            stroke_width=THIN,
        )
        add(root, "text", word, x=x + 32, y=y + 14)
        x += wide
    return y + 30


def _notes(page: _Page, loose: Sequence[int]) -> list[str]:
    beds = [page.garden.bed[at] for at in loose]
    adrift = [bed.id for bed in beds if bed.long_axis is None and bed.outline is None]
    found = []
    if adrift and len(adrift) < len(page.garden.bed):
        found.append(page.words["no_direction"].format(beds=_listed(adrift, page.words)))
    if page.unnamed:
        found.append(page.words["too_small"].format(beds=_listed(page.unnamed, page.words)))
    return found


def _listed(beds: Sequence[str], words: Mapping[str, str]) -> str:
    if len(beds) <= _NAMED:
        return ", ".join(beds)
    first = ", ".join(beds[:_NAMED])
    return words["and_more"].format(beds=first, count=len(beds) - _NAMED)


def _lines(root: Element, page: _Page, text: str, y: float) -> float:
    for line in wrapped(text, page.width - 2 * _EDGE, SMALL):
        y += SMALL * 1.35
        add(root, "text", line, x=_EDGE, y=y, font_size=SMALL)
    return y + 4
