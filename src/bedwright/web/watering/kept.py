"""The garden's water as the pages know it: from the plan, with the readings of this moment."""

from __future__ import annotations

import json
import tomllib
from datetime import date
from functools import lru_cache

from bedwright.garden.model_water import Readings
from bedwright.planning.watering.garden_water import GardenWater, water_on
from bedwright.season import SeasonPlan
from bedwright.web.drawn.kept import Kept
from bedwright.web.plan_store import keep_as, plan_key, stored_as, stored_plan
from bedwright.web.standing import Standing, files_digest

_KIND = "water"
_READ = ("gauge", "soil_moisture")
_days: Kept[GardenWater] = Kept(16)
_NONE = Readings()


def keep_water_of(standing: Standing) -> None:
    """Note that the plan of this revision holds its water. Raises OSError.

    Gauges and soil readings change a day's minutes and nothing of the season: a revision that
    differs in these alone has its water from the same plan.
    """
    keep_as(_key(standing), _KIND, standing.key)


def water_plan(standing: Standing) -> SeasonPlan | None:
    """A plan whose water holds for this revision; None while there is none."""
    plan = standing.plan()
    if plan is not None:
        return plan
    key = stored_as(_key(standing), _KIND)
    return stored_plan(key) if isinstance(key, str) else None


def water_of(standing: Standing, on: date, readings: Readings = _NONE) -> GardenWater | None:
    """The garden's water on a day by the readings of the revision; None while there is none.

    Parameters
    ----------
    standing : the revision
    on : the day to be watered
    readings : beside those of the document
    """
    plan = water_plan(standing)
    water = None if plan is None else plan.water
    if plan is None or water is None:
        return None
    library = plan.library
    return _days.made(
        (_key(standing), standing.key, on, readings.model_dump_json()),
        lambda: water_on(water, standing.document, on, library, readings),
    )


def _key(standing: Standing) -> str:
    files = files_digest(standing.garden)
    return plan_key(_without_readings(standing.stated.text), files, standing.as_of,
                    standing.journal)  # fmt: skip


@lru_cache(maxsize=16)
def _without_readings(text: str) -> str:
    stated = {key: each for key, each in tomllib.loads(text).items() if key not in _READ}
    return json.dumps(stated, sort_keys=True, default=str)
