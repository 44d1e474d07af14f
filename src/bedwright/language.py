"""The language in which things are said: English as written, others by the catalogues.

A catalogue is ``locale/<language>/LC_MESSAGES/django.mo``; the pages read the same one. A text that
a catalogue lacks stays English: docs/translation.md says which these are.
"""

from __future__ import annotations

import gettext
from collections.abc import ItemsView, Iterator, Mapping, ValuesView
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from importlib import resources
from typing import TypeVar, overload

ENGLISH = "en"
LANGUAGES = {ENGLISH: "English", "es": "Español"}  # each by its own name
NAMES = "name"  # what the names of crops, materials, textures are told apart by

_spoken: ContextVar[str] = ContextVar("bedwright_language", default=ENGLISH)
_Text = TypeVar("_Text", str, tuple[str, ...])
_Other = TypeVar("_Other")


def spoken() -> str:
    """The language of the moment, a key of :data:`LANGUAGES`."""
    return _spoken.get()


@contextmanager
def using(code: str) -> Iterator[None]:
    """Say things in a language, a key of :data:`LANGUAGES`. Raises LookupError for another."""
    if code not in LANGUAGES:
        raise LookupError(f"there is no language {code!r}; there are: {', '.join(LANGUAGES)}")
    before = _spoken.set(code)
    try:
        yield
    finally:
        _spoken.reset(before)


def said(text: str, context: str = "") -> str:
    """A text in the language of the moment.

    ``context`` tells apart English words that are one word here and two there; the translation
    without it stands in.
    """
    code = _spoken.get()
    if code == ENGLISH or not text:
        return text
    catalogue = _catalogue(code)
    found = catalogue.pgettext(context, text) if context else text
    return catalogue.gettext(text) if found == text else found


def named(name: str) -> str:
    """A crop, a material, a texture or a method by its name here; one's own names stay."""
    if _spoken.get() == ENGLISH:
        return name
    low = name.lower()
    found = said(low, NAMES)
    if found == low:
        return name
    return f"{found[:1].upper()}{found[1:]}" if name[:1].isupper() else found


def names_said(listed: str) -> str:
    """Names joined by commas, each by its name here; a name may have a comma within."""
    if _spoken.get() == ENGLISH:
        return listed
    parts, found = listed.split(", "), []
    while parts:
        for count in range(len(parts), 0, -1):
            name = ", ".join(parts[:count])
            if count == 1 or named(name) != name:
                found.append(named(name))
                del parts[:count]
                break
    return ", ".join(found)


class Words(dict[str, _Text]):
    """A table of English words that is read in the language of the moment.

    Made of one table or several, later ones counting. A key is also the context of its text.
    """

    def __init__(self, *tables: Mapping[str, _Text]) -> None:
        super().__init__()
        for table in tables:
            # Another table's own words, not what they are in the language of the moment.
            self.update(dict.items(table) if isinstance(table, dict) else table)

    def __getitem__(self, key: str) -> _Text:
        text = super().__getitem__(key)
        if isinstance(text, str):
            return said(text, key)  # type: ignore[return-value]
        return tuple(said(each, key) for each in text)  # type: ignore[return-value]

    @overload
    def get(self, key: str, default: None = None, /) -> _Text | None: ...
    @overload
    def get(self, key: str, default: _Text, /) -> _Text: ...
    @overload
    def get(self, key: str, default: _Other, /) -> _Text | _Other: ...
    def get(self, key: str, default: object = None, /) -> object:
        """The words of a key, or the default as it is."""
        return self[key] if key in self else default  # noqa: SIM401 (that would be this again)

    def items(self) -> ItemsView[str, _Text]:  # type: ignore[override]
        """Keys and words in the language of the moment."""
        return {key: self[key] for key in self}.items()

    def values(self) -> ValuesView[_Text]:  # type: ignore[override]
        """The words in the language of the moment."""
        return {key: self[key] for key in self}.values()


@cache
def _catalogue(code: str) -> gettext.GNUTranslations:
    """Raises OSError where the catalogue is missing: it is part of the package."""
    place = resources.files("bedwright").joinpath("locale", code, "LC_MESSAGES", "django.mo")
    with place.open("rb") as file:
        return gettext.GNUTranslations(file)
