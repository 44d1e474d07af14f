"""Forms for one item of a list in the garden document: a wish, a pin, a fence, a crop of one's own.

A kind of item derives from :class:`PartForm` and says what its fields show, what they state, and
how the item is called. What the form does not know stays as it stands, and so does every field that
was not touched, to the letter.
"""

from __future__ import annotations

import hashlib
import json
from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from django.utils.translation import gettext as _

from bedwright.garden.edit import EditError, add_item, set_field, unset_field, value_at
from bedwright.garden.faults import Path
from bedwright.web.forms_of_parts import Field, Paper
from bedwright.web.standing import Standing, tables

Item = Mapping[str, Any]


@dataclass(frozen=True)
class Group:
    """Fields that belong together, under a legend where there is one."""

    legend: str
    fields: Sequence[Field]
    hint: str = ""


class PartForm(ABC):
    """The form of one kind of item: ``table`` is its list in the document, ``names`` its fields.

    ``back`` names the address of the page that lists the items, ``address`` that of the form.
    ``typed_in`` has the inputs of a field that is not typed into one of its own name, ``said_at``
    the one at which its faults are said.
    """

    table: ClassVar[str]
    names: ClassVar[tuple[str, ...]]
    back: ClassVar[str]
    address: ClassVar[str]
    typed_in: ClassVar[Mapping[str, tuple[str, ...]]] = {}
    said_at: ClassVar[Mapping[str, str]] = {}

    @abstractmethod
    def titles(self) -> tuple[str, str]:
        """What the form of a new item is called, and the button that takes one out."""

    @abstractmethod
    def stated(self, standing: Standing, at: int) -> dict[str, str]:
        """What the form shows for an item of the document."""

    def begun(self, standing: Standing, asked: Mapping[str, str]) -> dict[str, str]:
        """What the form of a new item shows, with what an address asked for."""
        return {each: asked[each][:200] for each in self.names if each in asked}

    @abstractmethod
    def read(self, standing: Standing, paper: Paper, held: Item | None) -> dict[str, Any]:
        """Every field of ``names`` as the document states it, None where it is left out.

        ``held`` is the item as it stands. What can't be read is noted in ``paper``.
        """

    def beside(self, text: str, paper: Paper, item: Item) -> str:
        """The text, ``item`` written, with what the form states elsewhere: nothing, as a rule."""
        return text

    @abstractmethod
    def groups(self, standing: Standing, paper: Paper) -> list[Group]:
        """The fields of the form with what was typed and what is wrong with it."""

    @abstractmethod
    def called(self, item: Item) -> str:
        """What an item is called in a sentence, from its fields in the document."""

    def change(self, item: Item, *, new: bool) -> str:
        """What putting in or changing an item is called among the revisions."""
        return (_("{item} put in") if new else _("{item} changed")).format(item=self.called(item))

    def removal(self, item: Item) -> str:
        """What taking an item out is called."""
        return _("{item} taken out").format(item=self.called(item))

    def lists(self, standing: Standing) -> dict[str, Sequence[str]]:
        """The known words that text fields offer, by the id that ``Field.listed`` names."""
        return {"crops": crop_names(standing)}


def items(text: str, table: str) -> list[dict[str, Any]]:
    """The items of a list as the document's text states them; none where it has none."""
    try:
        found = value_at(text, (table,))
    except EditError:
        return []
    return list(found)


def digest(item: Item) -> str:
    """What tells an item from the others, whatever its place."""
    words = json.dumps(item, sort_keys=True, default=str)
    return hashlib.sha256(words.encode()).hexdigest()[:16]


def written(
    text: str, form: PartForm, at: int | None, said: Mapping[str, Any], kept: frozenset[str]
) -> tuple[str, int, dict[Path, str]]:
    """The text with an item, its place, and which field of the form bears which path's faults.

    ``kept`` are the fields that were not touched: they stay as they stand.
    """
    if at is None:
        made = {name: said[name] for name in form.names if said[name] is not None}
        text = add_item(text, (form.table,), made)
        at = len(items(text, form.table)) - 1
    else:
        for name in form.names:
            here: Path = (form.table, at, name)
            if name in kept:
                continue
            if said[name] is None:
                text = unset_field(text, here)
            else:
                text = set_field(text, here, said[name])
    return text, at, {(form.table, at, name): form.said_at.get(name, name) for name in form.names}


def untouched(form: PartForm, shown: Mapping[str, str], paper: Paper) -> frozenset[str]:
    """The fields whose words are those that the form showed for what stands."""

    def same(name: str) -> bool:
        inputs = form.typed_in.get(name, (name, f"{name}_unit"))
        return all(
            str(shown.get(key, "")).strip() == str(paper.typed.get(key, "")).strip()
            for key in inputs
        )

    return frozenset(name for name in form.names if same(name))


def maker(paper: Paper) -> Any:
    """Makes a form's fields: name, label, kind, with what was typed and what is wrong."""

    def of(name: str, label: str, kind: str = "text", **more: Any) -> Field:
        return Field(name, label, str(paper.typed.get(name, "")).strip("\r\n"), kind,
                     faults=paper.faults.get(name, ()), **more)  # fmt: skip

    return of


def crop_names(standing: Standing) -> list[str]:
    """The crops that a form may name: the gardener's own, then those of the tables."""
    own = [each.crop for each in standing.stated.garden.crop]
    known = sorted({row["name"].lower() for row in tables().rows("crops")})
    return list(dict.fromkeys((*own, *known)))


def turn_choices() -> list[tuple[str, str]]:
    """The two turns of a year, and both."""
    return [("", _("any time of the year")), ("spring", _("spring")),
            ("late summer", _("late summer"))]  # fmt: skip
