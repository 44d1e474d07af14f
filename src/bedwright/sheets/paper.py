"""Sheets on paper: the words of the content set by the typesetter, as PDF."""

from __future__ import annotations

import dataclasses
import io
import json
from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime
from importlib import resources
from typing import Any, Literal
from urllib.parse import quote, urlsplit

from bedwright.face import FAMILY, FaceError, face_folder
from bedwright.sheets.content import SheetContent
from bedwright.sheets.signs import breakable, lost, printable

PAPERS = {"letter": "us-letter", "a4": "a4"}
_LABELS = "no_code caution first actual on days rows not_to_add why notes page".split()
_SHEETS = "#for (at, sheet) in given.sheets"  # where sheet.typ begins to set them
_STANDARD: Literal["ua-1"] = "ua-1"  # tagged, for a reader of screens


class SheetError(RuntimeError):
    """The sheets cannot be printed as they should be: a face, a sign or the typesetter fails."""


def bed_address(address: str, bed: str) -> str:
    """Where a bed's page is, under the address of the site.

    Raises ValueError for an address that is not one of http or https.
    """
    parts = urlsplit(address)
    if parts.scheme not in ("http", "https") or not parts.hostname:
        raise ValueError(f"{address!r} is not the address of a site")
    if parts.query or parts.fragment:
        raise ValueError(f"{address!r} has a question or a fragment in it")
    return f"{address.rstrip('/')}/bed/{quote(bed, safe='')}/"


def printed(
    sheets: Sequence[SheetContent],
    *,
    paper: str,
    as_of: date,
    title: str,
    address: str | None = None,
    lang: str = "en",
) -> bytes:
    """Sheets as one PDF, each from a page of its own on; same input, same bytes.

    ``paper`` is a key of :data:`PAPERS`; with ``address`` each sheet bears a code to its bed's
    page. Raises SheetError where the face is missing or the typesetter warns of anything.
    """
    if not sheets:
        raise ValueError("there is no sheet to print")
    data = sheets_told(sheets, paper=paper, as_of=as_of, title=title, address=address, lang=lang)
    return typeset(_source("sheet.typ"), data, as_of)


def book_printed(
    sheets: Sequence[SheetContent],
    book: dict[str, Any],
    *,
    labels: Mapping[str, str],
    paper: str,
    as_of: date,
    title: str,
    lang: str = "en",
) -> bytes:
    """Sheets between the parts of a book, as one PDF; same input, same bytes.

    ``book`` are the parts as ``book.typ`` reads them; there may be no sheet.
    """
    data = sheets_told(
        sheets, paper=paper, as_of=as_of, title=title, lang=lang, labels=labels, address=None
    )
    data["book"] = _spelled(book)
    before, loop, rest = _source("sheet.typ").partition(_SHEETS)
    source = before + _source("book.typ") + "#book-before\n" + loop + rest + "#book-after\n"
    return typeset(source, data, as_of)


def sheets_told(
    sheets: Sequence[SheetContent],
    *,
    paper: str,
    as_of: date,
    title: str,
    address: str | None,
    lang: str,
    labels: Mapping[str, str] | None = None,
) -> dict[str, Any]:
    """The sheets as the template reads them; ``labels`` are the fixed words, those of the first
    sheet where none are given."""
    fixed = sheets[0].labels if labels is None else labels
    return {
        "title": printable(title),
        "as_of": [as_of.year, as_of.month, as_of.day],
        "paper": PAPERS[paper],
        "face": FAMILY,
        "lang": lang,
        "words": {key: printable(fixed[key]) for key in _LABELS},
        "sheets": [_told(each, address) for each in sheets],
    }


def _source(name: str) -> str:
    return resources.files("bedwright.sheets").joinpath(name).read_text(encoding="utf-8")


def typeset(source: str, data: dict[str, Any], as_of: date) -> bytes:
    """A template with its data as a tagged PDF of a day.

    Raises SheetError where the face is missing or the typesetter warns of anything.
    """
    import typst

    try:
        # No other face is within reach: one that is missing shows as a warning, never as another.
        fonts = typst.Fonts(
            include_system_fonts=False,
            include_embedded_fonts=False,
            font_paths=[str(face_folder())],
        )
        made, warned = typst.compile_with_warnings(
            source.encode(),
            font_paths=fonts,
            format="pdf",
            sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
            pdf_standards=[_STANDARD],
            timestamp=datetime(as_of.year, as_of.month, as_of.day, tzinfo=UTC),
        )
    except FaceError as error:
        raise SheetError(str(error)) from None
    except typst.TypstError as error:
        raise SheetError(f"the typesetter stopped: {error.message}") from error
    if warned:
        raise SheetError(f"the typesetter warns: {'; '.join(each.message for each in warned)}")
    return bytes(made)


def _told(sheet: SheetContent, address: str | None) -> dict[str, Any]:
    """One sheet as the template reads it."""
    words = sheet.labels
    stated = {
        each.name: getattr(sheet, each.name)
        for each in dataclasses.fields(sheet)
        if each.name not in ("labels", "drawings")
    }
    told: dict[str, Any] = _spelled(_plain(stated))
    told["drawings"] = [printable(each) for each in sheet.drawings]
    told["code"] = told["code_told"] = told["code_words"] = ""
    if address is not None:
        leads = bed_address(address, sheet.bed)
        told["code"] = _code(leads)
        told["code_told"] = printable(words["code_of"].format(address=leads))
        told["code_words"] = _spelled(words["code"].format(bed=sheet.bed))
    foot = [words["outranked"]]
    if lost(json.dumps(_plain(stated), ensure_ascii=False)):
        foot.append(words["stand_in"])
    told["foot"] = _spelled(" ".join(foot))
    return told


def _plain(value: Any) -> Any:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {each.name: _plain(getattr(value, each.name)) for each in dataclasses.fields(value)}
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    return {key: _plain(each) for key, each in value.items()} if isinstance(value, dict) else value


def _spelled(value: Any) -> Any:
    """Every text within in signs of the face, its over-long words breakable."""
    if isinstance(value, str):
        # A drawing is no line of words: its long names must not be broken.
        return printable(value) if value.startswith("<svg") else breakable(printable(value))
    if isinstance(value, list):
        return [_spelled(each) for each in value]
    if isinstance(value, dict):
        return {key: _spelled(each) for key, each in value.items()}
    return value


def _code(address: str) -> str:
    """A code that leads to an address, as SVG text."""
    import segno

    drawn = io.BytesIO()
    segno.make(address, error="m", micro=False).save(
        drawn, kind="svg", xmldecl=False, border=3, dark="#000000", light="#ffffff"
    )
    return drawn.getvalue().decode("utf-8")
