"""``bedwright plan``: what each bed gets, and why."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.frame import Refused, bed_argument, command, garden_argument, language_argument

if TYPE_CHECKING:
    from bedwright.charts.theme import Spec
    from bedwright.season import SeasonPlan


def add_plan(commands: object) -> None:
    """Register ``plan``."""
    plan = command(
        commands,
        "plan",
        "what each bed gets, and why",
        "bedwright plan garden.toml --bed R1 --working",
    )
    garden_argument(plan)
    bed_argument(plan)
    plan.add_argument(
        "--out",
        metavar="DIR",
        help="also write the plan and all it is shown as there: text, JSON, charts, the week, "
        "calendar, spreadsheet, record, season book",
    )
    plan.add_argument("--format", choices=("text", "json"), default="text")
    plan.add_argument("--working", action="store_true", help="show every step and source")
    plan.add_argument(
        "--quick", action="store_true", help="without the years ahead and the best weeks of work"
    )
    language_argument(plan)


def plan(given: argparse.Namespace) -> None:
    """Plan the garden, or one bed of it."""
    from bedwright.cli.common import planned, progress, read_garden, require_beds, write

    document, library, as_of = read_garden(given)
    require_beds(document, given.bed)
    with planned(document, library, as_of, only=given.bed, ahead=True, quick=given.quick) as made:
        made.work_out(progress)
    if given.bed is not None and not made.beds:
        raise Refused(f"bedwright: no crop is wanted for bed {given.bed}; add it to a [[want]]")
    shown = {given.format, *(("text", "json") if given.out is not None else ())}
    texts = {
        name: _text(made, given.working, given.language) if name == "text" else _json(made)
        for name in shown
    }
    if given.out is not None:
        from bedwright.cli.outputs import season_files

        folder = Path(given.out)
        files: dict[str, str | bytes] = {"plan.txt": texts["text"], "plan.json": texts["json"]}
        if made.complete:
            files |= season_files(made, folder, given.language)
        write(folder, files, {**_release_charts(made), **_dates_charts(made)})
    sys.stdout.write(texts[given.format])


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


def _dates_charts(made: SeasonPlan) -> dict[str, Spec]:
    """The charts of the planting dates of the crops that are shown."""
    from bedwright.cli.dates import dates_charts

    if made.dates is None:
        return {}
    shown = {each.dates.crop for each in made.beds if each.dates is not None}
    return dates_charts(made.dates, made.document, made.as_of, shown)
