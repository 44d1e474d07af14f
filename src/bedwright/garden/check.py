"""What the parts of a garden document say of one another, and what its names stand for."""

from __future__ import annotations

import difflib
import re
from collections import Counter
from datetime import date
from pathlib import Path
from typing import Any

from bedwright.garden.check_compare import check_compare
from bedwright.garden.check_layout import check_layout
from bedwright.garden.check_rotation import check_rotation
from bedwright.garden.check_standing import check_standing
from bedwright.garden.check_supply import check_supply
from bedwright.garden.check_water import check_water
from bedwright.garden.check_weather import check_weather
from bedwright.garden.check_work import check_work
from bedwright.garden.checked import Checked
from bedwright.garden.crop_names import resolve_crops
from bedwright.garden.failed import check_failed, failed_wants
from bedwright.garden.faults import GardenError
from bedwright.garden.faults import Path as FieldPath
from bedwright.garden.model import Garden, Result, Want
from bedwright.garden.names import own_materials, resolve_names
from bedwright.garden.results import ReadResult, ResultError, needs_method, read_result
from bedwright.garden.soil_csv import read_soil_csv
from bedwright.reference import Library
from bedwright.reference.library import fold, texture_key


def cross_check(
    garden: Garden, data: dict[str, Any], library: Library, folder: Path, as_of: date
) -> Checked:
    """Check references, dates and names. ``data`` is the raw document, faulty parts included."""
    checked = Checked()
    _ids(garden, checked)
    _beds(garden, data, checked)
    check_layout(garden, checked)
    _dates(garden, checked, as_of)
    _money(garden, checked)
    own_materials(garden, library, checked)
    resolve_names(garden, library, checked)
    resolve_crops(garden, library, checked)
    check_rotation(garden, library, checked)
    check_failed(garden, checked, as_of)
    check_standing(garden, checked, as_of)
    check_supply(garden, checked, as_of)
    check_compare(garden, checked, as_of)
    check_water(garden, checked, as_of)
    check_work(garden, library, checked, as_of)
    _textures(garden, library, checked)
    _zones(garden, checked)
    _feedstocks(garden, library, checked)
    _same_day(garden, checked)
    _soil_reports(garden, library, folder, checked)
    check_weather(garden, library, folder, checked)
    for at, report in enumerate(garden.water_report):
        base: FieldPath = ("water_report", at, "results")
        checked.water[report.id] = tuple(_results(report.results, base, library, checked, False))
    return checked


def _ids(garden: Garden, checked: Checked) -> None:
    named = "block bed soil_report water_report water_zone heap compost_report structure".split()
    for name in named:
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
    taken: dict[tuple[str, str | None], int] = {}
    lost = failed_wants(garden)
    twice: set[str] = set()
    for at, want in enumerate(garden.want):
        for place, word in enumerate(want.beds):
            if (at, word) in lost:
                continue
            # two crops in a year are one of the spring and one of the late summer, or of two days
            turns = (want.turn,) if want.turn is not None else (None, "spring", "late summer")
            others = {taken[(word, turn)] for turn in turns if (word, turn) in taken}
            if want.turn is not None and (word, None) in taken:
                others.add(taken[(word, None)])
            others -= {each for each in others if _follow_by_day(garden.want[each], want)}
            has_two, wanted = word in twice, any(word == bed_id for bed_id, _ in taken)
            if wanted:
                twice.add(word)
            if others or has_two:
                checked.fault(
                    ("want", at, "beds", place),
                    f"bed {word!r} is wanted for two crops",
                    'One crop for each bed, or one with turn = "spring" and one with turn = '
                    '"late summer"; two of one turn each with set_out.',
                )
            taken.setdefault((word, want.turn), at)


def _follow_by_day(one: Want, other: Want) -> bool:
    """Whether two wants of one turn of the year follow each other by the days that they state."""
    stated = one.set_out is not None and other.set_out is not None
    return (
        one.turn is not None
        and one.turn == other.turn
        and stated
        and (one.set_out != other.set_out)
    )


