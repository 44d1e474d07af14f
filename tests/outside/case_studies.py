"""Published case studies run as garden documents: what they advise beside what the plan says."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path

from published import library, shown

from bedwright.garden import load
from bedwright.planning.prescription import Line, Prescription
from bedwright.season import season_plan

CASES = Path(__file__).with_name("cases")
TABLE = CASES / "differences.csv"
AS_OF = date(2026, 11, 25)
COLUMNS = (
    "case", "bed", "measure", "quantity", "published", "ours", "unit", "ratio", "least", "most",
    "differs_because", "cause",
)  # fmt: skip

# Why a published figure and ours may part. A code that begins with our_fault is a fault of the
# program, found by the case and not yet mended.
CAUSES = {
    "one_rate_for_all": "The source gives one rate for every vegetable; ours is this crop's.",
    "credits": "We subtract what the soil itself gives; the source does not, or not so much.",
    "other_table": "Another published table of classes is in use here than in the source.",
    "table_edge": "The value stands on the very edge of a class.",
    "other_crop": "The source's crop is not in our tables; the nearest one stands in for it.",
    "not_told": "The source's advice rests on tests that it does not tell.",
    "texture_assumed": "Without a buffer test and a texture, lime is read from tables for loam.",
    "compost_salt": "The compost's own salt limits it here; the source gives one depth for all.",
}
LEFT_OUT = (
    "University of Massachusetts, Step-by-Step Fertilizer Guide (3 lb P2O5 and 1 lb K2O per "
    "1000 ft2): the advice is printed, the soil values behind it are not.",
    "University of Minnesota, example report for a vegetable garden (0.15 lb N per 100 ft2): the "
    "report's own figures could not be read.",
    "A mineral-balance worksheet (zinc) and a community garden's notes: arithmetic only, and no "
    "area given.",
)


@dataclass(frozen=True)
class Row:
    """One row of ``differences.csv``."""

    case: str
    bed: str
    measure: str
    quantity: str
    published: str
    ours: str
    unit: str
    ratio: str
    least: str
    most: str
    differs_because: str
    cause: str

    @property
    def ends(self) -> tuple[float, float]:
        """The least and the most that the source advises."""
        low, _, high = self.published.partition(" to ")
        return float(low), float(high or low)

    @property
    def in_words(self) -> bool:
        """Whether the row answers a question by yes or no."""
        return self.published in ("yes", "no")

    @property
    def agrees(self) -> bool:
        """Whether our answer is the source's, or our figure within the row's band."""
        if self.in_words:
            return self.published == self.ours
        return float(self.least) <= float(self.ratio) <= float(self.most)

    def measured(self) -> tuple[str, str]:
        """Our figure and its ratio to the published one, worked out afresh, to three digits."""
        value = _measure(plans(self.case)[self.bed], self.measure, self.unit)
        if isinstance(value, bool):
            return ("yes" if value else "no"), ""
        low, high = self.ends
        nearest = min(max(value, low), high)
        return f"{value:.3g}", f"{value / nearest:.3g}"


def rows() -> list[Row]:
    """The table as it is committed."""
    with TABLE.open(encoding="utf-8", newline="") as file:
        reader = csv.reader(file)
        assert tuple(next(reader)) == COLUMNS
        return [Row(*cells) for cells in reader]


@cache
def plans(case: str) -> dict[str, Prescription]:
    """The prescriptions of a case's beds."""
    made = season_plan(load(CASES / f"{case}.toml", library(), AS_OF), library(), AS_OF)
    return {plan.prescription.bed.id: plan.prescription for plan in made.beds}


def _measure(plan: Prescription, measure: str, unit: str) -> float | bool:
    what, _, of = measure.partition(" ")
    if what == "says":
        return _says(plan, of)
    if what == "read":
        assert plan.read[of].unit == unit
        return plan.read[of].value
    if what == "spread" and unit == "in":
        return shown(_depth(plan, of), unit)
    rates = {
        "nitrogen": [plan.nitrogen.to_supply.value],
        "need": [each.amount.value for each in plan.needs if each.nutrient == of],
        "lime": [plan.reaction.lime.value] if plan.reaction.lime else [],
        "spread": [line.per_area for line in _lines(plan, of)],
    }
    return shown(sum(rates[what]), unit)


