"""Makes the pages that are read off the code: docs/sources.md, docs/formulas.md, README's sample.

Writes what is stale; with ``--check`` it writes nothing and exits 1 if something is stale.
"""

from __future__ import annotations

import argparse
import csv
import sys
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from datetime import date
from importlib import resources
from pathlib import Path

from bedwright.garden import load
from bedwright.reckon import ReckonError, formulas, reckon
from bedwright.reference import Library
from bedwright.reference.library import SourceEntry
from bedwright.reference.tables import COLUMNS
from bedwright.reports.text import plan_text
from bedwright.season import season_plan
from bedwright.working import FormulaInfo

ROOT = Path(__file__).resolve().parent.parent
BEGIN, END = "<!-- sample: begin -->", "<!-- sample: end -->"
MADE = "<!-- Made by scripts/make_docs.py from the tables and the code. Change those, not this. -->"
SAMPLE_BED, SAMPLE_DAY, SAMPLE_LINES = "W2", date(2026, 11, 25), 38
READ = {
    "full": "read whole",
    "part": "read in part (the page, table or abstract named)",
    "copy": "read in a copy or a reprint",
    "secondhand": "not read itself; read in a work that quotes it",
    "none": "nothing was read",
}
MARKERS = ("common_practice", "from_memory", "judgement", "computed")

Rows = Mapping[str, Mapping[str, int]]  # table -> source id -> rows


def rows_by_table(library: Library) -> Rows:
    """How many rows of each table rest on each source."""
    counts = {
        table: Counter(row.source.source_id for row in library.rows(table))
        for table in sorted(COLUMNS)
    }
    units = resources.files("bedwright.units").joinpath("table.csv").read_text(encoding="utf-8")
    counts["units"] = Counter(row["source_id"] for row in csv.DictReader(units.splitlines()))
    return counts


def formulas_by_source() -> Mapping[str, Sequence[str]]:
    """The formulas that cite each source."""
    found: defaultdict[str, list[str]] = defaultdict(list)
    for info in formulas():
        for source_id in dict.fromkeys(each.source_id for each in info.sources):
            found[source_id].append(info.name)
    return found


def sources_page(library: Library) -> str:
    """docs/sources.md: what each source is, how it was read, and what rests on it."""
    rows = rows_by_table(library)
    cited = formulas_by_source()
    known = library.sources
    whole = sum(sum(counts.values()) for counts in rows.values())
    published = [each for each in known.values() if each.kind != "marker"]
    lines = [
        MADE,
        "",
        "# Sources",
        "",
        f"{whole} rows in {len(rows)} tables rest on {len(published)} sources and on "
        f"{len(known) - len(published)} markers, which say that there is no publication behind a "
        "row. [tables.md](tables.md) says what the columns mean; `units` is `units/table.csv`.",
        "",
        "## Rows without a publication",
        "",
        *(f"- `{key}`: {_marker_words(known[key])}" for key in MARKERS),
        "",
        "Counts of rows, with their share of the table:",
        "",
        *_marker_table(rows),
        "",
        "## Publications",
        "",
        "How they were read:",
        "",
        *(f"- **{key}**: {words}" for key, words in READ.items() if key != "none"),
    ]
    for each in sorted(published, key=lambda entry: entry.source_id):
        lines += ["", *_source_lines(each, rows, cited.get(each.source_id, ()))]
    return "\n".join(lines) + "\n"


def _marker_words(entry: SourceEntry) -> str:
    return f"{entry.title}; {entry.note}." if entry.note else f"{entry.title}."


def _marker_table(rows: Rows) -> list[str]:
    lines = [
        f"| table | rows | {' | '.join(MARKERS)} | with a publication |",
        f"|---|{'---:|' * (len(MARKERS) + 2)}",
    ]
    whole: Counter[str] = Counter()
    for table, counts in rows.items():
        lines.append(_marker_row(f"`{table}`", counts))
        whole.update(counts)
    return [*lines, _marker_row("**all**", whole)]


def _marker_row(name: str, counts: Mapping[str, int]) -> str:
    rows = sum(counts.values())
    marked = [counts.get(marker, 0) for marker in MARKERS]
    cells = [_share(count, rows) for count in [*marked, rows - sum(marked)]]
    return f"| {name} | {rows} | {' | '.join(cells)} |"


def _share(count: int, rows: int) -> str:
    if count == 0:
        return "-"
    share = 100 * count / rows
    return f"{count} ({'< 1' if share < 1 else f'{share:.0f}'} %)"


def _source_lines(entry: SourceEntry, rows: Rows, cited: Sequence[str]) -> list[str]:
    resting = [
        f"`{table}` {counts[entry.source_id]}"
        for table, counts in rows.items()
        if counts.get(entry.source_id)
    ]
    lines = [f"### {entry.source_id}", "", f"{entry.cite()}.", ""]
    lines.append(f"- read: {entry.read} ({entry.kind})" + (f"; {entry.note}" if entry.note else ""))
    lines.append(f"- rows: {', '.join(resting) or 'none'}")
    if cited:
        lines.append(f"- formulas: {', '.join(f'`{name}`' for name in cited)}")
    return lines


