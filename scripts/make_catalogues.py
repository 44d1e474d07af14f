"""Makes the catalogues of words: gathers what is to be translated, keeps what is, compiles it.

Texts come from the tables of words (by importing them), the tables' names of crops and materials,
``said()`` and gettext calls in the code, and the templates. Translate in
``src/bedwright/locale/<language>/LC_MESSAGES/django.po``, then run this again. With ``--check`` it
writes nothing and exits 1 if something is stale.

A text may need another word in one place: give it an entry of its own with that place's key as
``msgctxt`` (as ``msgctxt "first_picking"``); it is kept as long as the table has it.
"""

from __future__ import annotations

import argparse
import io
import re
import sys
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from importlib import import_module
from pathlib import Path

from babel.messages.catalog import Catalog, Message
from babel.messages.extract import extract
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po
from django.utils.translation.template import templatize

from bedwright.language import ENGLISH, LANGUAGES, NAMES, Words
from bedwright.reference import Library

SOURCE = Path(__file__).resolve().parent.parent / "src" / "bedwright"
Calls = Mapping[str, tuple[int | tuple[int, str], ...] | None]
OURS = re.compile(rb"^ *from bedwright\.language import [^\n]*\bsaid\b(?! as)", re.MULTILINE)
# Calls that mark a text: which argument is the text, which its plural or context.
CALLS: Calls = {
    "_": None, "gettext": None, "gettext_lazy": None, "gettext_noop": None,
    "ngettext": (1, 2), "ngettext_lazy": (1, 2), "pgettext": ((1, "c"), 2),
    "pgettext_lazy": ((1, "c"), 2), "npgettext": ((1, "c"), 2, 3),
}  # fmt: skip
# Units that are words; symbols such as kg and dS/m are the same everywhere.
UNITS = {"unit": ("in", "ft", "ft2", "lb/100 ft2", "lb/ft3", "day"), "one unit": ("ft",)}
# Where names stand in the tables of reference: table -> columns. A key stands for its name where
# no name is at hand.
NAMED = {
    "materials": ("name", "material"), "crops": ("name", "crop"), "textures": ("texture",),
    "extractants": ("extractant",), "soil_classes": ("class",),
}  # fmt: skip
SINCE = datetime(2026, 11, 28, tzinfo=UTC)  # held, so that the same words give the same file

Entry = tuple[str | tuple[str, str], str | None, str]  # text (and its plural), context, where


def tables() -> dict[str, Words]:
    """Every table of words by ``module.NAME``."""
    found = {}
    for path in sorted((SOURCE / "reports").glob("words*.py")):
        module = import_module(f"bedwright.reports.{path.stem}")
        for name, value in vars(module).items():
            if isinstance(value, Words):
                found[f"{path.stem}.{name}"] = value
    return found


def texts(table: Words) -> Iterator[tuple[str, str]]:
    """Key and English text of all words of a table."""
    for key, value in dict.items(table):
        for text in (value,) if isinstance(value, str) else value:
            if any(sign.isalpha() for sign in text):
                yield key, text


def names(library: Library) -> Iterator[tuple[str, str]]:
    """Table and name, as they are looked up, of all that is named in the tables of reference."""
    for table, columns in NAMED.items():
        for row in library.rows(table):
            for column in columns:
                name = row[column].replace("_", " ").lower()
                yield table, name
                yield table, re.sub(r" \([^)]*\)$", "", name)  # as most people write it


def _entries() -> Iterator[Entry]:
    for place, table in tables().items():
        for _, text in texts(table):
            yield text, None, f"reports/{place.split('.')[0]}.py"
    for path in sorted((SOURCE / "reports").glob("words*.py")):
        for name, value in vars(import_module(f"bedwright.reports.{path.stem}")).items():
            if name.isupper() and isinstance(value, str):
                yield value, None, f"reports/{path.name}"
    for table, name in names(Library()):
        yield name, NAMES, f"reference/tables/{table}.csv"
    for context, units in UNITS.items():
        for unit in units:
            yield unit, context, "units/show.py"
    for path in sorted(SOURCE.rglob("*.py")):
        code = path.read_bytes()
        # Elsewhere ``said`` is a name like any other.
        calls = {**CALLS, "said": None} if OURS.search(code) else CALLS
        yield from _called(code, str(path.relative_to(SOURCE)), calls)
    for path in sorted((SOURCE / "web" / "templates").rglob("*.html")):
        marked = templatize(path.read_text(encoding="utf-8"), origin=path.name)
        yield from _called(marked.encode("utf-8"), str(path.relative_to(SOURCE)))


