"""Charts of the invented garden, as its gardener would get them."""

from datetime import date

import pytest

from bedwright.charts.ledger_chart import ledger_chart
from bedwright.charts.release_chart import release_chart
from bedwright.garden import Document
from bedwright.garden.model_climate import Climate
from bedwright.planning.bed_ledger import BedLedger, bed_ledger
from bedwright.planning.ledger_entries import crop_name
from bedwright.planning.own import library_of
from bedwright.planning.prescription import prescribe
from bedwright.planning.supply import NitrogenCourse, nitrogen_course
from bedwright.reference import Library
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.units import UnitSystem

WARM = Climate(soil_temperature=[f"{t} C" for t in (2, 3, 7, 12, 17, 21, 25, 24, 19, 13, 7, 3)])


@pytest.fixture(scope="session")
def own(kestrel_bend: Document, library: Library) -> Library:
    return library_of(kestrel_bend, library)


@pytest.fixture(scope="session")
def courses(kestrel_bend: Document, own: Library, as_of: date) -> dict[str, NitrogenCourse]:
    beds = {bed.id: bed for bed in kestrel_bend.garden.bed}
    return {
        bed: nitrogen_course(
            prescribe(kestrel_bend, want, at, beds[bed], own, as_of), WARM, None, own
        )
        for at, want in enumerate(kestrel_bend.garden.want)
        for bed in want.beds
    }


@pytest.fixture(scope="session")
def ledger(kestrel_bend: Document, own: Library) -> BedLedger:
    return bed_ledger(kestrel_bend, own)


@pytest.fixture(scope="session")
def release(courses, own):
    def draw(bed: str, system: UnitSystem = UnitSystem.US, width: int = 640):
        course = courses[bed]
        names = {"feather_meal": "feather meal"}
        return release_chart(
            course, crop_name(own, course.crop), names, system, CHART_WORDS, width=width
        )

    return draw


@pytest.fixture(scope="session")
def of_ledger(ledger):
    def draw(bed: str, system: UnitSystem = UnitSystem.US, width: int = 640):
        return ledger_chart(ledger, bed, system, CHART_WORDS, width=width)

    return draw
