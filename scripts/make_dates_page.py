"""Makes docs/dates-from-a-record.md and its charts from a real daily record of a test dependency.

The record is ``champion_climate.txt`` of the package ``aquacrop`` (requirements-dev.txt): 37 years
of a station on the high plains with hard frosts and fierce heat. It goes through the commands a
gardener would use. Writes what is stale; with ``--check`` it writes nothing and exits 1 if the
page or the figures behind a chart are stale.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import shutil
import sys
import tempfile
from collections.abc import Mapping, Sequence
from datetime import date
from importlib.util import find_spec
from pathlib import Path

from bedwright.charts.export import chart_csv, write_charts
from bedwright.charts.theme import Spec
from bedwright.cli.dates import dates_charts
from bedwright.cli.main import run
from bedwright.garden import load
from bedwright.planning.timing import garden_dates
from bedwright.reference import Library

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "dates-from-a-record.md"
CHARTS = ROOT / "docs" / "dates"
RECORD = "champion_climate.txt"
AS_OF = date(2026, 11, 25)
CROPS = ("sweet pepper", "melon", "lettuce", "carrot")
_BED = '[[bed]]\nid = "{bed}"\nlength = "50 ft"\nwidth = "4 ft"\n'
_WANT = '[[want]]\ncrop = "{crop}"\nbeds = ["{bed}"]\n'
GARDEN = f"""format = 2

[garden]
name = "Plains garden"
latitude = "40.4 N"

[limits]
risk_accepted = "2 years of 10"

[weather]
file = "{RECORD}"

""" + "\n".join(
    [
        *(_BED.format(bed=at + 1) for at in range(len(CROPS))),
        *(_WANT.format(crop=crop, bed=at + 1) for at, crop in enumerate(CROPS)),
    ]
)

HEAD = """<!-- Made by scripts/make_dates_page.py. Change that or the code, not this. -->

# From a real record to planting dates

A garden with hard frosts and fierce heat, from the station's file to the dates. The garden is
invented; its weather is not: 37 years of days of Champion, Nebraska (40.4 N, 1072 m), as the
package `aquacrop` carries them in `champion_climate.txt` (a test dependency;
`requirements-dev.txt` names the release). Nothing of the file is changed.
`scripts/make_dates_page.py` runs it all again, and a test compares this page with what it makes.
What the model does and does not know is in [timing.md](timing.md).
"""
PLOTS = (
    (
        "frost",
        "Odds of frost by date",
        "The odds of frost by date, with the band that so many seasons leave:",
    ),
    (
        "fruit-set-pepper_sweet",
        "Sweet pepper: days of good fruit set by date",
        "The flowering window of sweet pepper, as days of good fruit set by date of setting out. "
        "Too early, frost takes the plants; too late, the fall frost cuts the picking short:",
    ),
    (
        "fruit-set-muskmelon",
        "Muskmelon: days of good fruit set by date",
        "The same of muskmelon:",
    ),
    (
        "soil",
        "Soil at 4 in by date",
        "The soil at 4 in against what the crops want before they are planted:",
    ),
)


def record() -> Path:
    """The record's file in the installed package, which is not imported for it."""
    spec = find_spec("aquacrop")
    if spec is None or not spec.submodule_search_locations:
        raise SystemExit("the package aquacrop is not installed: see requirements-dev.txt")
    return Path(spec.submodule_search_locations[0]) / "data" / RECORD


def garden(folder: Path) -> Path:
    """The garden document with its weather file beside it, in a folder."""
    shutil.copy(record(), folder / RECORD)
    path = folder / "garden.toml"
    path.write_text(GARDEN, encoding="utf-8")
    return path


def said(*words: str) -> str:
    """What a command prints. Raises SystemExit where it fails."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        code = run(list(words))
    if code:
        raise SystemExit(f"bedwright {' '.join(words)} ended with {code}")
    return out.getvalue()


def page(path: Path) -> str:
    """The page, from a garden document with its record beside it."""
    file = str(path.parent / RECORD)
    summary = said("weather", "summary", file)
    shown = summary[summary.index("Days of freeze a year:") :]
    lines = [HEAD, "## The document", "", "```toml", GARDEN.rstrip(), "```", ""]
    lines += ["## The record", "", *_told(f"bedwright weather read {RECORD}",
                                          said("weather", "read", file))]  # fmt: skip
    lines += ["", "Of the summary, the part on freeze and heat:", ""]
    lines += _told(f"bedwright weather summary {RECORD}", shown)
    dates = said("dates", str(path), "--as-of", AS_OF.isoformat())
    command = f"bedwright dates garden.toml --as-of {AS_OF.isoformat()} --out dates"
    lines += ["", "## The dates", "", *_told(command, dates), "", "## The charts", ""]
    lines += ["The figures behind each chart lie beside it as CSV.", ""]
    for name, title, words in PLOTS:
        lines += [words, "", f"![{title}](dates/{name}.svg)", ""]
    return "\n".join(lines).rstrip() + "\n"


def _told(command: str, text: str) -> list[str]:
    return ["```sh", command, "```", "", "```text", text.rstrip(), "```"]


def charts(path: Path) -> Mapping[str, Spec]:
    """The charts of the dates by name."""
    library = Library()
    document = load(path, library, AS_OF)
    made = dates_charts(garden_dates(document, library, AS_OF), document, AS_OF)
    return {name: made[name] for name, *_ in PLOTS}


def stale(text: str, drawn: Mapping[str, Spec]) -> list[Path]:
    """The page and the charts' figures that are missing or hold something else."""
    wanted = {PAGE: text} | {CHARTS / f"{name}.csv": chart_csv(s) for name, s in drawn.items()}
    return [
        path
        for path, made in wanted.items()
        if not path.exists() or path.read_text(encoding="utf-8") != made
    ]


def main(arguments: Sequence[str] | None = None) -> int:
    """Write the page and its charts, or with ``--check`` only say what is stale."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true", help="write nothing; exit 1 if stale")
    given = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as folder:
        path = garden(Path(folder))
        text, drawn = page(path), charts(path)
    found = stale(text, drawn)
    for each in found:
        print(f"{each.relative_to(ROOT)} {'is stale' if given.check else 'is written'}")
    if given.check:
        return 1 if found else 0
    PAGE.write_text(text, encoding="utf-8")
    write_charts(drawn, CHARTS)
    return 0


if __name__ == "__main__":
    sys.exit(main())
