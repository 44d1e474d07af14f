"""Writing SVG: elements, numbers and words that cannot break out of their place."""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.etree.ElementTree import Element, SubElement, tostring

from bedwright.drawings.ink import FACE, INK, PAPER, TEXT
from bedwright.units.show import plain

_NAMESPACE = "http://www.w3.org/2000/svg"
_PREFIX = re.compile(r"[A-Za-z][A-Za-z0-9_-]{0,60}")
# What XML 1.0 cannot hold, escaped or not (W3C, XML 1.0 5th edition, production 2), and the signs
# that turn the direction of what follows them.
_FORBIDDEN = re.compile(
    "[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]|[\u202a-\u202e\u2066-\u2069]"
)


def sheet(title: str, description: str, id_prefix: str, *, linked: bool) -> Element:
    """An empty drawing with its title and description.

    ``id_prefix`` begins every id, so that two drawings can stand on one page; a letter, then
    letters, digits, ``_`` or ``-``. Raises ValueError for another. A drawing with links in it is a
    group to a screen reader, since a picture's parts cannot be reached; one without is a picture.
    """
    if not _PREFIX.fullmatch(id_prefix):
        raise ValueError(f"{id_prefix!r} cannot begin an id")
    root = Element("svg", {"xmlns": _NAMESPACE, "role": "group" if linked else "img"})
    root.set("aria-labelledby", f"{id_prefix}-title {id_prefix}-description")
    root.set("font-family", FACE)
    root.set("font-size", number(TEXT))
    root.set("fill", INK)
    add(root, "title", title, id=f"{id_prefix}-title")
    add(root, "desc", description, id=f"{id_prefix}-description")
    return root


def finish(root: Element, width: float, height: float) -> str:
    """The drawing as text, on white paper of this size [px]; it scales to the room it is given."""
    root.set("viewBox", f"0 0 {number(width)} {number(height)}")
    root.set("width", number(width))
    root.set("height", number(height))
    paper = Element("rect", {"width": number(width), "height": number(height), "fill": PAPER})
    root.insert(2, paper)
    return tostring(root, encoding="unicode")


def add(
    parent: Element, tag: str, text: str | None = None, /, **attributes: str | float | None
) -> Element:
    """An element with attributes (``_`` for ``-``; those that are None left out)."""
    element = SubElement(parent, tag)
    for name, value in attributes.items():
        if value is not None:
            written = clean(value) if isinstance(value, str) else number(value)
            element.set(name.rstrip("_").replace("_", "-"), written)
    if text is not None:
        element.text = clean(text)
    return element


def points(corners: Iterable[tuple[float, float]]) -> str:
    """Corners as a polygon's points."""
    return " ".join(f"{number(x)},{number(y)}" for x, y in corners)


def number(value: float) -> str:
    """A length on the drawing, to a thousandth of a px."""
    return plain(round(value, 3), 9)


def clean(text: str) -> str:
    """A text without the signs that XML cannot hold or that turn the words after them."""
    return _FORBIDDEN.sub("\ufffd", text)
