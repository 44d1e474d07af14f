"""The work as plain data: keys and values, no prose, with the schema that it satisfies."""

from __future__ import annotations

from datetime import date
from typing import Any

from bedwright.planning.findings import Finding
from bedwright.planning.work.model import Assigned, Bring, Choice, LeftOut, Task, Work
from bedwright.reports.figures_json import rounded
from bedwright.reports.schema_parts import (
    NUMBER,
    NUMBER_OR_NULL,
    TEXT,
    TEXT_OR_NULL,
    listed,
    or_null,
    table,
)
from bedwright.working import Figure


def work_dict(work: Work) -> dict[str, Any]:
    """The tasks with their weeks, what does not fit, and the choices. Hours and SI units."""
    at = {each.task: each for each in work.assigned}
    return {
        "tasks": [_task(each, at.get(each.id)) for each in work.tasks],
        "left_out": [_left(each) for each in work.left_out],
        "not_yet": list(work.not_yet),
        "weeks": [
            {
                "monday": each.monday.isoformat(),
                "hours": rounded(each.hours),
                "available": None if each.available is None else rounded(each.available),
                "trays": each.trays,
            }
            for each in work.weeks
        ],
        "overloads": [
            {
                "first": each.first.isoformat(),
                "last": each.last.isoformat(),
                "tasks": list(each.tasks),
                "hours": rounded(each.hours),
                "available": rounded(each.available),
            }
            for each in work.overloads
        ],
        "choices": [_choice(each) for each in work.choices],
        "gap": rounded(work.gap),
        "findings": [_finding(each) for each in work.findings],
    }


def week_dict(work: Work, monday: date) -> dict[str, Any]:
    """The same of one week: its tasks, and those left out from it on; the season's choices."""
    whole = work_dict(work)
    on = monday.isoformat()
    by_id = {each.id: each for each in work.tasks}
    left = [e for e in whole["left_out"] if by_id[e["task"]].latest >= monday]
    shown = {each["task"] for each in left}
    return whole | {
        "week": on,
        "tasks": [e for e in whole["tasks"] if e["week"] == on or e["id"] in shown],
        "left_out": left,
        "not_yet": [],
        "weeks": [each for each in whole["weeks"] if each["monday"] == on],
    }


def _task(task: Task, at: Assigned | None) -> dict[str, Any]:
    return {
        "id": task.id,
        "kind": task.kind,
        "bed": task.bed,
        "crop": task.crop,
        "earliest": task.earliest.isoformat(),
        "latest": task.latest.isoformat(),
        "hours": [rounded(task.hours.least), rounded(task.hours.value), rounded(task.hours.most)],
        "people": task.people,
        "workload": task.workload,
        "week": None if at is None else at.week.isoformat(),
        "day": None if at is None else at.day.isoformat(),
        "done": at is not None and at.done,
        "after": [[before, wait] for before, wait in task.after],
        "bring": [_bring(each) for each in task.bring if each.kind != "tool"],
        "tools": [each.key for each in task.bring if each.kind == "tool"],
        "cautions": [_finding(each) for each in task.cautions],
        "priority": rounded(task.priority),
        "trays": task.trays,
    }


def _bring(each: Bring) -> dict[str, Any]:
    amount = None
    if each.amount is not None:
        amount = {"value": rounded(each.amount.value), "unit": each.amount.unit}
    return {"kind": each.kind, "key": each.key, "amount": amount}


def _left(each: LeftOut) -> dict[str, Any]:
    return {
        "task": each.task,
        "why": each.why,
        "by": each.by,
        "possible": None if each.possible is None else each.possible.isoformat(),
    }


def _choice(each: Choice) -> dict[str, Any]:
    return {
        "kind": each.kind,
        "weeks": [[on.isoformat(), rounded(hours)] for on, hours in each.weeks],
        "days": each.days,
        "beds": list(each.beds),
        "trays": each.trays,
        "least": each.least,
    }


def _finding(found: Finding) -> dict[str, Any]:
    """A finding; its figures by value and unit alone, as the plan has them with their working."""
    return {
        "code": found.code,
        "weight": found.weight,
        "values": {
            key: {"value": rounded(each.value), "unit": each.unit}
            if isinstance(each, Figure)
            else each
            for key, each in found.values.items()
        },
        "sources": [each.source_id for each in found.sources],
    }


def work_schema() -> dict[str, Any]:
    """The schema of :func:`work_dict`."""
    amount = table(value=NUMBER, unit=TEXT)
    whole = {"type": "integer"}
    finding = table(
        code=TEXT,
        weight={"enum": ["act", "caution", "doubt", "assumed", "note"]},
        values={"type": "object", "additionalProperties": {"anyOf": [amount, TEXT, NUMBER]}},
        sources=listed(TEXT),
    )
    pair = {"type": "array", "minItems": 2, "maxItems": 2}
    task = table(
        id=TEXT, kind=TEXT, bed=TEXT_OR_NULL, crop=TEXT_OR_NULL, earliest=TEXT, latest=TEXT,
        hours={**listed(NUMBER), "minItems": 3, "maxItems": 3}, people=whole, workload=TEXT,
        week=TEXT_OR_NULL, day=TEXT_OR_NULL, done={"type": "boolean"}, tools=listed(TEXT),
        after=listed({**pair, "items": {"anyOf": [TEXT, whole]}}),
        bring=listed(table(
            kind={"enum": ["material", "seed", "plants", "part"]}, key=TEXT,
            amount=or_null(amount),
        )),
        cautions=listed(finding), priority=NUMBER, trays=whole,
    )  # fmt: skip
    return table(
        tasks=listed(task),
        left_out=listed(table(
            task=TEXT, why={"enum": ["hours", "time", "bench", "waits"]}, by=TEXT_OR_NULL,
            possible=TEXT_OR_NULL,
        )),
        not_yet=listed(TEXT),
        weeks=listed(table(monday=TEXT, hours=NUMBER, available=NUMBER_OR_NULL, trays=whole)),
        overloads=listed(table(
            first=TEXT, last=TEXT, tasks=listed(TEXT), hours=NUMBER, available=NUMBER
        )),
        choices=listed(table(
            kind={"enum": ["hours", "earlier", "beds", "trays"]},
            weeks=listed({**pair, "items": {"anyOf": [TEXT, NUMBER]}}), days=whole,
            beds=listed(TEXT), trays=whole, least={"type": "boolean"},
        )),
        gap=NUMBER,
        findings=listed(finding),
    )  # fmt: skip
