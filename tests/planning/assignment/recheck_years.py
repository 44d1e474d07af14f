"""A plan of years read with nothing but the standard library: does it keep the rules it was given?

It shares no code with the engine: the document is read as TOML, the families from the table's own
text, the plan as the JSON that is printed.
"""

import csv
import math
import tomllib
from collections import defaultdict
from datetime import date
from importlib import resources
from itertools import pairwise


def _table(name: str) -> list[dict[str, str]]:
    text = (
        resources.files("bedwright.reference").joinpath("tables", f"{name}.csv").read_text("utf-8")
    )
    return list(csv.DictReader(text.splitlines()))


CROPS = {row["crop"]: row for row in _table("crops")}
_NAMES = {row["phrase"].lower(): row["crop"] for row in _table("crop_names")}
for _row in CROPS.values():
    _NAMES.setdefault(_row["name"].lower(), _row["crop"])
    _NAMES.setdefault(_row["crop"].replace("_", " "), _row["crop"])


def _key(word: str) -> str:
    return word if word in CROPS else _NAMES[word.lower()]


def _typical(row: dict[str, str]) -> float:
    known = [float(row[end]) for end in ("low", "high") if row[end]]
    return float(row["typical"]) if row["typical"] else sum(known) / len(known)


def family(word: str) -> str:
    """The family of a crop, by its key or by a name."""
    return CROPS[_key(word)]["family"]


def faults(text: str, plan: dict) -> list[str]:
    """Everything in which a plan breaks the rules of its document; a settled crop breaks none."""
    garden = tomllib.loads(text)
    return [
        *_overlaps(plan),
        *_families(garden, plan),
        *_diseases(garden, plan),
        *_reasons(plan),
        *_settled(garden, plan),
        *_wishes(garden, plan),
    ]


def _by_unit(plan: dict) -> dict[tuple, list[dict]]:
    found = defaultdict(list)
    for each in plan["placements"]:
        found[each["bed"], each["part"]].append(each)
    return found


def _overlaps(plan: dict) -> list[str]:
    said = []
    for unit, own in _by_unit(plan).items():
        spans = sorted((each["holds"][0], each["holds"][1], each["id"]) for each in own)
        for one, other in pairwise(spans):
            if other[0] < one[1]:
                said.append(f"{unit}: {one} and {other} share days")
    for each in plan["placements"]:
        days = [each["on"], each["first_harvest"], each["last_harvest"], each["holds"][1]]
        known = [date.fromisoformat(day) for day in days if day is not None]
        if known != sorted(known):
            said.append(f"{each['bed']} {each['id']}: days out of order: {days}")
        if each["first_harvest"] and int(each["first_harvest"][:4]) != each["year"]:
            said.append(
                f"{each['bed']} {each['id']}: harvested in another year than {each['year']}"
            )
    return said


def _away(garden: dict) -> tuple[int, dict[str, int]]:
    rotation = garden.get("rotation", {})
    names = {row["phrase"].lower(): row["family"] for row in _table("family_names")}
    names |= {row["family"].lower(): row["family"] for row in CROPS.values()}
    own = {names[word.lower()]: years for word, years in rotation.get("away", {}).items()}
    return rotation.get("years_away", 3), own


def _families(garden: dict, plan: dict) -> list[str]:
    usual, own = _away(garden)
    said = []
    parts = {bed["id"]: bed.get("parts", 1) for bed in garden["bed"]}
    history = defaultdict(list)
    for season in garden.get("history", []):
        if "crop" in season:
            every = range(1, parts[season["bed"]] + 1) if parts[season["bed"]] > 1 else [None]
            for part in (
                [season["part"]] if "part" in season and parts[season["bed"]] > 1 else every
            ):
                history[season["bed"], part].append((season["year"], family(season["crop"])))
    for unit, placed in _by_unit(plan).items():
        crops = [each for each in placed if each["life"] != "plastic"]
        for each in crops:
            kin = family(each["crop"])
            away = own.get(kin, usual)
            others = [(y, f, False) for y, f in history[unit]]
            others += [(x["year"], family(x["crop"]), x["settled"] is not None)
                       for x in crops if x is not each]  # fmt: skip
            for year, other, other_settled in others:
                near = other == kin and abs(year - each["year"]) <= away
                if near and each["settled"] is None:
                    said.append(f"{unit}: {each['id']} {each['year']} after {kin} of {year}")
                if near and each["settled"] is not None and other_settled:
                    said.append(f"{unit}: two settled of {kin}, {each['year']} and {year}")
    return said


