"""Season plans of the invented gardens."""

from datetime import date

import pytest

from bedwright.garden import Document
from bedwright.reference import Library
from bedwright.season import SeasonPlan, season_plan


@pytest.fixture(scope="session")
def kestrel_plan(kestrel_bend: Document, library: Library, as_of: date) -> SeasonPlan:
    return season_plan(kestrel_bend, library, as_of)


@pytest.fixture(scope="session")
def ennery_plan(ennery_flat: Document, library: Library, as_of: date) -> SeasonPlan:
    return season_plan(ennery_flat, library, as_of)
