"""Reading drawings back: what was drawn, where, and how large; gardens to draw."""

import math
import xml.etree.ElementTree as ET
from dataclasses import dataclass, field

from bedwright.drawings import BedState, garden_drawing
from bedwright.face import text_width
from bedwright.garden import Document, Garden
from bedwright.garden.lines import index_lines
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.units import UnitSystem

SVG = "{http://www.w3.org/2000/svg}"
IDENTITY = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


@dataclass
class Text:
    """A text as it stands on the page: its words, the corners of its ground, its bed."""

    words: str
    corners: list[tuple[float, float]]
    bed: str | None
    size: float
    kinds: tuple[str, ...]


@dataclass
class Drawn:
    """A drawing, read back."""

    root: ET.Element
    texts: list[Text] = field(default_factory=list)

    @property
    def size(self) -> tuple[float, float]:
        _, _, width, height = (float(each) for each in self.root.get("viewBox").split())
        return width, height

    @property
    def scale(self) -> float:
        return float(self.root.get("data-px-per-m"))

    def all(self, kind: str) -> list[ET.Element]:
        return [each for each in self.root.iter() if kind in (each.get("class") or "").split()]

    def beds(self) -> dict[str, ET.Element]:
        return {each.get("data-bed"): each for each in self.all("bed")}

    def outline(self, bed: str) -> list[tuple[float, float]]:
        (polygon,) = (each for each in self.beds()[bed] if each.get("class") == "outline")
        pairs = (each.split(",") for each in polygon.get("points").split())
        return [(float(x), float(y)) for x, y in pairs]

    def words(self) -> list[str]:
        return [each.words for each in self.texts]


def read_drawing(svg: str) -> Drawn:
    drawn = Drawn(ET.fromstring(svg))
    _walk(drawn, drawn.root, IDENTITY, None, 14.0, ())
    return drawn


def _walk(drawn, node, matrix, bed, size, kinds) -> None:
    matrix = _through(matrix, node.get("transform", ""))
    bed = node.get("data-bed", bed)
    size = float(node.get("font-size", size))
    kinds = (*kinds, *(node.get("class") or "").split())
    if node.tag == SVG + "text":
        width = text_width(node.text or "", size, bold=node.get("font-weight") == "bold")
        x, y = float(node.get("x")), float(node.get("y"))
        left = x - {"middle": width / 2, "end": width}.get(node.get("text-anchor", ""), 0.0)
        box = [(left, y - 0.7 * size), (left + width, y - 0.7 * size)]
        box += [(left + width, y + 0.04 * size), (left, y + 0.04 * size)]
        corners = [_apply(matrix, each) for each in box]
        drawn.texts.append(Text(node.text or "", corners, bed, size, kinds))
    for child in node:
        _walk(drawn, child, matrix, bed, size, kinds)


def _through(matrix, transform: str):
    for step in transform.split(")"):
        name, _, given = step.strip().partition("(")
        if not name:
            continue
        numbers = [float(each) for each in given.replace(",", " ").split()]
        if name == "translate":
            other = (1.0, 0.0, 0.0, 1.0, numbers[0], numbers[1])
        else:
            assert name == "rotate"
            assert len(numbers) == 1
            c, s = math.cos(math.radians(numbers[0])), math.sin(math.radians(numbers[0]))
            other = (c, s, -s, c, 0.0, 0.0)
        a, b, c1, d, e, f = matrix
        p, q, r, t, u, v = other
        matrix = (
            a * p + c1 * q,
            b * p + d * q,
            a * r + c1 * t,
            b * r + d * t,
            a * u + c1 * v + e,
            b * u + d * v + f,
        )
    return matrix


def _apply(matrix, point):
    a, b, c, d, e, f = matrix
    return (a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f)


def area(polygon) -> float:
    """Area by the sum over corners, with the sign of the way round."""
    pairs = zip(polygon, polygon[1:] + polygon[:1], strict=True)
    return math.fsum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs) / 2


def apart(first, second) -> bool:
    """Whether two turned rectangles lie clear of each other: some side's direction parts them."""
    for polygon in (first, second):
        for (x1, y1), (x2, y2) in zip(polygon, polygon[1:] + polygon[:1], strict=True):
            nx, ny = y2 - y1, x1 - x2
            a = [x * nx + y * ny for x, y in first]
            b = [x * nx + y * ny for x, y in second]
            if max(a) <= min(b) + 1e-6 or max(b) <= min(a) + 1e-6:
                return True
    return False


def as_document(garden: Garden) -> Document:
    return Document("garden.toml", "", garden, index_lines(""))


def garden_of(*beds: dict, **more) -> Document:
    return as_document(Garden(**({"garden": {"name": "North field"}, "bed": list(beds)} | more)))


def states_of(document: Document) -> dict[str, BedState]:
    choices = list(BedState)
    return {bed.id: choices[at % 4] for at, bed in enumerate(document.garden.bed)}


def plan_of(document: Document, **more) -> Drawn:
    given = {"states": states_of(document), "system": UnitSystem.US, "words": DRAWING_WORDS}
    return read_drawing(garden_drawing(document, **(given | more)))