def _diseases(garden: dict, plan: dict) -> list[str]:
    problems = {row["problem"]: row for row in _table("soil_borne")}
    named = {row["name"].lower(): key for key, row in problems.items()}
    named |= {key.replace("_", " "): key for key in problems}
    said = []
    for each in garden.get("bed_problem", []):
        key = named[each["problem"].lower().replace("_", " ")]
        used = [x for x in _table("soil_borne_years") if x["problem"] == key and x["use"] == "yes"]
        banned = {row["host"] for row in used if row["ban"] == "yes"}
        hosts = {}
        for row in _table("soil_borne_hosts"):
            if row["problem"] == key and row["use"] == "yes":
                crops = [c for c, x in CROPS.items() if x["family"] == row["host"]]
                for crop in crops if row["host_kind"] == "family" else [row["host"]]:
                    if row["host_kind"] == "crop" or crop not in hosts:
                        hosts[crop] = row["relation"]
        fed = {crop for crop, how in hosts.items() if how in ("host", "symptomless")}
        years = {x["host"]: math.ceil(_typical(x)) for x in used if x["ban"] != "yes"}
        for bed in each["beds"]:
            past = [x["year"] for x in garden.get("history", [])
                    if x["bed"] == bed and "part" not in x and "crop" in x
                    and _key(x["crop"]) in fed]  # fmt: skip
            last = max([each["found"], *past])
            for placed in plan["placements"]:
                if placed["bed"] != bed or hosts.get(placed["crop"]) != "host":
                    continue
                if placed["settled"] is not None:
                    continue
                wait = years.get(placed["crop"], years.get("", -1))
                if ("" in banned and placed["crop"] not in years) or placed["crop"] in banned:
                    said.append(f"{bed}: {placed['id']} where {key} is")
                if placed["year"] - last <= wait:
                    said.append(f"{bed}: {placed['id']} {placed['year']}, {key} of {last}")
    return said


def _reasons(plan: dict) -> list[str]:
    said = [f"{each['bed']} {each['year']}: no reason" for name in ("placements", "rests")
            for each in plan[name] if not each["reasons"]]  # fmt: skip
    told = {(each["bed"], each["part"]) for name in ("placements", "rests") for each in plan[name]}
    return said + [f"{unit}: nothing is said of it" for unit in _units(plan) - told]


def _units(plan: dict) -> set[tuple]:
    return {(each["bed"], each["part"]) for each in plan["instead"]}


def _settled(garden: dict, plan: dict) -> list[str]:
    if plan["clashes"]:
        return []
    said = []
    for want in garden.get("want", []):
        for bed in want["beds"]:
            there = [x for x in plan["placements"] if x["bed"] == bed and x["settled"] is not None]
            day = want.get("set_out")
            if day is not None and day.year in plan["years"][:-1]:
                days = {x["on"] for x in there}
                if day.isoformat() not in days:
                    said.append(f"{bed}: {want['crop']} of {day} is not there")
    for pin in garden.get("pin", []):
        own = [x for x in plan["placements"] if x["bed"] == pin["bed"] and x["year"] == pin["year"]]
        if "crop" not in pin and own:
            said.append(f"{pin['bed']}: not free in {pin['year']}")
        if "crop" in pin and pin["year"] in plan["years"]:
            kinds = {family(x["crop"]) for x in own if x["life"] != "plastic"}
            if family(pin["crop"]) not in kinds:
                said.append(f"{pin['bed']}: {pin['crop']} is pinned and not there")
    return said


def _wishes(garden: dict, plan: dict) -> list[str]:
    """Beds that a wish got, counted anew."""
    said = []
    parts = {bed["id"]: bed.get("parts", 1) for bed in garden["bed"]}
    for met in plan["wishes"]:
        if met["measure"] != "beds" or "turn" in garden["wish"][met["wish"]]:
            continue
        beds = sum(
            1 / parts[each["bed"]]
            for each in plan["placements"]
            if each["id"] == met["id"]
            and (each["year"] == met["year"]
                 or (each["life"] == "perennial" and each["year"] <= met["year"]))
        )  # fmt: skip
        if abs(min(beds, met["wanted"]) - met["given"]) > 1e-6:
            said.append(f"wish {met['wish']} {met['year']}: {beds} beds, told {met['given']}")
        if met["must"] and not plan["clashes"] and met["short"] > 1e-6:
            said.append(f"wish {met['wish']} {met['year']} must be met and is not")
    return said
