"""What the parts of a garden document say of one another, and what its names stand for."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from bedwright.garden.faults import GardenError
from bedwright.garden.faults import Path as FieldPath
from bedwright.garden.model import Garden, Result
from bedwright.garden.results import ReadResult, ResultError, needs_method, read_result
from bedwright.garden.soil_csv import read_soil_csv
from bedwright.reference import Library, UnknownName

Found = tuple[
    str, int, FieldPath, str, str
]  # file ("" for the document), line, path, problem, remedy

# A material's own analysis: the properties of docs/tables.md that a bag prints.
ANALYSIS = frozenset(
    "n_total p2o5_total k2o_total p2o5_available k2o_available ca mg s c na cl b zn fe mn cu"
    " calcium_carbonate_equivalent organic_n ammonium_n".split()
)


@dataclass
class Checked:
    """The outcome of the cross-check: faults, results by report, and table keys by path."""

    faults: list[Found] = field(default_factory=list)
    soil: dict[str, tuple[ReadResult, ...]] = field(default_factory=dict)
    water: dict[str, tuple[ReadResult, ...]] = field(default_factory=dict)
    keys: dict[FieldPath, str] = field(default_factory=dict)

    def fault(self, path: FieldPath, problem: str, remedy: str = "") -> None:
        """Note a fault of the document."""
        self.faults.append(("", 0, path, problem, remedy))


def cross_check(
    garden: Garden, data: dict[str, Any], library: Library, folder: Path, as_of: date
) -> Checked:
    """Check references, dates and names. ``data`` is the raw document, faulty parts included."""
    checked = Checked()
    _ids(garden, checked)
    _beds(garden, data, checked)
    _dates(garden, checked, as_of)
    _money(garden, checked)
    _own_materials(garden, library, checked)
    _names(garden, library, checked)
    _soil_reports(garden, library, folder, checked)
    for at, report in enumerate(garden.water_report):
        base: FieldPath = ("water_report", at, "results")
        checked.water[report.id] = tuple(_results(report.results, base, library, checked, False))
    return checked


def _ids(garden: Garden, checked: Checked) -> None:
    for name in ("block", "bed", "soil_report", "water_report"):
        seen: set[str] = set()
        for at, each in enumerate(getattr(garden, name)):
            if each.id.casefold() in seen:
                what = name.replace("_", " ")
                checked.fault(
                    (name, at, "id"),
                    f"there are two {what}s called {each.id!r}",
                    "Give each its own id.",
                )
            seen.add(each.id.casefold())


def _known(data: dict[str, Any], name: str) -> set[str]:
    items = data.get(name)
    return {
        str(each["id"]).strip()
        for each in (items if isinstance(items, list) else [])
        if isinstance(each, dict) and "id" in each
    }


def _beds(garden: Garden, data: dict[str, Any], checked: Checked) -> None:
    beds, blocks = _known(data, "bed"), _known(data, "block")

    def bed(path: FieldPath, word: str) -> None:
        if word not in beds:
            checked.fault(path, f"there is no bed {word!r}", f"Beds: {', '.join(sorted(beds))}.")

    for at, each in enumerate(garden.bed):
        if each.block is not None and each.block not in blocks:
            checked.fault(
                ("bed", at, "block"),
                f"there is no block {each.block!r}",
                f"Blocks: {', '.join(sorted(blocks)) or 'none'}.",
            )
    lists = [("soil_report", at, each.beds) for at, each in enumerate(garden.soil_report)]
    lists += [("want", at, each.beds) for at, each in enumerate(garden.want)]
    for name, at, named in lists:
        for place, word in enumerate(named):
            bed((name, at, "beds", place), word)
            if word in named[:place]:
                checked.fault((name, at, "beds", place), f"bed {word!r} stands here twice")
    for at, season in enumerate(garden.history):
        bed(("history", at, "bed"), season.bed)
    taken: dict[str, int] = {}
    for at, want in enumerate(garden.want):
        for place, word in enumerate(want.beds):
            if taken.setdefault(word, at) != at:
                checked.fault(
                    ("want", at, "beds", place),
                    f"bed {word!r} is wanted for two crops",
                    "One crop for each bed.",
                )


def _dates(garden: Garden, checked: Checked, as_of: date) -> None:
    past: list[tuple[FieldPath, date | None]] = []
    for at, report in enumerate(garden.soil_report):
        past.append((("soil_report", at, "sampled"), report.sampled))
    for at, water in enumerate(garden.water_report):
        past.append((("water_report", at, "sampled"), water.sampled))
    for at, stock in enumerate(garden.stock):
        past.append((("stock", at, "counted"), stock.counted))
    for at, season in enumerate(garden.history):
        if season.year > as_of.year:
            checked.fault(
                ("history", at, "year"),
                f"{season.year} lies in the future",
                "History is what has been.",
            )
        for place, applied in enumerate(season.applied):
            path: FieldPath = ("history", at, "applied", place, "on")
            past.append((path, applied.on))
            if abs(applied.on.year - season.year) > 1:
                checked.fault(path, f"{applied.on} does not belong to the season of {season.year}")
    for path, day in past:
        if day is not None and day > as_of:
            checked.fault(
                path,
                f"{day} lies after {as_of}, the day of reading",
                "Correct the date, or read as of a later day.",
            )


def _money(garden: Garden, checked: Checked) -> None:
    currency = garden.garden.currency
    stated = [(("stock", at, "price"), each.price) for at, each in enumerate(garden.stock)]
    for path, money in [*stated, (("limits", "budget"), garden.limits.budget)]:
        if money is not None and not _currencies(money.text) <= _SIGNS.get(currency, {currency}):
            checked.fault(
                path,
                f"{money.text!r} is not in the garden's currency {currency}",
                "State prices in one currency.",
            )


_DOLLAR = {"$", "DOLLAR", "DOLLARS"}
_SIGNS = {
    "USD": {"USD", *_DOLLAR},
    "AUD": {"AUD", *_DOLLAR},
    "CAD": {"CAD", *_DOLLAR},
    "NZD": {"NZD", *_DOLLAR},
    "EUR": {"EUR", "€", "EURO", "EUROS"},
    "GBP": {"GBP", "£"},
}


def _currencies(text: str) -> set[str]:
    return set(re.findall(r"[A-Z$€£]+", text.upper()))


def _own_materials(garden: Garden, library: Library, checked: Checked) -> None:
    for at, own in enumerate(garden.material):
        for name in own.analysis:
            if name not in ANALYSIS:
                checked.fault(
                    ("material", at, "analysis", name),
                    f"{name!r} is no analysis",
                    f"Analyses: {', '.join(sorted(ANALYSIS))}.",
                )
        share = sum(
            own.analysis[name].si
            for name in ("n_total", "p2o5_total", "k2o_total")
            if name in own.analysis
        )
        if share > 1 or any(
            each.si > 1
            for name, each in own.analysis.items()
            if name != "calcium_carbonate_equivalent"
        ):
            checked.fault(("material", at, "analysis"), "the analysis adds up to more than the bag")
        if own.like is not None:
            _resolve(library, checked, ("material", at, "like"), own.like, set())
        elif _is_new(library, own.material):
            checked.fault(
                ("material", at),
                f"{own.material!r} is not in the tables",
                "Add like, the material of the tables that it behaves like.",
            )


def _is_new(library: Library, word: str) -> bool:
    try:
        library.resolve("material_names", "material", word)
    except UnknownName:
        return True
    return False


def _resolve(library: Library, checked: Checked, path: FieldPath, word: str, own: set[str]) -> None:
    what = "crop" if path[-1] == "crop" else "material"
    if word in own:
        checked.keys[path] = word
        return
    try:
        checked.keys[path] = library.resolve(f"{what}_names", what, word)
    except UnknownName as unknown:
        nearest = f"Nearest: {', '.join(unknown.nearest)}." if unknown.nearest else ""
        checked.fault(path, f"{word!r} is not a known {what}", nearest)


def _names(garden: Garden, library: Library, checked: Checked) -> None:
    own = {each.material for each in garden.material if _is_new(library, each.material)}
    for at, material in enumerate(garden.material):
        if material.material not in own:
            _resolve(library, checked, ("material", at, "material"), material.material, own)
    for at, stock in enumerate(garden.stock):
        _resolve(library, checked, ("stock", at, "material"), stock.material, own)
    for at, season in enumerate(garden.history):
        if season.crop is not None:
            _resolve(library, checked, ("history", at, "crop"), season.crop, own)
        for place, applied in enumerate(season.applied):
            path: FieldPath = ("history", at, "applied", place, "material")
            _resolve(library, checked, path, applied.material, own)
    for at, mix in enumerate(garden.usual_mix):
        for place, part in enumerate(mix.parts):
            path = ("usual_mix", at, "parts", place, "material")
            _resolve(library, checked, path, part.material, own)
    for at, want in enumerate(garden.want):
        _resolve(library, checked, ("want", at, "crop"), want.crop, set())
        if want.compost is not None:
            path = ("want", at, "compost", "material")
            _resolve(library, checked, path, want.compost.material, own)


def _soil_reports(garden: Garden, library: Library, folder: Path, checked: Checked) -> None:
    for at, report in enumerate(garden.soil_report):
        base: FieldPath = ("soil_report", at)
        results = list(_results(report.results, (*base, "results"), library, checked, True))
        if report.file is not None:
            file = Path(report.file)
            if file.is_absolute() or ".." in file.parts:
                checked.fault(
                    (*base, "file"),
                    f"{report.file!r} lies outside the document's folder",
                    "Put the file beside the document.",
                )
            else:
                try:
                    results += read_soil_csv(folder / file, library)
                except GardenError as error:
                    checked.faults += [
                        (
                            each.file,
                            each.line,
                            (each.field,) if each.field else (),
                            each.problem,
                            each.remedy,
                        )
                        for each in error.faults
                    ]
        _once(results, base, checked)
        checked.soil[report.id] = tuple(results)


def _once(results: list[ReadResult], base: FieldPath, checked: Checked) -> None:
    seen = Counter((each.analyte, each.extractant, each.kind) for each in results)
    for (analyte, extractant, _), times in seen.items():
        if times > 1:
            method = f" by {extractant.replace('_', ' ')}" if extractant else ""
            checked.fault(
                (*base, "results"), f"{analyte.replace('_', ' ')}{method} stands {times} times"
            )


def _results(
    results: list[Result], base: FieldPath, library: Library, checked: Checked, soil: bool
) -> list[ReadResult]:
    found: list[ReadResult] = []
    for at, result in enumerate(results):
        path = (*base, at)
        try:
            read = read_result(
                library,
                result.analyte,
                result.value,
                result.unit,
                result.method,
                f"{base[0]} {base[1]}, {result.analyte}",
            )
        except ResultError as error:
            checked.fault((*path, error.field), error.problem, error.remedy)
            continue
        if soil and not read.extractant and needs_method(library, read.analyte):
            names = [
                row["name"]
                for row in library.rows("extractants")
                if read.analyte in row["analytes"].split()
            ]
            checked.fault(
                (*path, "method"),
                f"{result.analyte} has no method",
                f"The report names it; one of: {', '.join(names)}.",
            )
            continue
        found.append(read)
    return found
