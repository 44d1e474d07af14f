"""A sound document is read whole; an unsound one is told everything at once."""

import math
import re
import tomllib
from datetime import date
from importlib import resources
from pathlib import Path
from typing import get_args

import pytest
from pydantic import BaseModel

from bedwright.garden import GardenError, load
from bedwright.garden.model import CompostWish, Garden, Want
from bedwright.garden.model_climate import Climate, Watering
from bedwright.garden.model_heap import CompostReport, Feedstock, Heap, HeapReading
from bedwright.garden.model_rotation import BedProblem, OwnCrop, Pin, Rotation, Weights, Wish
from bedwright.garden.model_structure import Structure
from bedwright.garden.model_water import CatchCups, Gauge, SoilMoisture, WaterZone
from bedwright.garden.model_weather import Monthly
from bedwright.reference import Library
from bedwright.units import UnitSystem

FOOT, INCH, POUND, GALLON = 0.3048, 0.0254, 0.45359237, 0.003785411784


@pytest.fixture
def whole(folder: Path, library: Library, as_of: date):
    return load(folder / "whole.toml", library, as_of)


def test_every_part_of_a_document_is_read(whole):
    garden = whole.garden

    assert garden.garden.name == "North field"
    assert math.degrees(garden.garden.latitude.si) == pytest.approx(46.1)
    assert math.degrees(garden.garden.longitude.si) == pytest.approx(-119)
    assert garden.garden.units is UnitSystem.US
    assert [bed.id for bed in garden.bed] == ["A1", "R1", "L1"]
    assert garden.bed[1].fill_depth.si == pytest.approx(11 * INCH)
    assert math.degrees(garden.bed[1].long_axis.si) == pytest.approx(20)
    assert garden.soil_report[0].sampled == date(2026, 10, 3)
    assert garden.stock[1].on_hand.si == 0
    assert garden.stock[0].counted == date(2026, 11, 1)
    assert garden.history[0].applied[1].amount.kind == "mass_per_area"
    assert garden.want[0].compost.depth.si == pytest.approx(INCH)
    assert [part.amount.text for part in garden.usual_mix[0].parts] == ["2 lb", "3 lb 4 oz"]
    assert garden.limits.risk_accepted == 2
    assert garden.limits.tolerance.si == pytest.approx(0.1)


def test_the_warmth_of_the_months_is_read_in_either_unit(whole):
    climate = whole.garden.climate

    soil = [month.si - 273.15 for month in climate.soil_temperature]
    assert [round(celsius, 1) for celsius in soil] == [
        2.2, 3.3, 7.2, 12.2, 17.2, 21.1, 25, 23.9, 18.9, 12.8, 6.7, 3
    ]  # fmt: skip
    assert [round(month.si - 273.15) for month in climate.air_temperature] == [
        -1, 2, 7, 12, 17, 21, 25, 24, 19, 12, 5, 0
    ]  # fmt: skip
    assert climate.note == "made up"


def test_the_watering_is_read(whole):
    watering = whole.garden.watering

    assert watering.method == "drip"
    assert watering.wetted_share.si == pytest.approx(0.6)
    assert watering.weekly_drainage.si == pytest.approx(0.1 * INCH)
    assert watering.note == "two lines a bed"
    assert watering.flow.si == pytest.approx(8 * GALLON / 60)
    assert watering.hours == [(300, 600), (1170, 1320)]
    assert watering.price.si == pytest.approx(4 / (1000 * GALLON))


def test_a_water_zone_and_readings_are_read(whole):
    garden = whole.garden
    (zone,) = garden.water_zone

    assert (zone.id, zone.lines, zone.drinking_supply) == ("drip", 2, True)
    assert zone.emitter_flow.si == pytest.approx(0.5 * GALLON / 3600)
    assert zone.emitter_spacing.si == pytest.approx(12 * INCH)
    assert zone.pressure.si == pytest.approx(8 * 6894.757)
    assert [round(cup.si * 1e6) for cup in zone.catch_cups.caught] == [60, 58, 55, 62]
    assert zone.catch_cups.time.si == 120
    (gauge,) = garden.gauge
    assert (gauge.on, gauge.rain.si) == (date(2026, 7, 14), pytest.approx(0.012))
    felt, tense, shared = garden.soil_moisture
    assert (felt.bed, felt.feel) == ("A1", "moist")
    assert tense.tension.si == pytest.approx(25e3)
    assert shared.available.si == pytest.approx(0.6)


