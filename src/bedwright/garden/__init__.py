"""The garden document: what the gardener states, read and checked."""

from bedwright.garden.faults import Fault, GardenError
from bedwright.garden.load import Document, load, load_text
from bedwright.garden.model import FORMAT, Bed, Garden, Want
from bedwright.garden.results import ReadResult
from bedwright.garden.save import changed_text, write_whole
from bedwright.garden.schema import garden_schema

__all__ = [
    "FORMAT",
    "Bed",
    "Document",
    "Fault",
    "Garden",
    "GardenError",
    "ReadResult",
    "Want",
    "changed_text",
    "garden_schema",
    "load",
    "load_text",
    "write_whole",
]