def formulas_page(library: Library) -> str:
    """docs/formulas.md: each registered formula, its inputs, its sources and an example."""
    lines = [
        MADE,
        "",
        "# Formulas",
        "",
        "Every named formula of the engine can be worked alone: `bedwright reckon NAME key=value "
        "...`. It prints the working and the source. An input marked *from the tables* is taken "
        "from these unless it is given.",
    ]
    for info in formulas():
        lines += ["", *_formula_lines(info, library)]
    return "\n".join(lines) + "\n"


def _formula_lines(info: FormulaInfo, library: Library) -> list[str]:
    lines = [f"## {info.name}", "", f"{info.words}", "", "Inputs:", ""]
    lines += [f"- `{key}`: {_input_words(*each)}" for key, each in info.inputs.items()]
    lines += ["", f"Result: {_unit_words(info.result[1])}.", "", "Sources:", ""]
    for source in info.sources:
        cite = library.sources[source.source_id].cite()
        more = "; ".join(part for part in (source.place, source.note) if part)
        lines.append(f"- `{source.source_id}`: {cite}" + (f" ({more})" if more else ""))
    if info.example:
        lines += ["", "```sh", example_command(info), "```", "", _example_result(info, library)]
    return lines


def _input_words(kind: str, unit: str) -> str:
    if kind == "parameter":
        name, _, wanted = unit.partition(" ")
        return f"{_unit_words(wanted)}, *from the tables* (`parameters.csv`, `{name}`)"
    if kind == "table":
        return f"*from the tables* (`{unit}.csv`)"
    return "a word or a list of numbers" if kind == "word" else _unit_words(unit)


def _unit_words(unit: str) -> str:
    return "a plain number" if unit in ("", "-") else unit


def example_command(info: FormulaInfo) -> str:
    """The command that works a formula's own example."""
    given = [
        f'{key}="{text}"' if " " in text else f"{key}={text}" for key, text in info.example.items()
    ]
    return " ".join(["bedwright reckon", info.name, *given])


def _example_result(info: FormulaInfo, library: Library) -> str:
    try:
        figure = reckon(info.name, info.example, library)
    except ReckonError as error:
        raise SystemExit(f"the example of {info.name} does not work: {error}") from error
    return f"gives {figure.value:.4g} {figure.unit.removeprefix('-')}".rstrip() + "."


def sample(library: Library) -> str:
    """The first lines of one demo bed's plan, as a fenced block of text."""
    demo = Path(str(resources.files("bedwright.demo")))
    document = load(demo / "kestrel_bend.toml", library, SAMPLE_DAY)
    text = plan_text(season_plan(document, library, SAMPLE_DAY, only=SAMPLE_BED))
    lines = text.splitlines()
    start = next(at for at, line in enumerate(lines) if line.startswith(f"Bed {SAMPLE_BED}"))
    shown = lines[start : start + SAMPLE_LINES]
    while not shown[-1].endswith("."):  # stop at the end of a sentence
        shown.pop()
    return "\n".join(["```text", *shown, "  ...", "```"])


def with_sample(readme: str, block: str) -> str:
    """The README with ``block`` between its two marks. Raises ValueError without the marks."""
    before, begin, rest = readme.partition(BEGIN)
    _, end, after = rest.partition(END)
    if not begin or not end:
        raise ValueError(f"README.md needs the lines {BEGIN} and {END}")
    return f"{before}{BEGIN}\n{block}\n{END}{after}"


def pages(root: Path, library: Library) -> dict[Path, str]:
    """Every made file with the text it should hold."""
    readme = root / "README.md"
    return {
        root / "docs" / "sources.md": sources_page(library),
        root / "docs" / "formulas.md": formulas_page(library),
        readme: with_sample(readme.read_text(encoding="utf-8"), sample(library)),
    }


def stale(made: Mapping[Path, str]) -> list[Path]:
    """The files that are missing or hold something else."""
    return [
        path
        for path, text in made.items()
        if not path.exists() or path.read_text(encoding="utf-8") != text
    ]


def main(arguments: Sequence[str] | None = None) -> int:
    """Write what is stale, or with ``--check`` only say so."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true", help="write nothing; exit 1 if stale")
    given = parser.parse_args(arguments)
    made = pages(ROOT, Library())
    found = stale(made)
    for path in found:
        print(f"{path.relative_to(ROOT)} {'is stale' if given.check else 'is written'}")
        if not given.check:
            path.write_text(made[path], encoding="utf-8")
    return 1 if given.check and found else 0


if __name__ == "__main__":
    sys.exit(main())