def test_a_heap_is_read_with_what_it_is_made_of_and_how_hot_it_was(whole):
    heap, bare = whole.garden.heap

    assert (heap.id, heap.system, heap.built) == (
        "behind the shed",
        "static aerated",
        date(2026, 9, 20),
    )
    assert heap.wanted.si == pytest.approx(500 * POUND)
    assert heap.turned == [date(2026, 9, 24), date(2026, 9, 28)]
    assert [(each.on, round(each.temperature.si - 273.15, 1)) for each in heap.readings] == [
        (date(2026, 9, 23), 57.8),
        (date(2026, 10, 4), 61.0),
    ]
    straw, haulm = heap.feedstocks
    assert (straw.feedstock, straw.origin, straw.note) == ("straw", "unknown", "bought")
    assert (straw.moisture, straw.nitrogen, straw.carbon) == (None, None, None)
    assert haulm.origin == "own"
    assert haulm.on_hand.si == pytest.approx(60 * POUND)
    assert [haulm.moisture.si, haulm.nitrogen.si, haulm.carbon.si] == pytest.approx(
        [0.15, 0.012, 0.43]
    )
    assert (bare.system, bare.built, bare.wanted) == ("windrow", None, None)
    assert (bare.feedstocks, bare.readings, bare.turned) == ([], [], [])


def test_a_compost_report_is_read(whole):
    (report,) = whole.garden.compost_report

    assert report.sampled == date(2026, 10, 5)
    assert report.ec.si == pytest.approx(0.42)  # S/m
    shares = (report.sodium, report.chloride, report.ammonium_n, report.nitrate_n,
              report.boron, report.boron_hot_water, report.germination)  # fmt: skip
    assert [each.si for each in shares] == pytest.approx(
        [0.0021, 0.003, 90e-6, 310e-6, 30e-6, 3e-6, 0.96]
    )
    assert (report.ph, report.c_to_n, report.respiration) == (7.6, 14.5, 3)
    assert whole.key("compost_report", 0, "material") == "yard mix"


def test_compost_is_wished_as_a_depth_or_as_a_range(whole):
    depth, range_ = (want.compost for want in whole.garden.want)

    assert depth.range_m == pytest.approx((INCH, INCH))
    assert range_.depth is None
    assert range_.range_m == pytest.approx((INCH / 4, INCH))


def test_a_range_without_least_begins_with_none(read, head: str, bed: str):
    want = (
        '[[want]]\ncrop = "lettuce"\nbeds = ["A1"]\n'
        'compost = { material = "plant compost", most = "2 cm" }\n'
    )

    assert read(head + bed + want).garden.want[0].compost.range_m == pytest.approx((0, 0.02))


def test_the_first_pick_is_a_day_or_days_from_setting_out(whole):
    pepper, lettuce = whole.garden.want

    assert (pepper.first_pick, pepper.days_to_first_pick) == (date(2027, 7, 20), None)
    assert (lettuce.first_pick, lettuce.days_to_first_pick) == (None, 45)


def test_the_sun_of_a_day_is_read_in_three_units(whole):
    sun = whole.garden.weather.monthly.radiation

    assert sun[4] == pytest.approx(6.2 * 3.6)  # kWh/m2
    assert sun[6] == 27.0  # MJ/m2
    assert sun[9] == pytest.approx(127 * 86400 / 1e6)  # W/m2


def test_a_cover_is_found_by_its_words(whole):
    assert whole.key("want", 0, "protection") == "row_cover_heavy"


def test_the_bytes_of_the_weather_file_come_with_the_document(head, bed, read, tmp_path: Path):
    (tmp_path / "station.csv").write_bytes(b"date,t_max [C]\n")

    document = read(head + bed + '[weather]\nfile = "station.csv"\n')

    assert document.weather == b"date,t_max [C]\n"
    assert "t_max" not in repr(document)


def parts(model: type[BaseModel], data: object):
    """Each model of the document with every table that the document gives for it."""
    for item in data if isinstance(data, list) else [data]:
        if isinstance(item, dict):
            yield model, item
            for name, each in model.model_fields.items():
                for inner in models_in(each.annotation):
                    yield from parts(inner, item.get(name))


def models_in(annotation: object):
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for each in get_args(annotation):
        yield from models_in(each)


