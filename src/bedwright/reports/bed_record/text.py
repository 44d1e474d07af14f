"""The record of the beds as plain text, in 80 columns."""

from __future__ import annotations

from bedwright.language import named
from bedwright.reference import Library
from bedwright.reports.bed_record.model import GardenRecord, RecordLine
from bedwright.reports.days_said import day_year_words
from bedwright.reports.journal_text import note_sentence
from bedwright.reports.layout import wrapped
from bedwright.reports.words_record import ACTS, GRADES, RECORD
from bedwright.units import UnitSystem, show


def record_text(
    record: GardenRecord, garden: str, system: UnitSystem, library: Library, bed: str | None = None
) -> str:
    """The record as a page, of all beds or of one.

    Parameters
    ----------
    record : what was done
    garden, system : the garden's name, and the reader's units
    library : the tables under the garden's own facts
    bed : one bed's id; None for all
    """
    title = RECORD["title"].format(garden=garden, day=day_year_words(record.as_of))
    lines = [*wrapped(title), "=" * min(len(title), 78), "", *wrapped(RECORD["about"])]
    for each in record.beds:
        if bed not in (None, each.bed):
            continue
        head = RECORD["bed"].format(bed=each.bed, area=show(each.area_m2, "area", system))
        lines += ["", head, "-" * len(head)]
        for line in each.lines:
            told = RECORD["line"].format(act=day_told(line), told=line_told(line, system))
            lines += wrapped(f"{told} {source_told(line)}", "", "    ")
        if not each.lines:
            lines.append(RECORD["nothing"])
    twice = [each for each in record.notes if bed in (None, each.values.get("bed"))]
    if twice:
        lines += ["", RECORD["told_twice"].upper()]
        for note in twice:
            lines += wrapped(note_sentence(note, library, system), "- ")
    return "\n".join(lines) + "\n"


def day_told(line: RecordLine) -> str:
    """The day of an act, or its year where no day is written down."""
    if line.on is None:
        return RECORD["no_day"].format(year=line.year)
    return day_year_words(line.on)


def line_told(line: RecordLine, system: UnitSystem) -> str:
    """What was done: the act, of what, how much."""
    parts = [] if line.part is None else [RECORD["part"].format(part=line.part)]
    act = ACTS[f"did_{line.act}"]
    if line.name:
        name = named(line.name).lower()
        if line.own_name and line.own_name.lower() != name:
            name = RECORD["own"].format(name=name, own=line.own_name)
        act = RECORD["line"].format(act=act, told=name)
    parts += amounts_told(line, system)
    if line.grade:
        parts.append(GRADES[line.grade])
    if line.label_days is not None:
        parts += _label(line.label_days)
    if line.act == "harvest":
        parts.append(RECORD["part_of" if line.holds_pickings else "season"])
    told = ", ".join([act, *parts])
    return f"{told}. {' '.join(line.note.split())}" if line.note else told


def amounts_told(line: RecordLine, system: UnitSystem) -> list[str]:
    """How much, as it was written down; beside it what that weighs, where it is no weight."""
    parts = [line.amount] if line.amount else []
    if line.count is not None:
        if line.act == "set_out":
            parts.append(RECORD["plants"].format(count=line.count))
        else:
            parts.append(f"{line.count} {line.unit}".strip())
    if line.kg is not None and line.amount and not line.is_mass:
        parts.append(RECORD["on_the_bed"].format(mass=show(line.kg, "mass", system)))
    return parts


def source_told(line: RecordLine) -> str:
    """Who tells it, in brackets."""
    return RECORD["source"].format(source=RECORD[f"from_{line.source}"])


def _label(days: tuple[int | None, int | None]) -> list[str]:
    """What is known of a spray: the days that its label asks for."""
    parts = [RECORD["no_product"]]
    for key, each in zip(("to_feeding", "to_picking"), days, strict=True):
        if each is not None:
            parts.append(RECORD[key].format(days=each))
    return parts
