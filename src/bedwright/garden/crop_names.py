"""What the names of crops in a garden document stand for, the gardener's own cultivars included."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from bedwright.garden.checked import Checked
from bedwright.garden.faults import Path as FieldPath
from bedwright.garden.model import Garden
from bedwright.reference import Library, UnknownName
from bedwright.reference.library import fold


def resolve_crops(garden: Garden, library: Library, checked: Checked) -> None:
    """Find the table's crop behind every name, and the gardener's own words on it.

    A crop of the gardener's own stands for the one that it is like; ``checked.cultivars`` says
    which entry of ``[[crop]]`` outranks the tables there.
    """
    own = _own_crops(garden, library, checked)
    for path, word in _named(garden):
        at = own.get(fold(word))
        if at is not None:
            key = checked.keys.get(("crop", at, "crop"))
            if key is not None:
                checked.keys[path] = key
                checked.cultivars[path] = at
            continue
        try:
            key = library.resolve("crop_names", "crop", word)
        except UnknownName as unknown:
            near = difflib.get_close_matches(fold(word), list(own), n=2, cutoff=0.6)
            nearest = [*(garden.crop[own[each]].crop for each in near), *unknown.nearest]
            hint = f"Nearest: {', '.join(nearest)}." if nearest else ""
            checked.fault(path, f"{word!r} is not a known crop", hint)
            continue
        checked.keys[path] = key
        same = next(
            (at for at in own.values() if _is_of_the_tables(garden, at, key, checked)), None
        )
        if same is not None:
            checked.cultivars[path] = same


def _is_of_the_tables(garden: Garden, at: int, key: str, checked: Checked) -> bool:
    """Whether an entry is the gardener's word on a crop of the tables, not a cultivar like it."""
    return garden.crop[at].like is None and checked.keys.get(("crop", at, "crop")) == key


def _own_crops(garden: Garden, library: Library, checked: Checked) -> dict[str, int]:
    own: dict[str, int] = {}
    seen: dict[str, int] = {}
    for at, each in enumerate(garden.crop):
        path: FieldPath = ("crop", at, "like" if each.like is not None else "crop")
        try:
            key = library.resolve("crop_names", "crop", each.like or each.crop)
        except UnknownName as unknown:
            hint = f"Nearest: {', '.join(unknown.nearest)}." if unknown.nearest else ""
            if each.like is None:
                hint = f"Add like, the crop of the tables that it behaves like. {hint}".strip()
            checked.fault(path, f"{each.like or each.crop!r} is not a known crop", hint)
            continue
        checked.keys[("crop", at, "crop")] = key
        own.setdefault(fold(each.crop), at)
        name = fold(each.crop) if each.like is not None else key
        if seen.setdefault(name, at) != at:
            checked.fault(("crop", at, "crop"), f"{each.crop!r} is described twice")
    return own


def _named(garden: Garden) -> Iterator[tuple[FieldPath, str]]:
    for name in (
        "history", "want", "wish", "pin", "supply", "standing", "comparison", "germination_test",
    ):  # fmt: skip
        for at, each in enumerate(getattr(garden, name)):
            if each.crop is not None:
                yield (name, at, "crop"), each.crop
    for at, want in enumerate(garden.want):
        if want.companion is not None:
            yield ("want", at, "companion"), want.companion