def test_the_whole_document_holds_every_field_of_its_newer_parts(folder: Path):
    data = tomllib.loads((folder / "whole.toml").read_text(encoding="utf-8"))
    given: dict[type[BaseModel], set[str]] = {}
    for model, item in parts(Garden, data):
        given.setdefault(model, set()).update(item)

    newer = (Climate, Watering, Monthly, Heap, Feedstock, HeapReading, CompostReport, CompostWish)
    for model in newer:
        assert given[model] == set(model.model_fields), model
    for model in (Want, OwnCrop, Wish, Pin, BedProblem, Structure, Rotation, Weights):
        assert given[model] == set(model.model_fields), model
    # a zone states its lines once, a reading one of three: none holds every field
    assert given[WaterZone] == set(WaterZone.model_fields) - {"line_spacing"}
    for model in (CatchCups, Gauge, SoilMoisture):
        assert given[model] == set(model.model_fields), model


def template() -> str:
    place = resources.files("bedwright.garden").joinpath("template.toml")
    return place.read_text(encoding="utf-8")


def test_the_template_is_read_with_every_example_taken_in(read):
    document = read(re.sub(r"^#(?! )(?=.)", "", template(), flags=re.M))

    garden = document.garden
    assert [bed.id for bed in garden.bed] == ["1", "raised 1", "corner"]
    assert len(garden.climate.soil_temperature) == len(garden.climate.air_temperature) == 12
    assert garden.watering.wetted_share.si == pytest.approx(0.7)
    assert garden.watering.hours == [(300, 600)]
    assert [each.id for each in garden.water_zone] == ["drip north"]
    assert (len(garden.gauge), len(garden.soil_moisture)) == (1, 1)
    assert [each.feedstock for each in garden.heap[0].feedstocks] == [
        "straw",
        "grass clippings",
        "bean haulm",
    ]
    assert garden.compost_report[0].germination.si == pytest.approx(0.96)
    assert garden.want[0].days_to_first_pick == 60
    assert (garden.want[0].protection, garden.want[0].pick_weeks) == ("row cover heavy", 6)
    assert garden.weather.monthly.radiation[6] == pytest.approx(27.0)
    assert garden.want[1].compost.range_m == pytest.approx((INCH / 4, INCH))


def test_the_template_is_read_as_it_stands_and_claims_nothing_of_weather_or_heaps(read):
    garden = read(template()).garden

    assert (garden.climate, garden.watering, garden.weather) == (None, None, None)
    assert (garden.heap, garden.compost_report) == ([], [])
    assert (garden.water_zone, garden.gauge, garden.soil_moisture) == ([], [], [])


def test_names_are_understood_as_keys_of_the_tables(whole):
    assert whole.key("want", 1, "crop") == "lettuce"
    assert whole.key("history", 0, "crop") == "tomato"
    assert whole.key("stock", 0, "material") == "blood_meal"
    assert whole.key("stock", 1, "material") == "yard mix"
    assert whole.key("material", 0, "like") == "blood_meal"
    assert whole.key("usual_mix", 0, "parts", 1, "material") == "yard mix"


def test_results_are_understood_by_report(whole):
    assert [(each.analyte, each.extractant) for each in whole.soil["S1"]] == [
        ("ph", "water_1_1"),
        ("phosphorus", "olsen"),
        ("potassium", "ammonium_acetate"),
        ("nitrate_n", "kcl"),
        ("organic_matter", ""),
        ("ec", "saturated_paste"),
    ]
    assert [each.analyte for each in whole.water["W1"]] == ["ec", "sodium", "boron"]


def test_a_report_in_a_csv_file_beside_the_document_is_read(whole):
    assert [(each.analyte, each.value, each.unit) for each in whole.soil["S2"]] == [
        ("ph", 7.4, "-"),
        ("phosphorus", pytest.approx(31), "mg/kg"),
        ("potassium", pytest.approx(0.9), "meq/100 g"),
        ("organic_matter", pytest.approx(6.1), "%"),
        ("ec", pytest.approx(1.9), "dS/m"),
    ]


def test_a_value_of_a_sound_document_has_its_line(whole, folder: Path):
    lines = (folder / "whole.toml").read_text(encoding="utf-8").splitlines()

    assert 'id = "R1"' in lines[whole.line("bed", 1, "id") - 1]
    assert "22 ppm" in lines[whole.line("soil_report", 0, "results", 3, "value") - 1]
    assert "2026-05-02" in lines[whole.line("history", 0, "applied", 1, "on") - 1]


def test_a_document_with_a_byte_order_mark_and_windows_lines_is_read(
    folder: Path, tmp_path: Path, library: Library, as_of: date, whole
):
    text = (folder / "whole.toml").read_text(encoding="utf-8")
    (tmp_path / "whole.csv").write_bytes((folder / "whole.csv").read_bytes())
    (tmp_path / "garden.toml").write_bytes(text.replace("\n", "\r\n").encode("utf-8-sig"))

    windows = load(tmp_path / "garden.toml", library, as_of)

    assert windows.garden == whole.garden
    assert windows.line("limits") == whole.line("limits")


