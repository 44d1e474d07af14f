"""The journal's notes as sentences."""

from __future__ import annotations

from datetime import date

from bedwright.feeding.materials import material
from bedwright.journal import Note
from bedwright.language import named
from bedwright.planning.ledger_entries import crop_name
from bedwright.reference import Library
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_dates import DATES
from bedwright.reports.words_journal import JOURNAL_NOTES
from bedwright.units import UnitSystem, show


def note_sentence(note: Note, library: Library, system: UnitSystem) -> str:
    """A note in words; ``library`` holds the garden's own materials.

    Raises KeyError for a code without words.
    """
    filled: dict[str, str] = {}
    for name, value in note.values.items():
        if name == "material":
            filled[name] = named(material(library, str(value)).name).lower()
        elif name == "crop":
            filled[name] = named(crop_name(library, str(value)))
        elif isinstance(value, date):
            month = CHART_WORDS[f"month_{value.month}"]
            filled[name] = DATES["day_month_year"].format(
                day=value.day, month=month, year=value.year
            )
        elif isinstance(value, float):
            filled[name] = show(value, "mass", system)
        else:
            filled[name] = str(value)
    said = JOURNAL_NOTES[note.code].format_map(filled)
    return said[:1].upper() + said[1:]
