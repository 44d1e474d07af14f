"""The same garden gives the same plan: twice, in another order of hashes, in other units."""

import json
import os
import subprocess
import sys

import pytest

GARDEN = """
format = 2
[garden]
name = "Small"
units = "UNITS"

[[bed]]
id = "A"
texture = "silt loam"
outline = [["0 ft", "0 ft"], ["4 ft", "0 ft"], ["4 ft", "20 ft"], ["0 ft", "20 ft"]]

[[bed]]
id = "B"
texture = "silt loam"
outline = [["6 ft", "0 ft"], ["10 ft", "0 ft"], ["10 ft", "20 ft"], ["6 ft", "20 ft"]]

[[stock]]
material = "blood meal"
package = "5 lb"
price = "12 USD"
[[stock]]
material = "steamed bone meal"
package = "10 lb"
on_hand = "3 lb"
[[stock]]
material = "potassium sulfate"
package = "25 lb"

[[want]]
crop = "tomato"
companion = "lettuce"
beds = ["A"]
set_out = 2027-05-10

[[want]]
crop = "onion"
beds = ["B"]
set_out = 2027-04-05

[[standing]]
bed = "A"
crop = "kale"
since = 2026-08-20

[[wish]]
crop = "carrot"
beds = 1
[[wish]]
crop = "lettuce"
a_week = "2 lb"
from_day = "06-01"
to_day = "07-15"

[rotation]
years = 2

[work]
hours_per_week = 3
bench_trays = 2
"""
MAKE = """
import json, sys
from datetime import date
from pathlib import Path
from bedwright.garden.load import load_text
from bedwright.reference import Library
from bedwright.reports.plan_json import plan_dict
from bedwright.reports.text import plan_text
from bedwright.season import season_plan
library, as_of = Library(), date(2027, 2, 1)
for text in json.load(sys.stdin):
    document = load_text(text, "garden.toml", Path("/nonexistent"), library, as_of)
    plan = season_plan(document, library, as_of)
    print(json.dumps([json.dumps(plan_dict(plan)), plan_text(plan)]))
"""


def made(hash_seed: str) -> list[tuple[str, str]]:
    """JSON and text of the plan in US units and in metric ones, from a process of its own."""
    texts = [GARDEN.replace("UNITS", units) for units in ("US customary", "metric")]
    run = subprocess.run(
        [sys.executable, "-c", MAKE],
        input=json.dumps(texts),
        env={**os.environ, "PYTHONHASHSEED": hash_seed},
        capture_output=True,
        text=True,
        check=True,
        timeout=300,
    )
    lines = [each for each in run.stdout.splitlines() if each.startswith("[")]
    return [tuple(json.loads(each)) for each in lines]


@pytest.fixture(scope="module")
def once(made_once) -> list[tuple[str, str]]:
    return made_once("same_plan", lambda: made("1"))


def test_two_runs_give_the_same_bytes(once):
    assert made("4711") == once


def test_the_plan_holds_what_could_differ(once):
    plan = json.loads(once[0][0])

    assert plan["years"]["placements"]
    assert plan["work"]["tasks"]
    assert plan["purchases"]["items"]
    assert plan["turnover"]


def test_other_units_change_words_and_no_figure(once):
    (us, us_text), (metric, metric_text) = once
    first, second = json.loads(us), json.loads(metric)
    assert first.pop("garden") == {**second.pop("garden"), "units": "US customary"}

    assert first == second
    assert us_text != metric_text
    assert " lb" in us_text
    assert " kg" in metric_text