def test_what_is_left_out_stays_unknown(read, head: str, bed: str):
    garden = read(head + bed).garden

    assert garden.garden.latitude is None
    assert garden.bed[0].bulk_density is None
    assert garden.bed[0].slope is None
    assert garden.limits.budget is None


def test_a_rectangular_bed_has_the_area_of_its_sides(read, head: str, bed: str):
    assert read(head + bed).garden.bed[0].area_m2 == pytest.approx(200 * FOOT**2)


def test_an_l_shaped_bed_has_the_area_of_its_two_arms(whole):
    assert whole.garden.bed[2].area_m2 == pytest.approx((20 * 4 + 4 * 10) * FOOT**2)


def test_an_outline_may_run_either_way_round(read, head: str):
    ahead = '[["0 ft", "0 ft"], ["9 ft", "0 ft"], ["0 ft", "4 ft"]]'
    back = '[["0 ft", "0 ft"], ["0 ft", "4 ft"], ["9 ft", "0 ft"]]'

    areas = [
        read(f'{head}[[bed]]\nid = "A1"\noutline = {corners}\n').garden.bed[0].area_m2
        for corners in (ahead, back)
    ]

    assert areas == pytest.approx([18 * FOOT**2] * 2)


@pytest.mark.parametrize(
    ("written", "degrees"),
    [("N-S", 0), ("S-N", 0), ("NE-SW", 45), ("E-W", 90), ("w-e", 90), ("NW-SE", 135),
     ("20 deg", 20), ("200 deg", 20), ("-20 deg", 160)],
)  # fmt: skip
def test_the_long_axis_is_a_direction_without_a_front(read, head, bed, written, degrees):
    axis = read(f'{head}{bed}long_axis = "{written}"\n').garden.bed[0].long_axis

    assert math.degrees(axis.si) == pytest.approx(degrees)


@pytest.mark.parametrize(
    ("written", "degrees"), [("46.1 N", 46.1), ("33.9 S", -33.9), ("-33.9 deg", -33.9), ("0 N", 0)]
)
def test_a_latitude_south_of_the_equator_is_negative(read, head, bed, written, degrees):
    place = read(f'{head}latitude = "{written}"\n{bed}').garden.garden

    assert math.degrees(place.latitude.si) == pytest.approx(degrees)


def test_a_name_without_a_table_is_the_gardeners_own_material(read, head: str, bed: str):
    own = '[[material]]\nmaterial = "yard mix"\nlike = "feather meal"\n'
    stock = '[[stock]]\nmaterial = "yard mix"\non_hand = "5 lb"\n'

    document = read(head + bed + own + stock)

    assert document.key("stock", 0, "material") == "yard mix"


def test_burnt_lime_may_neutralize_more_than_its_weight(read, head: str, bed: str):
    lime = (
        '[[material]]\nmaterial = "burnt lime"\nlike = "blood meal"\n'
        'analysis = { calcium_carbonate_equivalent = "150 %" }\n'
    )

    garden = read(head + bed + lime).garden

    assert garden.material[0].analysis["calcium_carbonate_equivalent"].si == 1.5


def test_all_faults_are_told_in_one_go(faults_of):
    faults = faults_of("""\
format = 2
[garden]
name = "North field"
latitude = "95 N"
[[bed]]
id = "A1"
length = 50
width = "4 ft"
[[bed]]
id = "A2"
length = "50 ft"
width = "4 ft"
[[soil_report]]
id = "S1"
beds = ["A1", "B9"]
sampled = 2031-01-05
depth = "6 in"
results = [
  { analyte = "P", value = "18 ppm" },
  { analyte = "unobtainium", value = "18 ppm" },
]
[[want]]
crop = "tomatoe"
beds = ["A2", "A7"]
[limits]
most_materials = 99
""")

    assert [fault.split(": ")[0] for fault in faults] == [
        "garden.toml, line 4, garden, latitude",
        "garden.toml, line 7, bed 1, length",
        "garden.toml, line 15, soil_report 1, beds 2",
        "garden.toml, line 16, soil_report 1, sampled",
        "garden.toml, line 19, soil_report 1, results 1, method",
        "garden.toml, line 20, soil_report 1, results 2, analyte",
        "garden.toml, line 23, want 1, crop",
        "garden.toml, line 24, want 1, beds 2",
        "garden.toml, line 26, limits, most_materials",
    ]


