"""What each command does: read, call one function, show."""

from __future__ import annotations

import argparse
import json
import sys
from datetime import date
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.common import loaded, progress, solver_output_apart, unknown_bed, write, written
from bedwright.cli.frame import DONE, refuse
from bedwright.garden import Document, GardenError
from bedwright.reference import Library

if TYPE_CHECKING:
    from bedwright.charts.theme import Spec
    from bedwright.planning.bed_ledger import BedLedger
    from bedwright.season import SeasonPlan


def plan(given: argparse.Namespace) -> int:
    """Plan the garden, or one bed of it."""
    try:
        document, library, as_of = loaded(given)
    except GardenError as error:
        return refuse(str(error))
    if code := unknown_bed(given, document):
        return code
    from bedwright.season import season_plan

    with solver_output_apart():
        made = season_plan(
            document, library, as_of, only=given.bed, quick=given.quick, progress=progress
        )
        made.work_out(progress)
    if given.bed is not None and not made.beds:
        return refuse(f"bedwright: no crop is wanted for bed {given.bed}; add it to a [[want]]")
    shown = {given.format, *(("text", "json") if given.out is not None else ())}
    made_texts = {
        name: _text(made, given.working, given.language) if name == "text" else _json(made)
        for name in shown
    }
    if given.out is not None:
        from bedwright.cli.outputs import OutputError, season_files

        folder = Path(given.out)
        files: dict[str, str | bytes] = {
            "plan.txt": made_texts["text"], "plan.json": made_texts["json"]
        }  # fmt: skip
        if made.complete:
            try:
                files |= season_files(made, folder, given.language)
            except OutputError as error:
                return refuse(f"bedwright: {error}")
        charts = {**_release_charts(made), **_dates_charts(made, as_of)}
        code = written(folder, files, charts)
        if code:
            return code
    sys.stdout.write(made_texts[given.format])
    return DONE


def _text(made: SeasonPlan, working: bool, language: str) -> str:
    """The plan as text; what is not translated stays English, and the first line says so."""
    from bedwright.language import ENGLISH, said, using

    with using(language):
        text = _told(made, working)
        if language == ENGLISH:
            return text
        note = said("Headings and some sentences are in English still.")
        return f"{note}\n\n{text}"


def _told(made: SeasonPlan, working: bool) -> str:
    from bedwright.reports.text import plan_text

    text = plan_text(made)
    if working:
        from bedwright.reckon import formulas
        from bedwright.reports.bed_working import bed_working

        words = {each.name: each.words for each in formulas()}
        system = made.document.garden.garden.units
        beds = (bed_working(each, made.library, words, system) for each in made.beds)
        text += "\n" + "\n\n".join(beds) + "\n"
    return text


def _json(made: SeasonPlan) -> str:
    from bedwright.reports.plan_json import plan_dict

    return json.dumps(plan_dict(made), indent=1, ensure_ascii=False) + "\n"


def feed(given: argparse.Namespace) -> int:
    """The garden's blend with its alternatives."""
    try:
        document, library, as_of = loaded(given)
    except GardenError as error:
        return refuse(str(error))
    if given.why is not None:
        return _why(given.why, document, library, as_of)
    from bedwright.planning.garden_blend import alternatives
    from bedwright.planning.relax import relaxations
    from bedwright.reports.feed_text import feed_text
    from bedwright.season import season_plan

    most = document.garden.limits.most_materials
    with solver_output_apart():
        made = season_plan(document, library, as_of, ahead=False, progress=progress)
        others = alternatives(made.shared.prepared, _kept_budget(made))
        relaxed = {
            at: relaxations(group, made.shared.by_planting[group.beds[0].planting], most)
            for at, group in enumerate(made.shared.groups)
        }
    sys.stdout.write(feed_text(made, others, relaxed))
    return DONE


def _kept_budget(made: SeasonPlan) -> float | None:
    """The budget, None where there is none or where it does not reach anyhow."""
    budget = made.document.garden.limits.budget
    return budget.si if budget is not None and made.shared.money <= budget.si else None


def _why(name: str, document: Document, library: Library, as_of: date) -> int:
    """Why a material is not used: forced in, and the garden solved again."""
    from bedwright.feeding.materials import material
    from bedwright.planning.own import own_key
    from bedwright.planning.why_not import why_not
    from bedwright.reference import UnknownName
    from bedwright.reports.why_text import why_text
    from bedwright.season import season_plan

    try:
        key = own_key(document, library, name)
    except UnknownName as unknown:
        hint = f" Nearest: {', '.join(unknown.nearest)}." if unknown.nearest else ""
        return refuse(f"bedwright: {name!r} is not a known material.{hint}")
    with solver_output_apart():
        made = season_plan(document, library, as_of, ahead=False, progress=progress)
        found = why_not(key, tuple(each.prescription for each in made.plantings), made.shared)
    shown = material(made.library, key).name
    sys.stdout.write(why_text(made, found, shown, made.shared.prepared.names))
    return DONE