def _dates(garden: Garden, checked: Checked, as_of: date) -> None:
    past: list[tuple[FieldPath, date | None]] = []
    for at, report in enumerate(garden.soil_report):
        past.append((("soil_report", at, "sampled"), report.sampled))
    for at, water in enumerate(garden.water_report):
        past.append((("water_report", at, "sampled"), water.sampled))
    for at, stock in enumerate(garden.stock):
        past.append((("stock", at, "counted"), stock.counted))
    for at, compost in enumerate(garden.compost_report):
        past.append((("compost_report", at, "sampled"), compost.sampled))
    for at, heap in enumerate(garden.heap):
        past += [(("heap", at, "readings", n, "on"), r.on) for n, r in enumerate(heap.readings)]
        past += [(("heap", at, "turned", n), day) for n, day in enumerate(heap.turned)]
    for at, reading in enumerate(garden.weather.reading if garden.weather is not None else ()):
        past.append((("weather", "reading", at, "on"), reading.on))
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


def _textures(garden: Garden, library: Library, checked: Checked) -> None:
    known = {row["texture"]: row["name"].lower() for row in library.rows("textures")}
    stated = [("bed", at, each.texture) for at, each in enumerate(garden.bed)]
    stated += [("soil_report", at, each.texture) for at, each in enumerate(garden.soil_report)]
    for name, at, texture in stated:
        if texture is not None and texture_key(texture) not in known:
            checked.fault(
                (name, at, "texture"),
                f"{texture!r} is not a texture",
                f"Textures: {', '.join(known.values())}.",
            )


def _zones(garden: Garden, checked: Checked) -> None:
    zones = {bed.water_zone for bed in garden.bed if bed.water_zone is not None}
    for at, report in enumerate(garden.water_report):
        for place, zone in enumerate(report.water_zones or []):
            if zone not in zones:
                checked.fault(
                    ("water_report", at, "water_zones", place),
                    f"no bed lies in the water zone {zone!r}",
                    f"Zones: {', '.join(sorted(zones)) or 'none'}.",
                )


def _feedstocks(garden: Garden, library: Library, checked: Checked) -> None:
    """A feedstock that the tables don't know must state what the recipe needs of it."""
    names: dict[str, str] = {}
    for row in library.rows("compost_feedstocks"):
        names[fold(row["feedstock"])] = names[fold(row["name"])] = row["name"].lower()
    for at, heap in enumerate(garden.heap):
        for place, each in enumerate(heap.feedstocks):
            stated = {"moisture": each.moisture, "nitrogen": each.nitrogen, "carbon": each.carbon}
            missing = [name for name, share in stated.items() if share is None]
            if fold(each.feedstock) in names or not missing:
                continue
            near = difflib.get_close_matches(fold(each.feedstock), list(names), n=3, cutoff=0.5)
            hint = ", ".join(dict.fromkeys(names[word] for word in near))
            checked.fault(
                ("heap", at, "feedstocks", place, "feedstock"),
                f"{each.feedstock!r} is not a known feedstock",
                f"{f'Nearest: {hint}. Or state' if hint else 'State'} its {' and '.join(missing)}.",
            )


def _same_day(garden: Garden, checked: Checked) -> None:
    seen: dict[tuple[str, date], str] = {}
    for at, report in enumerate(garden.soil_report):
        for bed in report.beds:
            other = seen.setdefault((bed, report.sampled), report.id)
            if other != report.id:
                checked.fault(
                    ("soil_report", at, "sampled"),
                    f"bed {bed!r} has two soil reports of {report.sampled}, this and {other!r}",
                    "The newest counts, so their days must differ; leave one out.",
                )


def _money(garden: Garden, checked: Checked) -> None:
    currency = garden.garden.currency
    stated = [(("stock", at, "price"), each.price) for at, each in enumerate(garden.stock)]
    stated += [(("supply", at, "price"), each.price) for at, each in enumerate(garden.supply)]
    stated += [(("crop", at, "price"), each.price) for at, each in enumerate(garden.crop)]
    price = None if garden.watering is None else garden.watering.price
    whole = [(("limits", "budget"), garden.limits.budget), (("watering", "price"), price)]
    for path, money in [*stated, *whole]:
        if money is not None and not _currencies(money.text.partition("/")[0]) <= _SIGNS.get(
            currency, {currency}
        ):
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
                of_water=not soil,
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