def _called(code: bytes, where: str, calls: Calls = CALLS) -> Iterator[Entry]:
    for _, text, _, context in extract("python", io.BytesIO(code), keywords=calls):
        if text and any(sign.isalpha() for sign in str(text)):
            yield text, context, where


def _key(message: Message) -> tuple[str, str | None]:
    text = message.id if isinstance(message.id, str) else message.id[0]
    return text, message.context


def catalogue(code: str, old: Catalog) -> Catalog:
    """The catalogue of a language: every text there is now, what was translated kept."""
    new = Catalog(
        locale=code, domain="django", project="bedwright", charset="utf-8", fuzzy=False,
        creation_date=SINCE, revision_date=SINCE, last_translator="the bedwright developers",
        language_team=LANGUAGES[code],
        header_comment=f"# {LANGUAGES[code]} for bedwright. Gathered by scripts/make_catalogues.py;"
        " translated by hand.",
    )  # fmt: skip
    kept = {_key(each): each.string for each in old if each.id}
    keyed = {(key, text) for table in tables().values() for key, text in texts(table)}
    own = [(text, context, "") for text, context in kept if context and (context, text) in keyed]
    for text, context, where in [*_entries(), *own]:
        known = kept.get((text if isinstance(text, str) else text[0], context), "")
        if isinstance(text, tuple) != isinstance(known, tuple):
            known = ("", "") if isinstance(text, tuple) else ""
        new.add(text, known, context=context, locations=[(where, None)] if where else [])
    return new


def read(code: str) -> Catalog:
    """The catalogue as it is kept; an empty one where there is none yet."""
    path = place(code) / "django.po"
    if not path.exists():
        return Catalog(locale=code)
    with path.open("rb") as file:
        return read_po(file, locale=code, domain="django")


def place(code: str) -> Path:
    """The folder of a language's files."""
    return SOURCE / "locale" / code / "LC_MESSAGES"


def files(code: str) -> dict[str, bytes]:
    """What the files of a language should hold, by their names."""
    made = catalogue(code, read(code))
    written, compiled = io.BytesIO(), io.BytesIO()
    write_po(written, made, width=100, include_lineno=False)
    write_mo(compiled, made)
    return {"django.po": written.getvalue(), "django.mo": compiled.getvalue()}


def share(made: Catalog, parts: tuple[str, ...] = ("",)) -> tuple[int, int]:
    """How many texts are translated, and how many there are, of files that begin with ``parts``."""
    found = [
        each for each in made
        if each.id and (any(where.startswith(parts) for where, _ in each.locations))
    ]  # fmt: skip
    return sum(bool(each.string and all(each.string)) for each in found), len(found)


def main() -> int:
    """Write what is stale, or tell of it."""
    asked = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    asked.add_argument("--check", action="store_true", help="write nothing; exit 1 if stale")
    check = asked.parse_args().check
    stale = []
    for code in LANGUAGES:
        if code == ENGLISH:
            continue
        for name, content in files(code).items():
            path = place(code) / name
            if not path.exists() or path.read_bytes() != content:
                stale.append(str(path.relative_to(SOURCE)))
                if not check:
                    path.parent.mkdir(parents=True, exist_ok=True)
                    path.write_bytes(content)
        done, whole = share(read(code))
        print(f"{LANGUAGES[code]}: {done} of {whole} texts")
    for each in stale:
        print(f"{'stale' if check else 'made'}: {each}")
    return 1 if check and stale else 0


if __name__ == "__main__":
    sys.exit(main())