def _lines(plan: Prescription, material: str) -> list[Line]:
    return [line for line in plan.lines if library().base_of(line.material.key) == material]


def _depth(plan: Prescription, material: str) -> float:
    depth = 0.0
    for line in _lines(plan, material):
        assert line.supply.bulk_density is not None
        depth += line.per_area / line.supply.bulk_density.value
    return depth


def _says(plan: Prescription, what: str) -> bool:
    codes = {each.code for each in plan.findings}
    keys = {library().base_of(each.material.key) for each in plan.lines}
    return {
        "too salty": bool(codes & {"salt_over_limit", "salt_costs_yield"}),
        "leach first": "salt_over_limit" in codes,
        "leach 6 to 12 in": bool(codes & {"leach_10_in", "leach_12_in"}),
        "sodium too high": bool(codes & {"sodic", "sodic_without_cec"}),
        "gypsum or sulfur": bool(keys & {"gypsum", "elemental_sulfur"})
        or "calcium_gypsum_for_sodium" in codes,
        "lime": plan.reaction.lime is not None,
        "sulfur for the pH": plan.reaction.sulfur is not None,
        "phosphorus": any(each.nutrient == "p2o5" and each.amount.value > 0 for each in plan.needs),
    }[what]


def head(case: str) -> list[str]:
    """The paragraphs of the comment at the head of a case's document."""
    paragraphs = [""]
    for line in (CASES / f"{case}.toml").read_text(encoding="utf-8").splitlines():
        if not line.startswith("#"):
            break
        text = line[1:].strip()
        if text and line.startswith("#   "):
            paragraphs[-1] = f"{paragraphs[-1]} {text}"
        elif text:
            paragraphs.append(text)
    return [each for each in paragraphs if each]


def page() -> str:
    """The page docs/case-studies.md."""
    table = rows()
    agreeing = sum(each.agrees for each in table)
    cases = list(dict.fromkeys(each.case for each in table))
    lines = [
        "# Case studies: published advice beside ours",
        "",
        "Made by `scripts/make_case_studies.py` from `tests/outside/cases/`; not written by hand.",
        "",
        f"{len(cases)} soil reports with the advice that was given on them, run through the "
        "program as they stand. Nothing was fitted to them; where a table of ours holds the "
        "report's own figure, its row says so. Of "
        f"{len(table)} comparisons {agreeing} agree (a figure agrees from 0.8 to 1.25 times the "
        "published one, unless said otherwise); the others are explained one by one. A range "
        "is compared by its nearer end.",
        "",
        "Most of these reports reached print as copies by the garden's owner, and most tell less "
        "than a laboratory measured: what had to be assumed stands with each.",
        "",
    ]
    for case in cases:
        title, *about = head(case)
        lines += [f"## {title.rstrip('.')}", "", *(f"- {each}" for each in about), ""]
        lines += [
            "| Quantity | Bed | Published | Ours | Ratio | Why |",
            "|---|---|---|---|---|---|",
        ]
        for row in (each for each in table if each.case == case):
            why = " ".join(each for each in (CAUSES.get(row.differs_because), row.cause) if each)
            unit = "" if row.in_words else f" {row.unit}"
            ratio = row.ratio or ("agree" if row.agrees else "differ")
            lines.append(
                f"| {row.quantity} | {row.bed} | {row.published}{unit} | {row.ours}{unit} "
                f"| {ratio} | {why} |"
            )
        lines.append("")
    faults = dict.fromkeys(
        row.differs_because for row in table if row.differs_because.startswith("our_fault")
    )
    if faults:
        lines += ["## Faults of the program that the cases brought to light", ""]
        for code in faults:
            where = ", ".join(
                f"{row.case} ({row.quantity})" for row in table if row.differs_because == code
            )
            lines.append(f"- {CAUSES[code]} Seen in: {where}.")
        lines.append("")
    lines += ["## Left out", "", *(f"- {each}" for each in LEFT_OUT), ""]
    return "\n".join(lines)


def measure_again() -> None:
    """Write our figures afresh into the table; bands and causes stay as they are."""
    found = [(row, *row.measured()) for row in rows()]  # all of it before the file is touched
    with TABLE.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(COLUMNS)
        for row, ours, ratio in found:
            cells = {**{name: getattr(row, name) for name in COLUMNS}, "ours": ours, "ratio": ratio}
            writer.writerow(cells[name] for name in COLUMNS)
