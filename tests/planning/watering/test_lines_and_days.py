"""Flow of lines, soil by feel and texture, and usual days corrected by what was read."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from bedwright.garden.load import load_text
from bedwright.garden.model_water import Gauge, SoilMoisture
from bedwright.planning.evidence import evidence
from bedwright.planning.timing import garden_dates
from bedwright.planning.watering.ground import bed_soil, left_share
from bedwright.planning.watering.lines import zone_lines
from bedwright.planning.watering.weather_days import season_days, warmth_ratio, water_weather

GALLON_L = 3.785411784
BED = (
    '[[bed]]\nid = "A1"\nlength = "25 ft"\nwidth = "4 ft"\n'
    'texture = "{texture}"\nwater_zone = "drip"\n'
)


def garden(library, as_of, zone: str = "", texture: str = "loam", more: str = ""):
    text = f'format = 2\n\n[garden]\nname = "x"\n\n{BED.format(texture=texture)}{more}\n{zone}'
    return load_text(text, "garden.toml", Path(), library, as_of)


def lines_of(library, as_of, zone: str, apart: dict[str, float] | None = None):
    document = garden(library, as_of, f'[[water_zone]]\nid = "drip"\n{zone}')
    return zone_lines(document, library, apart or {})["drip"]


def test_four_lines_of_8_inch_emitters_on_a_25_foot_bed_give_50_gallons_an_hour(library, as_of):
    # Teaching organic farming and gardening, irrigation, exercise 3: 150 emitters of 0.334 gph
    found = lines_of(library, as_of, 'lines = 4\nemitter_flow = "0.334 gal/h"\n'
                     'emitter_spacing = "8 in"\nuniformity = "100 %"\n')  # fmt: skip

    assert found.flow_l_h / GALLON_L == pytest.approx(50.1, abs=0.05)


def test_flow_goes_with_the_square_root_of_pressure(library, as_of):
    zone = 'lines = 1\nemitter_flow = "1 gal/h"\nemitter_spacing = "12 in"\n'
    full = lines_of(library, as_of, zone)
    low = lines_of(library, as_of, zone + 'rated_pressure = "16 psi"\npressure = "9 psi"\n')

    assert low.flow_l_h / full.flow_l_h == pytest.approx(0.75)


def test_cups_outrank_the_printed_flow_and_tell_how_even_it_is(library, as_of):
    zone = (
        'lines = 1\nemitter_flow = "1 gal/h"\nemitter_spacing = "12 in"\n'
        'catch_cups = { time = "2 min", caught = ["40 ml", "50 ml", "50 ml", "60 ml"] }\n'
    )
    found = lines_of(library, as_of, zone)

    assert found.beds[0].measured
    assert found.flow_l_h == pytest.approx(25 * 50 / 1000 * 30)
    assert found.beds[0].uniformity.value == pytest.approx(40 / 50)
    assert "cups_outrank_print" in {each.code for each in found.findings}


def test_a_metered_zone_shares_its_flow_by_the_length_of_the_lines(library, as_of):
    bed = '\n[[bed]]\nid = "A2"\nlength = "75 ft"\nwidth = "4 ft"\nwater_zone = "drip"\n'
    zone = '[[water_zone]]\nid = "drip"\nlines = 1\nflow = "100 gal/h"\n'
    found = zone_lines(garden(library, as_of, zone, more=bed), library, {})["drip"]

    assert [round(each.flow.value / GALLON_L) for each in found.beds] == [25, 75]


@pytest.mark.parametrize(
    ("zone", "apart", "lines"),
    [
        ("", {"A1": 24 * 0.0254}, 2),  # a line to a row
        ("", {"A1": 4 * 0.0254}, 4),  # rows closer than a foot: lines a foot apart
        ('line_spacing = "18 in"\n', {}, 3),
    ],
)
def test_lines_lie_along_rows_or_evenly(library, as_of, zone: str, apart, lines: int):
    drips = 'emitter_flow = "1 gal/h"\nemitter_spacing = "12 in"\n'
    found = lines_of(library, as_of, zone + drips, apart)

    assert found.beds[0].count == lines
    assert found.beds[0].length_m == pytest.approx(lines * 25 * 0.3048)


def test_a_zone_without_flow_says_how_to_get_it(library, as_of):
    found = lines_of(library, as_of, "lines = 2\n")

    assert found.beds == ()
    assert found.findings[-1].code == "zone_no_flow"


@pytest.mark.parametrize(
    ("texture", "low", "high"),
    [("sand", 0.03, 0.11), ("sandy loam", 0.09, 0.15), ("silt loam", 0.13, 0.23)],
)  # FAO-56 Table 19, with room for the organic matter that it does not know
def test_a_finer_soil_holds_more_water(library, as_of, texture: str, low: float, high: float):
    document = garden(library, as_of, texture=texture)
    soil = bed_soil(evidence(document, document.garden.bed[0], library), library)

    assert low <= soil.field_capacity.value - soil.wilting_point.value <= high
    assert soil.readily_evaporable_m < soil.total_evaporable_m


def test_a_ball_with_finger_marks_has_half_to_three_quarters_of_its_water(library, as_of):
    document = garden(library, as_of)
    soil = bed_soil(evidence(document, document.garden.bed[0], library), library)
    felt = SoilMoisture.model_validate({"bed": "A1", "on": date(2026, 7, 1), "feel": "moist"})

    assert left_share(felt, soil, library).value == pytest.approx(0.625)


@pytest.fixture(scope="module")
def weather(kestrel_bend, library, as_of):
    record = garden_dates(kestrel_bend, library, as_of).weather.record
    return water_weather(record, kestrel_bend.garden.garden.elevation.si, library)


START = date(2027, 7, 1)


def gauge(day: int, **read: str) -> Gauge:
    return Gauge.model_validate({"on": date(2027, 7, day), **read})


def test_a_hot_dry_valley_uses_6_to_8_mm_a_day_in_july(weather):
    days = season_days(weather, START, 31, [])

    assert weather.dry
    assert 0.006 < days.et0_m.mean() < 0.008
    assert weather.error_m < 0.0012


def test_rain_read_is_taken_and_days_between_readings_count_as_dry(weather):
    usual = season_days(weather, START, 31, [])
    days = season_days(weather, START, 31, [gauge(5, rain="12 mm"), gauge(10, rain="0 mm")])

    assert days.rain_m[4] == pytest.approx(0.012)
    assert np.all(days.rain_m[5:10] == 0)
    assert np.array_equal(days.rain_m[11:], usual.rain_m[11:])


def test_readings_far_apart_leave_the_days_between_usual(weather):
    usual = season_days(weather, START, 31, [])
    days = season_days(weather, START, 31, [gauge(2, rain="1 mm"), gauge(25, rain="1 mm")])

    assert np.array_equal(days.rain_m[5:20], usual.rain_m[5:20])


def test_a_hotter_day_uses_more(weather):
    usual = season_days(weather, START, 31, [])
    days = season_days(weather, START, 31, [gauge(15, t_max="41 C")])

    assert days.et0_m[14] > 1.1 * usual.et0_m[14]
    assert np.array_equal(np.delete(days.et0_m, 14), np.delete(usual.et0_m, 14))
    # Hargreaves: (T + 17.8) x sqrt(range)
    ratio = warmth_ratio(weather, date(2027, 7, 15), (41.0, 15.0), (33.0, 15.0))
    assert ratio == pytest.approx((28 + 17.8) / (24 + 17.8) * (26 / 18) ** 0.5)
