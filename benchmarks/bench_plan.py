"""How long help, loading and planning take, as times of a reference loop of the same run.

CPU seconds (user and system), medians of repeats.
Run: ``.venv/bin/python benchmarks/bench_plan.py``
"""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import platform
import resource
import statistics
import subprocess
import sys
import tempfile
import time
import tomllib
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from functools import partial
from importlib import metadata, resources
from pathlib import Path
from typing import Any

AS_OF = date(2026, 11, 25)
DEMO = Path(str(resources.files("bedwright.demo")))
UNLIKE = ("W2", "W9", "E1", "R5")  # four demo beds with reports of four kinds
SIZES = (4, 8, 16, 32, 64)
PARTS = ("import", "import of scipy", "load", "plan", "render")


def reference_loop() -> float:
    """A fixed piece of plain Python: what the other times are divided by."""
    total, names = 0.0, [f"key {at}" for at in range(100)]
    counts: dict[str, float] = {}
    for at in range(400_000):
        total += (at % 7) * 0.5
        counts[names[at % 100]] = total
    return sum(counts.values())


def cpu(act: Callable[[], object]) -> float:
    """CPU seconds of this process for one call."""
    start = time.process_time()
    act()
    return time.process_time() - start


def child(command: Sequence[str], compiled: str) -> str:
    """What a child process prints. Its modules are compiled once and kept in a folder."""
    settings = {**os.environ, "PYTHONPYCACHEPREFIX": compiled}
    settings.pop("PYTHONDONTWRITEBYTECODE", None)
    return subprocess.run(
        command, check=True, stdout=subprocess.PIPE, text=True, env=settings
    ).stdout


def child_cpu(command: Sequence[str], compiled: str) -> float:
    """CPU seconds of a child process."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    child(command, compiled)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


@contextlib.contextmanager
def quiet() -> Iterator[None]:
    """Keep what the solver prints out of the table."""
    sys.stdout.flush()
    kept, apart = os.dup(1), os.open(os.devnull, os.O_WRONLY)
    os.dup2(apart, 1)
    try:
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(apart)


def demo_parts() -> dict[str, float]:
    """CPU seconds of each part of planning the demo, in this fresh process."""
    marks = [time.process_time()]

    def mark() -> None:
        marks.append(time.process_time())

    from bedwright.garden import load
    from bedwright.reference import Library
    from bedwright.reports.plan_json import plan_dict
    from bedwright.reports.text import plan_text
    from bedwright.season import season_plan

    mark()
    import scipy.optimize  # noqa: F401

    mark()
    library = Library()
    document = load(DEMO / "kestrel_bend.toml", library, AS_OF)
    mark()
    made = season_plan(document, library, AS_OF)
    mark()
    plan_text(made)
    json.dumps(plan_dict(made))
    mark()
    return {part: marks[at + 1] - marks[at] for at, part in enumerate(PARTS)}


def repeated_garden(beds: int) -> str:
    """The demo's document with its four unlike beds repeated until there are ``beds``."""
    import tomlkit

    data: dict[str, Any] = tomllib.loads((DEMO / "kestrel_bend.toml").read_text(encoding="utf-8"))
    copies = {old: [f"{old}-{at}" for at in range(beds // len(UNLIKE))] for old in UNLIKE}
    data["bed"] = [{**bed, "id": new} for bed in data["bed"] for new in copies.get(bed["id"], ())]
    data["history"] = [
        {**season, "bed": new}
        for season in data["history"]
        for new in copies.get(season["bed"], ())
    ]
    for part in ("soil_report", "want"):
        for each in data[part]:
            each["beds"] = [new for old in each["beds"] for new in copies.get(old, ())]
        data[part] = [each for each in data[part] if each["beds"]]
    return tomlkit.dumps(data)


def growth(repeats: int) -> Iterator[tuple[int, float, float]]:
    """The number of beds, the CPU seconds to plan them, and the same as times of the loop.

    Every round goes through all sizes, each beside a loop of its own, so that a machine that is
    busy for a while slows no size alone.
    """
    from bedwright.garden.load import load_text
    from bedwright.reference import Library
    from bedwright.season import season_plan

    library = Library()
    documents = {
        size: load_text(repeated_garden(size), f"{size} beds", DEMO, library, AS_OF)
        for size in SIZES
    }
    season_plan(documents[SIZES[0]], library, AS_OF)  # tables and imports warm
    rounds: list[dict[int, tuple[float, float]]] = []
    for _ in range(repeats):
        rounds.append({})
        for size, document in documents.items():
            loop = cpu(reference_loop)
            taken = cpu(partial(season_plan, document, library, AS_OF))
            loop = (loop + cpu(reference_loop)) / 2
            rounds[-1][size] = (taken, taken / loop)
    for size in SIZES:
        seconds, times = zip(*(each[size] for each in rounds), strict=True)
        yield size, statistics.median(seconds), statistics.median(times)


def table(repeats: int, compiled: str) -> Iterator[str]:
    """The lines of the result, as a Markdown table."""

    def command(*arguments: str) -> float:
        every = [child_cpu([sys.executable, *arguments], compiled) for _ in range(repeats + 1)]
        return statistics.median(every[1:])  # the first compiles

    def line(what: str, seconds: float, times: float, note: str = "") -> str:
        return f"| {what} | {seconds:.3f} | {times:.1f} | {note} |"

    loop = statistics.median(cpu(reference_loop) for _ in range(9))
    yield "| what | CPU, s | times the loop | |"
    yield "|---|---:|---:|---|"
    yield line("reference loop", loop, 1)
    for what, arguments in (
        ("python that does nothing", ("-c", "pass")),
        ("`bedwright --help`", ("-m", "bedwright", "--help")),
    ):
        seconds = command(*arguments)
        yield line(what, seconds, seconds / loop)
    parts = [sys.executable, __file__, "--parts"]
    runs = [json.loads(child(parts, compiled)) for _ in range(repeats + 1)][1:]
    for part in (*PARTS, "together"):
        seconds = statistics.median(run.get(part, sum(run.values())) for run in runs)
        yield line(f"demo: {part}", seconds, seconds / loop)
    first = None
    for size, seconds, times in growth(repeats):
        first = first or times / size
        per_bed = times / size / first
        yield line(f"plan of {size} beds", seconds, times, f"a bed costs {per_bed:.2f} of one in 4")


def machine() -> str:
    """What the figures were measured on."""
    versions = ", ".join(f"{name} {metadata.version(name)}" for name in ("numpy", "scipy"))
    return (
        f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores, "
        f"{platform.python_implementation()} {platform.python_version()}, {versions}"
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--repeats", type=int, default=3, help="medians of so many (default: 3)")
    parser.add_argument("--parts", action="store_true", help="only the demo's parts, as JSON")
    given = parser.parse_args()
    if given.parts:
        with quiet():
            parts = demo_parts()
        print(json.dumps(parts))
        return
    print(f"{machine()}; medians of {given.repeats}\n", flush=True)
    with quiet(), tempfile.TemporaryDirectory() as compiled:
        lines = list(table(given.repeats, compiled))
    print("\n".join(lines))


if __name__ == "__main__":
    main()
