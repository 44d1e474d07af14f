"""Small gardens for plans of years, written inline."""

from datetime import date
from pathlib import Path

from bedwright.garden import Document
from bedwright.garden.load import load_text
from bedwright.planning.assignment.build import Question, question
from bedwright.reference import Library

LIBRARY = Library()
AS_OF = date(2026, 11, 25)
HEAD = 'format = 2\n[garden]\nname = "A garden"\nunits = "{units}"\nlatitude = "{latitude}"\n'
WEATHER = """
[weather.monthly]
t_max = ["4.5 C", "8.5 C", "14 C", "19 C", "24.5 C", "29.5 C", "34 C", "33.5 C", "28 C", "19.5 C", "10.5 C", "4.5 C"]
t_min = ["-3.5 C", "-2 C", "0.8 C", "4.2 C", "8.4 C", "12.2 C", "15.4 C", "14.6 C", "10 C", "4.2 C", "-0.2 C", "-3.2 C"]
t_max_sd = ["5 C", "5 C", "4.5 C", "5 C", "5 C", "5 C", "4 C", "4 C", "4.7 C", "4.6 C", "4.7 C", "5 C"]
t_min_sd = ["5 C", "4.4 C", "3.5 C", "3.5 C", "3.6 C", "3.4 C", "3 C", "3 C", "3.5 C", "3.9 C", "4.3 C", "5 C"]
rain = ["26 mm", "20 mm", "18 mm", "16 mm", "18 mm", "14 mm", "5 mm", "6 mm", "10 mm", "17 mm", "26 mm", "27 mm"]
wet_days = [9, 7, 7, 6, 6, 4, 2, 2, 3, 5, 9, 10]
radiation = ["5 MJ/m2", "8.5 MJ/m2", "13.5 MJ/m2", "18.5 MJ/m2", "22.5 MJ/m2", "25.5 MJ/m2", "27 MJ/m2", "23 MJ/m2", "17.5 MJ/m2", "11 MJ/m2", "6 MJ/m2", "4.2 MJ/m2"]
years = 20
seed = 1
"""  # noqa: E501
NO_EXTRAS = "[rotation]\n{more}\n[rotation.weights]\nrest = 0\nnear = 0\n"


def beds(*ids: str, parts: int = 1) -> str:
    """Beds of one size, 50 ft by 4 ft."""
    return "".join(
        f'[[bed]]\nid = "{each}"\nlength = "50 ft"\nwidth = "4 ft"\n'
        + (f"parts = {parts}\n" if parts > 1 else "")
        for each in ids
    )


def grew(bed: str, *seasons: tuple[int, str]) -> str:
    """The history of a bed."""
    return "".join(
        f'[[history]]\nbed = "{bed}"\nyear = {year}\ncrop = "{crop}"\n' for year, crop in seasons
    )


def document_of(
    body: str, *, weather: bool = False, units: str = "US customary", latitude: str = "46 N"
) -> Document:
    """A garden from what stands below its head."""
    text = HEAD.format(units=units, latitude=latitude) + body + (WEATHER if weather else "")
    return load_text(text, "garden.toml", Path(), LIBRARY, AS_OF)


def asked(body: str, *, weather: bool = False, **settings: object) -> Question:
    """The question that such a garden puts."""
    latitude = str(settings.pop("latitude", "46 N"))
    made = document_of(body, weather=weather, latitude=latitude)
    return question(made, LIBRARY, AS_OF, **settings)  # type: ignore[arg-type]


def may(question_: Question, bed: str, crop: str, year: int) -> bool:
    """Whether a crop may stand on a bed in a year, by everything that is decided beforehand."""
    setting = question_.setting
    return any(
        question_.problem.allowed[unit, at]
        for unit, place in enumerate(setting.units)
        if place.bed == bed
        for at, option in enumerate(setting.options)
        if setting.crop(at).id == crop and option.year == year
    )
