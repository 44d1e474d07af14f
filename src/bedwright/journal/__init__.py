"""The journal: what was done, picked, seen, measured, bought; and what it feeds."""

from bedwright.journal.counted import with_journal
from bedwright.journal.entries import Bought, Did, Entry, Measured, Picked, Saw, UsedUp
from bedwright.journal.notes import Note
from bedwright.journal.reading import EntryError, EntryFault, check_entry, plain_entry, read_entry

__all__ = [
    "Bought",
    "Did",
    "Entry",
    "EntryError",
    "EntryFault",
    "Measured",
    "Note",
    "Picked",
    "Saw",
    "UsedUp",
    "check_entry",
    "plain_entry",
    "read_entry",
    "with_journal",
]
