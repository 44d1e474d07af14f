"""Small garden documents written inline, and their plans."""

from datetime import date
from pathlib import Path

from bedwright.garden.load import load_text
from bedwright.planning.prescription import Prescription
from bedwright.reference import Library
from bedwright.season import SeasonPlan, season_plan

AS_OF = date(2026, 11, 25)
LIBRARY = Library()
BED = 'length = "50 ft"\nwidth = "4 ft"\ntexture = "silt loam"\n'
RAISED = (
    'kind = "raised"\nfill_depth = "17 in"\nfill = "compost mix"\n'
    'length = "12 ft"\nwidth = "4 ft"\n'
)
ACID = (
    "pH, 5.4, 1:1 soil:water",
    "Organic matter, 2.0 %, loss on ignition",
    "NO3-N, 5 ppm, KCl",
    "Phosphorus, 12 ppm, Bray P1",
    "Potassium, 90 ppm, ammonium acetate",
    "EC, 0.5 dS/m, saturated paste",
)
NEUTRAL = ("pH, 6.7, 1:1 soil:water", *ACID[1:])
ALKALINE = (
    "pH, 7.9, 1:1 soil:water",
    "Free lime, 2.2 %, calcimeter",
    "Organic matter, 2.0 %, loss on ignition",
    "NO3-N, 5 ppm, KCl",
    "Phosphorus, 8 ppm, Olsen",
    "Potassium, 120 ppm, ammonium acetate",
    "EC, 1.0 dS/m, saturated paste",
)
RICH = (
    "pH, 7.6, saturated paste",
    "Free lime, 1.8 %, calcimeter",
    "EC, 1.8 dS/m, saturated paste",
    "Organic matter, 12 %, loss on ignition",
    "NO3-N, 10 ppm, KCl",
    "Phosphorus, 178 ppm, Olsen",
    "Potassium, 395 ppm, ammonium acetate",
)
SHED = (
    "blood meal",
    "feather meal",
    "steamed bone meal",
    "potassium sulfate",
    "calcitic lime",
    "dolomitic lime",
    "gypsum",
    "plant compost",
    "dairy manure compost",
    "urea",
    "triple superphosphate",
    "borax",
)


def with_result(results: tuple[str, ...], analyte: str, line: str | None) -> tuple[str, ...]:
    """The report with one line changed, added or (None) left out."""
    rest = tuple(each for each in results if not each.startswith(f"{analyte},"))
    return rest if line is None else (*rest, line)


def result_lines(results: tuple[str, ...]) -> str:
    lines = []
    for each in results:
        analyte, value, *method = (part.strip() for part in each.split(","))
        quoted = value if value.replace(".", "", 1).isdigit() else f'"{value}"'
        way = f', method = "{method[0]}"' if method else ""
        lines.append(f'  {{ analyte = "{analyte}", value = {quoted}{way} }},')
    return "\n".join(lines)


def garden_text(
    results: tuple[str, ...] | None = NEUTRAL,
    *,
    bed: str = BED,
    shed: tuple[str, ...] = SHED,
    crop: str = "tomato",
    want: str = "",
    limits: str = "",
    place: str = "",
    more: str = "",
    depth: str = "12 in",
) -> str:
    report = ""
    if results is not None:
        report = (
            '[[soil_report]]\nid = "fall"\nbeds = ["A"]\nsampled = 2026-10-15\n'
            f'depth = "{depth}"\nresults = [\n{result_lines(results)}\n]\n\n'
        )
    stock = "\n".join(f'[[stock]]\nmaterial = "{each}"\n' for each in shed)
    return (
        f'format = 2\n[garden]\nname = "Small"\n{place}\n[limits]\n{limits}\n\n'
        f'[[bed]]\nid = "A"\n{bed}\n{report}{stock}\n'
        f'[[want]]\ncrop = "{crop}"\nbeds = ["A"]\nset_out = 2027-05-10\n{want}\n\n{more}\n'
    )


def plan_of(text: str, as_of: date = AS_OF) -> SeasonPlan:
    document = load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, as_of)
    return season_plan(document, LIBRARY, as_of)


def bed_of(results: tuple[str, ...] | None = NEUTRAL, **rest) -> Prescription:
    """The prescription of the one bed of a small garden."""
    (bed,) = plan_of(garden_text(results, **rest)).beds
    return bed.prescription


def codes(bed: Prescription) -> set[str]:
    return {each.code for each in bed.findings}


def struck(bed: Prescription) -> dict[str, str]:
    return {each.material.key: each.code for each in bed.strikes}


def spread(bed: Prescription) -> dict[str, float]:
    """Mass per area of each material [kg/m2]."""
    return {line.material.key: line.per_area for line in bed.lines}


def credit(bed: Prescription, name: str) -> float | None:
    for each in bed.nitrogen.credits:
        if each.name.startswith(name):
            return each.value
    return None
