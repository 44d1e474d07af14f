"""What a garden document says of its weather file and of covers, held against disk and tables."""

from __future__ import annotations

import difflib
from pathlib import Path

from bedwright.garden.checked import Checked
from bedwright.garden.model import Garden
from bedwright.reference import Library
from bedwright.reference.library import fold

_MOST_BYTES = 300_000_000


def check_weather(garden: Garden, library: Library, folder: Path, checked: Checked) -> None:
    """Fetch the bytes of the weather file, and find the covers that wants name."""
    _protections(garden, library, checked)
    if garden.weather is None or garden.weather.file is None:
        return
    name = Path(garden.weather.file)
    problem, remedy = "", ""
    if name.is_absolute() or ".." in name.parts:
        problem = f"{garden.weather.file!r} lies outside the document's folder"
        remedy = "Put the file beside the document."
    else:
        try:
            path = folder / name
            if not path.exists():
                problem, remedy = f"there is no file {str(name)!r}", "Is the name right?"
            elif not path.is_file():
                problem = f"{str(name)!r} is not a file"
            elif path.stat().st_size > _MOST_BYTES:
                problem = f"{str(name)!r} has {path.stat().st_size / 1e6:.0f} MB: too much"
            else:
                checked.weather = path.read_bytes()
        except OSError as error:
            problem = f"{str(name)!r} can't be read ({error.strerror})"
        except ValueError:  # a NUL in the name
            problem = f"{str(name)!r} is not the name of a file"
    if problem:
        checked.fault(("weather", "file"), problem, remedy)


def _protections(garden: Garden, library: Library, checked: Checked) -> None:
    known = dict.fromkeys(row["protection"] for row in library.rows("protection"))
    words = {fold(each): each for each in known}
    for at, want in enumerate(garden.want):
        if want.protection is None:
            continue
        if fold(want.protection) in words:
            checked.keys["want", at, "protection"] = words[fold(want.protection)]
            continue
        near = difflib.get_close_matches(fold(want.protection), list(words), n=1, cutoff=0.6)
        checked.fault(
            ("want", at, "protection"),
            f"{want.protection!r} is no cover that is known here",
            f"{f'Did you mean {near[0]}? ' if near else ''}Covers: {', '.join(words)}.",
        )