def ledger(given: argparse.Namespace) -> int:
    """What came in and went out of each bed, season by season, and where the habit leads."""
    try:
        document, library, as_of = loaded(given)
    except GardenError as error:
        return refuse(str(error))
    if code := unknown_bed(given, document):
        return code
    from bedwright.planning.bed_ledger import bed_ledger
    from bedwright.planning.ledger_entries import planned_season
    from bedwright.reports.ledger_text import ledger_page
    from bedwright.season import season_plan

    with solver_output_apart():
        made = season_plan(document, library, as_of, ahead=False, progress=progress)
    planned = tuple(planned_season(each.prescription) for each in made.plantings)
    kept = bed_ledger(document, made.library, planned)
    text = ledger_page(kept, document, as_of, given.bed)
    if given.out is not None:
        folder = Path(given.out)
        charts = _ledger_charts(kept, [given.bed] if given.bed else list(kept.beds), document)
        code = written(folder, {"ledger.txt": text}, charts)
        if code:
            return code
    sys.stdout.write(text)
    return DONE


def _release_charts(made: SeasonPlan) -> dict[str, Spec]:
    from bedwright.charts.release_chart import release_chart
    from bedwright.reports.words_charts import CHART_WORDS

    system = made.document.garden.garden.units
    found = {}
    for each in made.beds:
        plan = each.prescription
        names = {line.material.key: line.material.name.lower() for line in plan.lines}
        chart = release_chart(each.nitrogen, plan.crop.name.lower(), names, system, CHART_WORDS)
        if chart is not None:
            found[f"nitrogen-{plan.bed.id}"] = chart
    return found


def _dates_charts(made: SeasonPlan, as_of: date) -> dict[str, Spec]:
    """The charts of the planting dates of the crops that are shown."""
    from bedwright.cli.dates import dates_charts

    if made.dates is None:
        return {}
    shown = {each.dates.crop for each in made.beds if each.dates is not None}
    return dates_charts(made.dates, made.document, as_of, shown)


def _ledger_charts(kept: BedLedger, beds: list[str], document: Document) -> dict[str, Spec]:
    from bedwright.charts.ledger_chart import ledger_chart
    from bedwright.reports.words_charts import CHART_WORDS

    system = document.garden.garden.units
    charts = {bed: ledger_chart(kept, bed, system, CHART_WORDS) for bed in beds}
    return {f"ledger-{bed}": chart for bed, chart in charts.items() if chart is not None}


def check(given: argparse.Namespace) -> int:
    """Check a garden document."""
    try:
        document, _, _ = loaded(given)
    except GardenError as error:
        count = len(error.faults)
        print(error, file=sys.stderr)
        return refuse(f"{count} fault{'s' if count > 1 else ''}")
    garden = document.garden
    print(
        f"{given.garden}: right. {len(garden.bed)} beds, {len(garden.soil_report)} soil reports, "
        f"{len(garden.stock)} materials in the shed, {len(garden.want)} crops wanted."
    )
    return DONE


def reckon(given: argparse.Namespace) -> int:
    """Work one formula, or list them."""
    from bedwright.reckon import ReckonError, formulas
    from bedwright.reckon import reckon as work_out
    from bedwright.reports.working import working_text

    known = formulas()
    if given.name is None:
        for each in known:
            print(f"{each.name}\n    {each.words}")
            print(f"    inputs: {', '.join(each.inputs)}")
        return DONE
    inputs: dict[str, str] = {}
    for pair in given.given:
        key, equals, value = pair.partition("=")
        if not equals:
            return refuse(f"bedwright: {pair!r} is not key=value")
        inputs[key.strip()] = value.strip()
    library = Library()
    try:
        figure = work_out(given.name, inputs, library)
    except ReckonError as error:
        return refuse(f"bedwright: {error}")
    print("\n".join(working_text(figure, library, {each.name: each.words for each in known})))
    return DONE


def new(given: argparse.Namespace) -> int:
    """Write or print the commented garden document."""
    text = resources.files("bedwright.garden").joinpath("template.toml").read_text(encoding="utf-8")
    if given.file is None:
        sys.stdout.write(text)
        return DONE
    path = Path(given.file)
    if path.exists():
        return refuse(f"bedwright: {path} exists already and is left as it is; name another file")
    code = write(path.parent, {path.name: text})
    if not code:
        print(f"{path} is written. Fill it in, then: bedwright check {path}")
    return code


def schema(given: argparse.Namespace) -> int:
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
    return DONE


def completion(given: argparse.Namespace) -> int:
    """Print a shell's completion script."""
    import shtab

    from bedwright.cli.parser import parser

    print(shtab.complete(parser(), shell=given.shell))
    return DONE
