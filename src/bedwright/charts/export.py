"""Charts as files: pictures made in a child process, and the figures behind them as text."""

from __future__ import annotations

import base64
import csv
import io
import json
import os
import subprocess
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, Literal

from bedwright.charts.theme import Spec
from bedwright.face import FaceError, face_folder, lacking
from bedwright.garden import write_whole

Form = Literal["svg", "png", "pdf"]
_FORMS = ("svg", "png", "pdf")
_SECONDS = 60.0  # for one child, start included; a chart takes less than one
_WIDEST = 14  # characters of a heading in the text table before it is broken


class ExportError(RuntimeError):
    """A chart could not be made into a picture."""


def export(spec: Spec, form: Form, *, ppi: float = 144.0) -> bytes:
    """One chart as the bytes of a picture; see ``export_all``."""
    return export_all({"chart": spec}, [form], ppi=ppi)["chart", form]


def export_all(
    charts: Mapping[str, Spec], forms: Sequence[Form], *, ppi: float = 144.0
) -> dict[tuple[str, Form], bytes]:
    """Charts as pictures by name and form. The same charts give the same bytes.

    The renderer holds the interpreter's lock while it works, so it runs in a child process, one
    for all pictures. It is given the face's files and may ask no network.

    Raises FaceError where the face or one of its signs is missing (words would vanish from PNG
    and PDF without a sign), ExportError where the child fails, ValueError for another form.
    """
    wrong = [each for each in forms if each not in _FORMS]
    if wrong:
        known = ", ".join(_FORMS)
        raise ValueError(f"no picture is made as {', '.join(wrong)}; there are: {known}")
    folder = face_folder()
    if any(form != "svg" for form in forms):
        for name, spec in charts.items():
            without = lacking("".join(_texts(spec)))
            if without:
                raise FaceError(f"{name}: the face has no sign for {' '.join(without)}")
    pictures = [(name, form) for name in charts for form in forms]
    if not pictures:
        return {}
    asked = {"fonts": str(folder), "specs": dict(charts), "pictures": pictures, "ppi": ppi}
    made = _child(json.dumps(asked))
    return {key: base64.b64decode(each) for key, each in zip(pictures, made, strict=True)}


def _child(asked: str) -> list[str]:
    environment = {**os.environ, "TZ": "UTC"}  # the renderer knows one zone: none but this
    try:
        done = subprocess.run(
            [sys.executable, "-m", "bedwright.charts._render"],
            input=asked,
            capture_output=True,
            text=True,
            encoding="utf-8",
            timeout=_SECONDS,
            check=False,
            env=environment,
        )
    except subprocess.TimeoutExpired:
        raise ExportError(f"the charts were not made within {_SECONDS:.0f} s") from None
    if done.returncode != 0:
        last = (done.stderr.strip().splitlines() or ["no reason given"])[-1]
        raise ExportError(f"the charts could not be made: {last}")
    found: list[str] = json.loads(done.stdout)
    return found


def chart_rows(spec: Spec) -> tuple[list[str], list[list[str]]]:
    """The figures behind a chart, in the reader's units: headings, and rows of text.

    Raises ValueError for a specification without a table.
    """
    columns = spec.get("usermeta", {}).get("columns")
    rows = spec.get("datasets", {}).get("table")
    if columns is None or rows is None:
        raise ValueError("this chart carries no table")
    return table_rows(columns, rows)


def table_rows(
    columns: Sequence[Mapping[str, str]], rows: Sequence[Mapping[str, Any]]
) -> tuple[list[str], list[list[str]]]:
    """A chart's columns and the figures in them as headings, and rows of text."""
    fields = [each["field"] for each in columns]
    return [each["heading"] for each in columns], [
        [_cell(row.get(field)) for field in fields] for row in rows
    ]


def _cell(value: Any) -> str:
    if value is None:
        return ""
    return f"{value:.10g}" if isinstance(value, float) else str(value)


def chart_csv(spec: Spec) -> str:
    """The figures behind a chart as CSV."""
    headings, rows = chart_rows(spec)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(headings)
    writer.writerows(rows)
    return out.getvalue()


def chart_table(spec: Spec) -> str:
    """The figures behind a chart as a table in plain text, its description over it."""
    headings, rows = chart_rows(spec)
    heads = [_broken(each) for each in headings]
    widths = [
        max([len(part) for part in head] + [len(row[at]) for row in rows])
        for at, head in enumerate(heads)
    ]
    numbers = [all(_is_number(row[at]) for row in rows if row[at]) for at in range(len(heads))]

    def line(cells: Sequence[str]) -> str:
        parts = zip(cells, widths, numbers, strict=True)
        return "  ".join(c.rjust(w) if n else c.ljust(w) for c, w, n in parts).rstrip()

    tall = max(len(each) for each in heads)
    lines = [line([([""] * (tall - len(head)) + head)[at] for head in heads]) for at in range(tall)]
    lines.append("  ".join("-" * width for width in widths))
    return "\n".join([str(spec["description"]), "", *lines, *map(line, rows)]) + "\n"


def _broken(heading: str) -> list[str]:
    lines: list[str] = []
    for word in heading.split():
        if lines and len(lines[-1]) + 1 + len(word) <= _WIDEST:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def write_charts(
    charts: Mapping[str, Spec], folder: Path, forms: Sequence[Form] = ("svg",)
) -> list[Path]:
    """Write each chart's pictures and its figures as CSV; the paths in the order of the charts.

    All pictures are made before the first file is written, and each file is written whole or
    not at all. Raises what ``export_all`` raises, OSError where the folder can't be written, and
    ValueError for a name that is none for a file.
    """
    wrong = [name for name in charts if not name or name != Path(name).name or "\\" in name]
    if wrong:
        raise ValueError(f"no file can be called {', '.join(map(repr, wrong))}")
    made = export_all(charts, forms)
    written = []
    for name, spec in charts.items():
        files: list[tuple[str, bytes]] = [(form, made[name, form]) for form in forms]
        for ending, content in (*files, ("csv", chart_csv(spec).encode("utf-8"))):
            path = folder / f"{name}.{ending}"
            write_whole(path, content)
            written.append(path)
    return written


def _texts(spec: Any) -> list[str]:
    """All words that a specification holds."""
    if isinstance(spec, str):
        return [spec]
    if isinstance(spec, Mapping):
        return [text for each in spec.values() for text in _texts(each)]
    if isinstance(spec, list | tuple):
        return [text for each in spec for text in _texts(each)]
    return []
