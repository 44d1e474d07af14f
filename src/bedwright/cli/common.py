"""What the commands share: reading a garden, making its plan, refusing, writing files."""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.frame import Refused
from bedwright.garden import Document, GardenError, load, write_whole
from bedwright.reference import Library, UnknownName

if TYPE_CHECKING:
    from bedwright.charts.theme import Spec
    from bedwright.season import SeasonPlan

_LAST_STEP = "writing the plan"


def read_garden(given: argparse.Namespace) -> tuple[Document, Library, date]:
    """As :func:`loaded`, refusing where it raises."""
    try:
        return loaded(given)
    except GardenError as error:
        raise Refused(str(error)) from None


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


@contextlib.contextmanager
def planned(
    document: Document,
    library: Library,
    as_of: date,
    *,
    only: str | None = None,
    ahead: bool = False,
    quick: bool = False,
) -> Iterator[SeasonPlan]:
    """The season plan; what is worked when first asked for is to be asked for within the block."""
    from bedwright.season import season_plan

    with solver_output_apart():
        yield season_plan(
            document, library, as_of, only=only, ahead=ahead, quick=quick, progress=progress
        )


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
        print(f"\r{step:<40}", end="" if step != _LAST_STEP else "\r", file=sys.stderr)


def require_beds(document: Document, *named: str | None) -> None:
    """Refuse a bed that is not there; None stands for no bed asked for."""
    ids = [bed.id for bed in document.garden.bed]
    for each in named:
        if each is not None and each not in ids:
            raise Refused(f"bedwright: there is no bed {each!r}; beds: {', '.join(ids)}")


def require_folder_of(file: Path) -> None:
    """Refuse a file in a folder that is not there."""
    if not file.parent.is_dir():
        raise Refused(
            f"bedwright: there is no folder {file.parent}; make it first, or name another"
        )


def require_new(file: Path) -> None:
    """Refuse a file that is there already."""
    if file.exists():
        raise Refused(f"bedwright: {file} exists already and is left as it is; name another file")


def not_known(unknown: UnknownName, name: str, what: str) -> Refused:
    """The refusal of a name that no table holds, with the nearest ones."""
    hint = f" Nearest: {', '.join(unknown.nearest)}." if unknown.nearest else ""
    return Refused(f"bedwright: {name!r} is not a known {what}.{hint}")


def write(
    folder: Path, files: Mapping[str, str | bytes], charts: Mapping[str, Spec] | None = None
) -> None:
    """Write texts or bytes into a folder, each whole or not at all, then charts."""
    try:
        for name, content in files.items():
            write_whole(folder / name, content)
    except OSError as error:
        raise Refused(
            f"bedwright: {folder} cannot be written ({error.strerror}); nothing is half-written"
        ) from None
    if charts:
        _draw(folder, dict(charts))


def _draw(folder: Path, charts: dict[str, Spec]) -> None:
    """Write the charts and the figures behind them; the child process is started once."""
    from bedwright.charts.export import ExportError, write_charts
    from bedwright.face import FaceError

    progress(f"drawing {len(charts)} charts")
    try:
        write_charts(charts, folder)
    except (ExportError, FaceError, OSError) as error:
        raise Refused(f"bedwright: the charts cannot be drawn into {folder}: {error}") from None
    progress(_LAST_STEP)
