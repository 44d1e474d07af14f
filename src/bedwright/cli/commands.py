"""The commands that stand in no module of their own."""

from __future__ import annotations

import argparse
import json
import sys
from importlib import resources
from pathlib import Path

from bedwright.cli.common import loaded, require_new, write
from bedwright.cli.frame import Refused
from bedwright.garden import GardenError
from bedwright.reference import Library


def check(given: argparse.Namespace) -> None:
    """Check a garden document."""
    try:
        document, _, _ = loaded(given)
    except GardenError as error:
        count = len(error.faults)
        raise Refused(f"{error}\n{count} fault{'s' if count > 1 else ''}") from None
    garden = document.garden
    print(
        f"{given.garden}: right. {len(garden.bed)} beds, {len(garden.soil_report)} soil reports, "
        f"{len(garden.stock)} materials in the shed, {len(garden.want)} crops wanted."
    )


def reckon(given: argparse.Namespace) -> None:
    """Work one formula, or list them."""
    from bedwright.reckon import ReckonError, formulas
    from bedwright.reckon import reckon as work_out
    from bedwright.reports.working import working_text

    known = formulas()
    if given.name is None:
        for each in known:
            print(f"{each.name}\n    {each.words}")
            print(f"    inputs: {', '.join(each.inputs)}")
        return
    inputs: dict[str, str] = {}
    for pair in given.given:
        key, equals, value = pair.partition("=")
        if not equals:
            raise Refused(f"bedwright: {pair!r} is not key=value")
        inputs[key.strip()] = value.strip()
    library = Library()
    try:
        figure = work_out(given.name, inputs, library)
    except ReckonError as error:
        raise Refused(f"bedwright: {error}") from None
    print("\n".join(working_text(figure, library, {each.name: each.words for each in known})))


def new(given: argparse.Namespace) -> None:
    """Write or print the commented garden document."""
    text = resources.files("bedwright.garden").joinpath("template.toml").read_text(encoding="utf-8")
    if given.file is None:
        sys.stdout.write(text)
        return
    path = Path(given.file)
    require_new(path)
    write(path.parent, {path.name: text})
    print(f"{path} is written. Fill it in, then: bedwright check {path}")


def schema(given: argparse.Namespace) -> None:
    """Print a JSON Schema."""
    if given.what == "garden":
        from bedwright.garden import garden_schema

        found = garden_schema()
    elif given.what == "comparisons":
        from bedwright.reports.compare_json import compare_schema

        found = compare_schema()
    else:
        from bedwright.reports.plan_schema import plan_schema

        found = plan_schema()
    print(json.dumps(found, indent=2, ensure_ascii=False))


def completion(given: argparse.Namespace) -> None:
    """Print a shell's completion script."""
    import shtab

    from bedwright.cli.parser import parser

    print(shtab.complete(parser(), shell=given.shell))
