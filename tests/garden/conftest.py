"""What the tests of the garden document share."""

from datetime import date
from pathlib import Path

import pytest

from bedwright.garden import Document, GardenError
from bedwright.garden.load import load_text
from bedwright.reference import Library

AS_OF = date(2026, 11, 25)
HEAD = 'format = 2\n\n[garden]\nname = "North field"\n\n'
BED = '[[bed]]\nid = "A1"\nlength = "50 ft"\nwidth = "4 ft"\n\n'


@pytest.fixture(scope="session")
def library() -> Library:
    return Library()


@pytest.fixture
def read(library: Library, tmp_path: Path):
    """Read a text as a garden document of a folder of its own."""

    def read_text(text: str) -> Document:
        return load_text(text, "garden.toml", tmp_path, library, AS_OF)

    return read_text


@pytest.fixture
def faults_of(read):
    """The faults of a text that is no good garden document."""

    def faults(text: str) -> list[str]:
        with pytest.raises(GardenError) as caught:
            read(text)
        return [str(fault) for fault in caught.value.faults]

    return faults


@pytest.fixture
def head() -> str:
    """Lines 1 to 5 of a document."""
    return HEAD


@pytest.fixture
def bed() -> str:
    """Bed A1, five lines."""
    return BED


@pytest.fixture
def folder() -> Path:
    return Path(__file__).parent


@pytest.fixture
def as_of() -> date:
    return AS_OF