def test_two_faults_of_one_item_are_both_told(faults_of, head: str, bed: str):
    faults = faults_of(head + bed + '[[stock]]\nmaterial = 3\npackage = "50 ft"\n')

    assert [fault.split(": ")[0] for fault in faults] == [
        "garden.toml, line 12, stock 1, material",
        "garden.toml, line 13, stock 1, package",
    ]


def test_faults_keep_their_places_when_faulty_items_before_them_are_left_out(faults_of, head, bed):
    wants = (
        '[[want]]\ncrop = 5\nbeds = ["A1"]\n'
        '[[want]]\ncrop = "lettuce"\nbeds = ["A1"]\n'
        '[[want]]\ncrop = 6\nbeds = ["A1"]\n'
        '[[want]]\ncrop = "moon flower"\nbeds = ["Z9"]\n'
    )

    faults = faults_of(head + bed + wants)

    assert [fault.split(": ")[0] for fault in faults] == [
        "garden.toml, line 12, want 1, crop",
        "garden.toml, line 18, want 3, crop",
        "garden.toml, line 21, want 4, crop",
        "garden.toml, line 22, want 4, beds 1",
    ]


def test_a_faulty_bed_is_still_a_bed_that_others_may_name(faults_of, head: str, bed: str):
    broken = bed.replace("A1", "B1").replace('"4 ft"', '"4 lb"')
    want = '[[want]]\ncrop = "lettuce"\nbeds = ["B1"]\n'

    (fault,) = faults_of(head + bed + broken + want)

    assert "line 14, bed 2, width" in fault


def test_a_fault_names_its_remedy(faults_of, head: str, bed: str):
    (fault,) = faults_of(head + bed.replace('"4 ft"', "4"))

    assert fault == (
        "garden.toml, line 9, bed 1, width: 4 has no unit, and a length needs one. "
        'Write it as text with its unit, such as "4 in". Units that fit: in, ft, cm, m.'
    )


def test_the_day_of_reading_decides_what_lies_in_the_future(
    folder: Path, library: Library, tmp_path: Path
):
    path = folder / "whole.toml"

    with pytest.raises(GardenError) as caught:
        load(path, library, date(2026, 10, 2))

    fields = [fault.field for fault in caught.value.faults]
    assert fields == [
        "soil_report 1, sampled",
        "soil_report 2, sampled",
        "stock 1, counted",
        "supply 1, counted",
        "heap 1, readings 2, on",
        "compost_report 1, sampled",
    ]


def test_a_report_sampled_on_the_day_of_reading_is_not_in_the_future(
    folder: Path, library: Library
):
    document = load(folder / "whole.toml", library, date(2026, 11, 1))

    assert document.garden.stock[0].counted == date(2026, 11, 1)


@pytest.mark.parametrize(
    "case",
    [
        ("USD", "5 USD", True),
        ("USD", "5 $", True),
        ("USD", "5 dollars", True),
        ("USD", "5USD", True),
        ("AUD", "5 $", True),
        ("EUR", "5 €", True),
        ("EUR", "5 euros", True),
        ("GBP", "5 £", True),
        ("ZAR", "5 ZAR", True),
        ("USD", "5 €", False),
        ("USD", "5 euro", False),
        ("USD", "5AUD", False),
        ("EUR", "5 $", False),
        ("EUR", "5 EUR 5 USD", False),
    ],
)
def test_a_garden_keeps_to_one_currency(read, head, bed, case):
    currency, price, fits = case
    text = (
        f'{head}currency = "{currency}"\n{bed}'
        f'[[stock]]\nmaterial = "blood meal"\npackage = "50 lb"\nprice = "{price}"\n'
    )

    try:
        price_read = read(text).garden.stock[0].price.text
    except GardenError as error:
        assert not fits
        assert f"is not in the garden's currency {currency}" in str(error)
    else:
        assert fits
        assert price_read == price


@pytest.mark.parametrize("same", ["4.0 %", "40 g/kg"])
def test_an_analysis_of_a_bag_is_a_share_of_it(read, head: str, bed: str, same: str):
    own = f'[[material]]\nmaterial = "blood meal"\nanalysis = {{ n_total = "{same}" }}\n'

    assert read(head + bed + own).garden.material[0].analysis["n_total"].si == pytest.approx(0.04)


def test_loading_changes_neither_the_text_nor_the_file(folder: Path, library, as_of, whole):
    text = (folder / "whole.toml").read_bytes()

    again = load(folder / "whole.toml", library, as_of)

    assert again.text.encode() == text
    assert again.garden == whole.garden
