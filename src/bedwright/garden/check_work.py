"""What a document says of the work, held against its beds, the table of labor and the day."""

from __future__ import annotations

import difflib
from datetime import date

from bedwright.garden.checked import Checked
from bedwright.garden.model import Garden
from bedwright.garden.model_work import MEASURES, LaborTime
from bedwright.reference import Library, UnknownName
from bedwright.reference.library import fold


def check_work(garden: Garden, library: Library, checked: Checked, as_of: date) -> None:
    """Check own times, what is done, and fork tests.

    ``checked.keys`` gains the key of the crop of each task that is done.
    """
    measures: dict[tuple[str, str], set[str]] = {}
    for row in library.rows("labor"):
        measures.setdefault((fold(row["task"]), row["condition"]), set()).add(row["per"])
    tasks = {fold(row["task"]) for row in library.rows("work_tasks")} | {
        task for task, _ in measures
    }
    for at, each in enumerate(garden.labor_time):
        _time(at, each, measures, checked)
    beds = [bed.id for bed in garden.bed]
    for name in ("labor_done", "fork_test"):
        for at, each in enumerate(getattr(garden, name)):
            if each.bed is not None and each.bed not in beds:
                checked.fault(
                    (name, at, "bed"),
                    f"there is no bed {each.bed!r}",
                    f"Beds: {', '.join(sorted(beds))}.",
                )
            if each.on > as_of:
                checked.fault(
                    (name, at, "on"),
                    f"{each.on} lies after {as_of}, the day of reading",
                    "Correct the date, or read as of a later day.",
                )
    for at, done in enumerate(garden.labor_done):
        if fold(done.task) not in tasks:
            checked.fault(("labor_done", at, "task"), *_unknown(done.task, tasks))
        if done.crop is not None:
            try:
                key = library.resolve("crop_names", "crop", done.crop)
            except UnknownName as unknown:
                near = f"Nearest: {', '.join(unknown.nearest)}." if unknown.nearest else ""
                checked.fault(
                    ("labor_done", at, "crop"), f"{done.crop!r} is not a known crop", near
                )
            else:
                checked.keys[("labor_done", at, "crop")] = key


def _time(
    at: int, own: LaborTime, measures: dict[tuple[str, str], set[str]], checked: Checked
) -> None:
    tasks = {task for task, _ in measures}
    if fold(own.task) not in tasks:
        checked.fault(("labor_time", at, "task"), *_unknown(own.task, tasks))
        return
    methods = sorted(condition for task, condition in measures if task == fold(own.task))
    method = fold(own.method or "").replace(" ", "_")
    if method not in methods:
        named = ", ".join(each.replace("_", " ") for each in methods if each)
        problem = (
            f"{own.task!r} has no method {own.method!r}"
            if own.method
            else f"{own.task!r} needs its method"
        )
        checked.fault(("labor_time", at, "method"), problem, f"Methods: {named or 'none'}.")
        return
    fits = {MEASURES.get(per, "count") for per in measures[(fold(own.task), method)]}
    if own.measure not in fits:
        checked.fault(
            ("labor_time", at, own.measure),
            f"the time of {own.task!r} is not counted by {own.measure}",
            f"Give its {' or '.join(sorted(fits))}.",
        )


def _unknown(word: str, known: set[str]) -> tuple[str, str]:
    near = difflib.get_close_matches(fold(word), sorted(known), n=4, cutoff=0.5)
    listed = f"Nearest: {', '.join(near)}." if near else f"Tasks: {', '.join(sorted(known))}."
    return f"{word!r} is not a known task", listed
