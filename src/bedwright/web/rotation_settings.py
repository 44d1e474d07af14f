"""How the years ahead are planned, as a form: horizon, intervals, limits, and the weights."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from bedwright.garden.edit import EditError, set_field, unset_field, value_at
from bedwright.garden.faults import Path
from bedwright.garden.model_rotation import Rotation, Weights
from bedwright.web.forms_of_parts import Paper, number_and_unit
from bedwright.web.part_forms import Group, maker
from bedwright.web.standing import Standing

_PLAIN = ("first_year", "years", "years_away", "turnover_days", "most_seconds")
_LEAST_MOST = {
    "first_year": (1900, 2200),
    "years": (1, 8),
    "years_away": (0, 30),
    "turnover_days": (0, 90),
    "most_seconds": (1, 3600),
}
WEIGHTS = tuple(Weights.model_fields)
FIELDS: dict[Path, str] = {
    **{("rotation", name): name for name in
       (*_PLAIN, "away", "gap", "neighbors_apart", "note")},
    **{("rotation", "weights", name): name for name in WEIGHTS},
}  # fmt: skip


def stated(standing: Standing) -> dict[str, str]:
    """What the form shows for what the document states, or for what holds without a word."""
    rotation = standing.stated.garden.rotation or Rotation()
    gap, unit = number_and_unit(rotation.gap, "fraction", standing.system)
    shown = {
        name: str(value) if (value := getattr(rotation, name)) is not None else ""
        for name in _PLAIN
    }
    shown |= {
        "away": "\n".join(f"{family}: {years}" for family, years in rotation.away.items()),
        "gap": gap,
        "gap_unit": unit,
        "neighbors_apart": "yes" if rotation.neighbors_apart else "",
        "note": rotation.note or "",
    }
    return shown | {name: f"{getattr(rotation.weights, name):g}" for name in WEIGHTS}


def written(standing: Standing, paper: Paper) -> str:
    """The document's text with what the form says; what can't be read is noted in ``paper``."""
    text, shown = standing.revision.text, stated(standing)
    said: dict[str, Any] = {name: paper.whole(name, *_LEAST_MOST[name]) for name in _PLAIN}
    said |= {name: paper.number(name) for name in WEIGHTS}
    said["away"] = _families(paper)
    said["gap"] = paper.amount("gap", "fraction")
    said["neighbors_apart"] = True if paper.text("neighbors_apart") == "yes" else None
    said["note"] = paper.text("note") or None
    if paper.faults:
        return text
    for path, name in FIELDS.items():
        if _same(name, shown, paper.typed):
            continue
        value = said[name]
        text = unset_field(text, path) if value is None else set_field(text, path, value)
    return text


def groups(paper: Paper) -> list[Group]:
    """The fields of the form."""
    of = maker(paper)
    return [
        Group(
            _("Which years"),
            [
                of("first_year", _("First year"), "number",
                   hint=_("Left empty: the next season.")),
                of("years", _("How many years"), "number"),
                of("years_away", _("Years that a family stays away from a bed"), "number",
                   hint=_("3 is common practice. Beds with a recorded problem wait as long as "
                          "that problem asks for.")),
                of("away", _("Other families' years"), "area",
                   hint=_("One family to a line, such as Asteraceae: 1.")),
                of("turnover_days", _("Days between one crop and the next"), "number"),
                of("neighbors_apart", _("Keep a family off the beds beside it too"), "check"),
            ],
        ),
        Group(
            _("What counts how much"),
            [of(name, label, "number", hint=hint) for name, label, hint in _weights()],
            hint=_("0 leaves a thing out. A weight counts against the others: with 10 for wishes "
                   "and 1 for a good predecessor, a wish for a bed is worth ten good "
                   "predecessors."),
        ),
        Group(
            _("When to stop looking for a better plan"),
            [
                of("gap", _("When it is proven this near the best"), "number",
                   unit=paper.text("gap_unit")),
                of("most_seconds", _("or after so many seconds"), "number",
                   hint=_("Left empty: no clock. A plan that the clock stopped may come out "
                          "otherwise next time.")),
                of("note", _("Note"), "area"),
            ],
        ),
    ]  # fmt: skip


def _weights() -> list[tuple[str, str, str]]:
    """Each weight's name, its words, and what it does."""
    return [
        ("wishes", _("Wishes"), _("For each bed of a wish that is not met.")),
        ("feeders", _("Heavy feeders after legumes and light feeders"), ""),
        ("roots", _("Deep roots after shallow ones"), _("Thin evidence: 0 unless you ask for it.")),
        ("groups", _("Order of crop groups"), _("Thin evidence: 0 unless you ask for it.")),
        ("income", _("Income by bed and week"), _("From your own prices; shown in any case.")),
        ("near", _("One crop's beds near one another"), ""),
        ("rest", _("Beds at rest under a cover crop or clear plastic"), ""),
        ("salt", _("Salt-tolerant crops in salty beds"), ""),
        ("unchanged", _("As in the plan that stands"), _("So that a surprise moves few beds.")),
    ]


def _families(paper: Paper) -> dict[str, int] | None:
    found: dict[str, int] = {}
    for line in paper.text("away").splitlines():
        family, _colon, years = line.replace("=", ":").rpartition(":")
        if not line.strip():
            continue
        if not family.strip() or not years.strip().isdecimal() or int(years.strip()[:4]) > 30:
            paper.fault(
                "away",
                _("“{line}” is not a family with its years, such as Asteraceae: 1.").format(
                    line=line.strip()
                ),
            )
            continue
        found[family.strip()] = int(years)
    return found or None


def _same(name: str, shown: Mapping[str, str], typed: Mapping[str, str]) -> bool:
    return all(
        str(shown.get(key, "")).strip() == str(typed.get(key, "")).strip()
        for key in (name, f"{name}_unit")
    )


def is_stated(text: str) -> bool:
    """Whether the document says anything of the years ahead."""
    for name in ("rotation", "wish", "pin"):
        try:
            value_at(text, (name,))
        except EditError:
            continue
        return True
    return False
