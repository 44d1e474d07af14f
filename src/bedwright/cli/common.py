"""What the commands share: reading a garden, refusing, writing files, keeping the reader posted."""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.frame import DONE, refuse
from bedwright.garden import Document, GardenError, load, write_whole
from bedwright.reference import Library

if TYPE_CHECKING:
    from bedwright.charts.theme import Spec

LAST_STEP = "writing the plan"


def loaded(given: argparse.Namespace) -> tuple[Document, Library, date]:
    """The document, the tables, and the day of planning: read from the clock once.

    Raises GardenError with every fault of the document, or of the weather file that it names.
    """
    library, as_of = Library(), given.as_of or date.today()
    document = load(Path(given.garden), library, as_of)
    if document.weather is not None:
        from bedwright.reports.weather_text import weather_file_faults

        faults = weather_file_faults(document, Path(given.garden).parent, library)
        if faults:
            raise GardenError(faults)
    return document, library, as_of


def written(folder: Path, files: Mapping[str, str | bytes], charts: dict[str, Spec]) -> int:
    """Write texts and charts into a folder; the exit code."""
    return write(folder, files) or draw(folder, charts)


def draw(folder: Path, charts: dict[str, Spec]) -> int:
    """Write the charts and the figures behind them; the child process is started once."""
    if not charts:
        return DONE
    from bedwright.charts.export import ExportError, write_charts
    from bedwright.face import FaceError

    progress(f"drawing {len(charts)} charts")
    try:
        write_charts(charts, folder)
    except (ExportError, FaceError, OSError) as error:
        return refuse(f"bedwright: the charts cannot be drawn into {folder}: {error}")
    progress(LAST_STEP)
    return DONE


def unknown_bed(given: argparse.Namespace, document: Document) -> int:
    """Refuse a bed that is not there; 0 where it is, or where none is asked for."""
    ids = [bed.id for bed in document.garden.bed]
    if given.bed is None or given.bed in ids:
        return DONE
    return refuse(f"bedwright: there is no bed {given.bed!r}; beds: {', '.join(ids)}")


def write(folder: Path, files: Mapping[str, str | bytes]) -> int:
    """Write texts or bytes into a folder, each whole or not at all; the exit code."""
    try:
        for name, content in files.items():
            write_whole(folder / name, content)
    except OSError as error:
        return refuse(
            f"bedwright: {folder} cannot be written ({error.strerror}); nothing is half-written"
        )
    return DONE


def no_folder(file: Path) -> int:
    """Refuse a file in a folder that is not there; 0 where it is."""
    if file.parent.is_dir():
        return DONE
    return refuse(f"bedwright: there is no folder {file.parent}; make it first, or name another")


@contextlib.contextmanager
def solver_output_apart() -> Iterator[None]:
    """Keep what the solver's own code prints out of our output, which may be piped JSON."""
    try:
        descriptor = sys.stdout.fileno()
    except (OSError, ValueError):  # stdout is not a file, as in tests
        yield
        return
    sys.stdout.flush()
    kept = os.dup(descriptor)
    apart = os.open(os.devnull, os.O_WRONLY)
    os.dup2(apart, descriptor)
    try:
        yield
    finally:
        os.dup2(kept, descriptor)
        os.close(apart)
        os.close(kept)


def progress(step: str) -> None:
    """Tell which step begins, where somebody watches."""
    if sys.stderr.isatty():
        print(f"\r{step:<40}", end="" if step != LAST_STEP else "\r", file=sys.stderr)
