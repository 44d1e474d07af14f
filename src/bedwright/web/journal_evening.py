"""The evening form: each bed's lines as on its bed sheet, with amounts ready to be ticked."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from urllib.parse import parse_qsl, urlencode
from uuid import uuid4

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from bedwright.garden.failed import failed_wants
from bedwright.journal.names import crop_key
from bedwright.language import named
from bedwright.planning.ledger_entries import crop_name
from bedwright.web.journal_forms import amount_fields
from bedwright.web.journal_plan import PlannedAct
from bedwright.web.standing import Standing


@dataclass(frozen=True)
class Row:
    """One line to tick. ``fields`` go along unseen, ``values`` stand in the fields that show.

    ``shows`` says which fields the line has: amount, count, hours, words.
    """

    prefix: str
    words: str
    fields: dict[str, str]
    shows: tuple[str, ...]
    values: dict[str, str]
    aside: str = ""
    done: str = ""
    fault: str = ""
    ticked: bool = False

    @property
    def entry(self) -> str:
        """The unseen fields in one, so that a garden of many beds fits into one form."""
        return urlencode(self.fields)


@dataclass(frozen=True)
class EveningBed:
    """A bed's lines; ``due`` tells that something was planned around the day."""

    id: str
    crop: str
    due: bool
    rows: tuple[Row, ...]


def evening_beds(
    standing: Standing, acts: Mapping[str, tuple[PlannedAct, ...]], on: date,
    typed: Mapping[str, str], faults: Mapping[str, str],
) -> list[EveningBed]:  # fmt: skip
    """Every bed of the garden with its lines; ``typed`` and ``faults`` are of a send before."""
    found: list[EveningBed] = []
    for at, bed in enumerate(standing.document.garden.bed):
        planned = acts.get(bed.id, ())
        crop = grows(standing, bed.id, on)
        made = [_planned_row(each, standing) for each in planned]
        made.append(_row(_("Worked"), {"kind": "did", "what": "worked", "bed": bed.id},
                         ("hours", "words")))  # fmt: skip
        if crop:
            made.append(_row(_("Picked %(crop)s") % {"crop": crop[1]},
                             {"kind": "picked", "crop": crop[0], "bed": bed.id},
                             ("amount", "count")))  # fmt: skip
        made.append(_row(_("Saw"), {"kind": "saw", "what": "note", "bed": bed.id}, ("words",)))
        rows = tuple(
            _as_typed(row, f"b{at}r{nth}", typed, faults) for nth, row in enumerate(made)
        )  # fmt: skip
        due = any(each.due(on) for each in planned) or any(row.ticked for row in rows)
        found.append(EveningBed(bed.id, crop[1] if crop else "", due, rows))
    return found


def rows_of(typed: Mapping[str, str]) -> list[str]:
    """The prefixes of the lines of a form that was sent, in their order on the page."""
    found = [match[1] for name in typed if (match := re.fullmatch(r"(b\d+r\d+)-entry", name))]
    return sorted(found, key=lambda each: tuple(int(n) for n in re.findall(r"\d+", each)))


def fields_of(entry: str) -> dict[str, str]:
    """The unseen fields of a line as it was sent."""
    return {"kind": "", **dict(parse_qsl(entry[:2000]))}


def _row(words: str, fields: dict[str, str], shows: tuple[str, ...]) -> Row:
    return Row("", words, fields, shows, {})


def _planned_row(act: PlannedAct, standing: Standing) -> Row:
    fields = {
        "kind": "did", "what": act.what, "bed": act.bed, "material": act.material,
        "crop": act.crop, "planned": act.amount or "yes",
    }  # fmt: skip
    words = {
        "spread": _("Spread %(name)s"), "sowed": _("Sowed %(name)s"),
        "set out": _("Set out %(name)s"),
    }[act.what] % {"name": act.name}  # fmt: skip
    aside = act.measure
    if act.on is not None:
        about = _("planned about %(day)s") % {"day": date_format(act.on, _("F j"))}
        aside = f"{aside}, {about}" if aside else about
    done = ""
    if act.written is not None:
        amount = act.written.amount.text if act.written.amount is not None else ""
        day = date_format(act.written.on, _("F j"))
        done = _("written down on %(day)s %(amount)s") % {"day": day, "amount": amount}
    values = amount_fields(act.amount, standing.system) if act.amount else {}
    shows = ("amount",) if act.what == "spread" else ("count",)
    return Row("", words, {k: v for k, v in fields.items() if v}, shows, values, aside,
               done.strip())  # fmt: skip


def _as_typed(
    row: Row, prefix: str, typed: Mapping[str, str], faults: Mapping[str, str]
) -> Row:  # fmt: skip
    mark = f"{prefix}-"
    sent = {name.removeprefix(mark): v for name, v in typed.items() if name.startswith(mark)}
    fields = {**row.fields, "id": fields_of(sent.get("entry", "")).get("id") or str(uuid4())}
    return Row(
        prefix, row.words, fields, row.shows, {**row.values, **sent} if sent else row.values,
        row.aside, row.done, faults.get(prefix, ""), bool(sent.get("tick")),
    )  # fmt: skip


def grows(standing: Standing, bed: str, on: date) -> tuple[str, str] | None:
    """The crop that a bed bears: what history and journal say of this year's season, else the
    one that is wanted and set out by the day; not what failed by then."""
    document, library = standing.document, standing.library
    lost = failed_wants(document.garden)
    grown = [
        document.keys[("history", at, "crop")]
        for at, season in enumerate(document.garden.history)
        if season.bed == bed and season.year == on.year and season.crop is not None
        and (season.failed is None or season.failed > on)
    ]  # fmt: skip
    wanted = [
        crop_key(want.crop, document, library)
        for at, want in enumerate(document.garden.want)
        if bed in want.beds
        and (want.set_out is None or want.set_out <= on)
        and lost.get((at, bed), date.max) > on
    ]
    for key in [*reversed(grown), *wanted]:
        return key, named(crop_name(library, key))
    return None
