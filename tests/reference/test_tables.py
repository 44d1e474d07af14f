"""The tables hold together: sourced, in order, one fact in use, and keys that agree across them."""

import itertools
import math
import re
from collections import Counter, defaultdict
from pathlib import Path

import pytest

from bedwright.reference import Library, Row, TableError, UnknownName
from bedwright.reference.library import figure_of, fold
from bedwright.reference.tables import (
    COLUMNS,
    SOURCE_COLUMNS,
    SOURCES,
    check_unit,
    read_rows,
    tables_folder,
)
from bedwright.units import UnitError, to_si

DOCS = Path(__file__).parents[2] / "docs" / "tables.md"
LIBRARY = Library()
UNSOURCED = {"common_practice", "from_memory"}
NAMES = {"material_names": "material", "crop_names": "crop", "analyte_names": "analyte",
         "extractant_names": "extractant"}  # fmt: skip

# What makes two rows speak of one and the same fact.
FACT = {
    "material_facts": "material property condition",
    "crop_facts": "crop property condition",
    "crop_growing": "crop property condition",
    "soil_borne_hosts": "problem host_kind host",
    "parameters": "parameter",
    "textures": "texture property",
    "extract_conversions": "extract texture_group",
    "saturation_water": "texture humus_low humus_high",
    "nutrient_rates": "nutrient extractant test_group supply",
    "lime_buffer": "method reading target_ph",
    "lime_texture": "texture_group from_ph to_ph",
    "sulfur_rates": "texture_group from_ph to_ph",
}
# Tables whose rows form a scale: the columns that name what is graded, and the scale's own name.
SCALES = {
    "soil_classes": ("analyte extractant test_group", "table_id"),
    "water_classes": ("scheme analyte", "scheme"),
    "salinity_classes": ("property", "scheme"),
}
PRINTED_GAPS = {"acid_fizz"}  # what the eye sees: the source leaves room between its classes


def place(row: Row, columns: str) -> tuple[str, ...]:
    return tuple(row[column] for column in columns.split())


def keys(table: str, column: str) -> set[str]:
    return {row[column] for row in LIBRARY.rows(table)}


@pytest.mark.parametrize("table", COLUMNS)
def test_a_table_loads_and_holds_rows(table: str):
    assert len(LIBRARY.rows(table)) >= 10


def test_every_shipped_table_is_known_to_the_loader():
    files = {path.stem for path in tables_folder().glob("*.csv")}

    assert {stem for stem in files if not stem.startswith("sources")} == set(COLUMNS)


@pytest.mark.parametrize("table", COLUMNS)
def test_every_row_rests_on_a_source_of_the_list(table: str):
    unknown = {row.source.source_id for row in LIBRARY.rows(table)} - LIBRARY.sources.keys()

    assert unknown == set()


def test_every_source_says_what_it_is():
    kinds = {"published", "web", "database", "marker"}
    reads = {"full", "part", "copy", "secondhand", "none"}

    for source in LIBRARY.sources.values():
        assert re.fullmatch(r"[a-z0-9_]+", source.source_id)
        assert source.title
        assert source.kind in kinds, source.source_id
        assert source.read in reads, source.source_id
        assert re.fullmatch(r"(\d{4})?", source.year), source.source_id


def test_the_marker_sources_are_there():
    markers = {each.source_id for each in LIBRARY.sources.values() if each.kind == "marker"}

    assert {"common_practice", "from_memory", "judgement", "computed"} <= markers


@pytest.mark.parametrize("table", [name for name in COLUMNS if "use" in COLUMNS[name]])
def test_use_is_yes_or_empty(table: str):
    assert {row["use"] for row in LIBRARY.rows(table)} <= {"yes", ""}


SOURCED = ["material_facts", "crop_facts", "crop_growing", "parameters", "textures"]


@pytest.mark.parametrize("table", FACT)
def test_one_row_of_each_fact_is_in_use_and_no_more(table: str):
    used = Counter(place(row, FACT[table]) for row in LIBRARY.rows(table) if row.used)

    assert [fact for fact, times in used.items() if times != 1] == []


@pytest.mark.parametrize("table", SOURCED)
def test_no_fact_is_without_a_row_in_use(table: str):
    facts = {place(row, FACT[table]) for row in LIBRARY.rows(table)}
    used = {place(row, FACT[table]) for row in LIBRARY.rows(table) if row.used}

    assert facts - used == set()


@pytest.mark.parametrize("table", SOURCED)
def test_where_sources_disagree_the_row_in_use_says_why(table: str):
    rows = defaultdict(list)
    for row in LIBRARY.rows(table):
        rows[place(row, FACT[table])].append(row)

    silent = [fact for fact, all_rows in rows.items() if len(all_rows) > 1
              for row in all_rows if row.used and not row.source.note]  # fmt: skip
    assert silent == []


@pytest.mark.parametrize("table", SCALES)
def test_one_scale_grades_each_thing(table: str):
    graded, scale = SCALES[table]
    scales = defaultdict(set)
    for row in LIBRARY.rows(table):
        if row.used:
            scales[place(row, graded)].add(row[scale])

    assert {what: names for what, names in scales.items() if len(names) != 1} == {}


@pytest.mark.parametrize("table", SCALES)
def test_the_classes_of_a_scale_in_use_meet_without_gap_or_overlap(table: str):
    graded, scale = SCALES[table]
    scales = defaultdict(list)
    for row in LIBRARY.rows(table):
        if row.used and row.words.get("scheme") not in PRINTED_GAPS:
            lower = row.number("lower")
            upper = row.number("upper")
            ends = (-math.inf if lower is None else lower, math.inf if upper is None else upper)
            scales[(*place(row, graded), row[scale])].append(ends)

    for name, classes in scales.items():
        ordered = sorted(classes)
        assert all(low < high for low, high in ordered), name
        pairs = itertools.pairwise(ordered)
        assert [(a, b) for a, b in pairs if a[1] != b[0]] == [], name


@pytest.mark.parametrize("table", [name for name in COLUMNS if "typical" in COLUMNS[name]])
def test_low_typical_and_high_are_in_order(table: str):
    for row in LIBRARY.rows(table):
        ends = [row.number(column) for column in ("low", "typical", "high")]
        given = [end for end in ends if end is not None]
        assert given == sorted(given), row.line
        assert given, row.line


@pytest.mark.parametrize(
    ("table", "column", "home"),
    [
        ("material_facts", "material", "materials"),
        ("material_cautions", "material", "materials"),
        ("material_names", "material", "materials"),
        ("label_rates", "material", "materials"),
        ("crop_facts", "crop", "crops"),
        ("crop_names", "crop", "crops"),
        ("crop_growing", "crop", "crops"),
        ("family_names", "family", "crops"),
        ("soil_borne_hosts", "problem", "soil_borne"),
        ("soil_borne_years", "problem", "soil_borne"),
        ("analyte_names", "analyte", "analytes"),
        ("soil_classes", "analyte", "analytes"),
        ("soil_classes", "extractant", "extractants"),
        ("screening_levels", "analyte", "analytes"),
        ("water_classes", "analyte", "analytes"),
        ("extractant_names", "extractant", "extractants"),
    ],
)
def test_keys_agree_across_tables(table: str, column: str, home: str):
    assert keys(table, column) - keys(home, column) == set()


def test_decay_series_speak_of_known_materials():
    named = {word for row in LIBRARY.rows("decay_series") for word in row["applies_to"].split()}

    assert named - keys("materials", "material") - keys("materials", "kind") == set()


def test_extractants_speak_of_known_analytes():
    named = {word for row in LIBRARY.rows("extractants") for word in row["analytes"].split()}

    assert named - keys("analytes", "analyte") == set()


@pytest.mark.parametrize("table", ["soil_classes", "nutrient_rates"])
def test_a_soil_test_table_speaks_for_a_group_that_a_crop_belongs_to(table: str):
    groups = keys("crops", "test_group") | {"any_crop"}

    assert keys(table, "test_group") - groups == set()


@pytest.mark.parametrize("table", ["soil_classes", "nutrient_rates"])
def test_supply_is_said_in_five_words(table: str):
    assert keys(table, "supply") == {"very_low", "low", "medium", "high", "very_high"}


def test_a_class_table_is_for_an_extractant_that_extracts_the_analyte():
    extracts = {row["extractant"]: row["analytes"].split() for row in LIBRARY.rows("extractants")}

    wrong = {(row["analyte"], row["extractant"]) for row in LIBRARY.rows("soil_classes")
             if row["analyte"] not in extracts[row["extractant"]]}  # fmt: skip
    assert wrong == set()


@pytest.mark.parametrize(
    ("table", "key"),
    [("materials", "material"), ("crops", "crop"), ("analytes", "analyte"),
     ("extractants", "extractant")],
)  # fmt: skip
def test_a_key_is_lower_snake_case_and_stands_once(table: str, key: str):
    found = Counter(row[key] for row in LIBRARY.rows(table))

    assert [word for word in found if not re.fullmatch(r"[a-z][a-z0-9_]*", word)] == []
    assert [word for word, times in found.items() if times > 1] == []


@pytest.mark.parametrize(("table", "key"), NAMES.items())
def test_a_name_stands_once_and_for_one_thing(table: str, key: str):
    names = Counter(fold(row["phrase"]) for row in LIBRARY.rows(table))

    assert [name for name, times in names.items() if times > 1] == []


@pytest.mark.parametrize(("table", "key"), NAMES.items())
def test_no_name_takes_away_the_key_or_the_title_of_another_thing(table: str, key: str):
    for row in LIBRARY.rows(f"{key}s"):
        for word in (row[key], row["name"]):
            assert LIBRARY.resolve(table, key, word) == row[key], word


@pytest.mark.parametrize(("table", "key"), NAMES.items())
def test_an_unknown_name_is_answered_with_the_nearest(table: str, key: str):
    phrase = LIBRARY.rows(table)[0]["phrase"]

    with pytest.raises(UnknownName) as caught:
        LIBRARY.resolve(table, key, f"{phrase}zq")

    assert fold(phrase) in caught.value.nearest


VOCABULARIES = {
    "kind": "meal manure compost mineral liming acidifier micronutrient residue seaweed ash",
    "form": "powder granule pellet crystals bulk liquid",
    "measure": "cups buckets weight_only",
    "timing": "preplant either sidedress",
    "organic_status": "allowed restricted prohibited check",
}


@pytest.mark.parametrize("column", VOCABULARIES)
def test_materials_are_described_in_the_words_of_the_vocabulary(column: str):
    assert keys("materials", column) <= set(VOCABULARIES[column].split())


def test_docs_and_loader_agree_on_every_tables_columns():
    documented = dict(re.findall(r"^\| `(\w+)\.csv` \| `([\w,]+)`", DOCS.read_text("utf-8"), re.M))
    sources = documented.pop("sources").split(",")

    assert {name: tuple(columns.split(",")) for name, columns in documented.items()} == COLUMNS
    assert (*sources, "note") == SOURCES


@pytest.mark.parametrize("table", ["material_facts", "crop_facts", "crop_growing", "crop_habits"])
def test_every_property_is_explained_in_the_docs(table: str):
    explained = set(re.findall(r"\w+", DOCS.read_text("utf-8")))

    assert keys(table, "property") - explained == set()


MATERIAL_KINDS = {
    "bulk_density": "density", "max_rate": "mass_per_area", "ec_1_5": "conductivity",
    "c_to_n": "ratio", "salt_index": "ratio", "acidity": "mass_per_mass",
    "n_available_first_season": "fraction", "n_available_four_weeks": "fraction",
    "p_available_first_season": "fraction", "k_available_first_season": "fraction",
}  # fmt: skip
CROP_KINDS = {
    "n_season_need": "mass_per_area", "yield": "mass_per_area", "n_removal": "mass_per_mass",
    "p2o5_removal": "mass_per_mass", "k2o_removal": "mass_per_mass", "n_uptake": "mass_per_mass",
    "preplant_n_share": "fraction", "side_dressings": "ratio", "ph_low": "ratio",
    "ph_high": "ratio", "ec_e_threshold": "conductivity", "boron_threshold": "concentration",
    "need_net_of_soil_n": "ratio",
}  # fmt: skip
GROWING_KINDS = {
    "spacing_in_row": "length", "spacing_between_rows": "length", "spacing_equidistant": "length",
    "sowing_depth": "length", "height": "length", "trellised_height": "length",
    "root_depth": "length", "sun_hours_need": "time", "seed_rate": "mass_per_area",
    "germination": "fraction", "unit_mass": "mass", "saleable_share": "fraction",
    "residue_share": "mass_per_mass", "residue_c_to_n": "ratio", "residue_n": "fraction",
    "dry_matter": "fraction", "light_extinction": "ratio", "cover_dry_mass": "mass_per_area",
}  # fmt: skip
BY_OTHER_UNITS = {
    "daily_light_need": "mol/m2/d", "seeds_per_gram": "1/g", "seed_per_row": "kg/m",
    "row_yield": "kg/m", "row_pieces": "1/m",
}  # fmt: skip


def test_material_facts_stand_in_units_of_their_property():
    for row in LIBRARY.rows("material_facts"):
        check_unit(row, MATERIAL_KINDS.get(row["property"], "fraction"), "material_facts")


def test_crop_facts_stand_in_units_of_their_property():
    for row in LIBRARY.rows("crop_facts"):
        if row["property"] != "ec_e_slope":  # %/(dS/m) is read by its own formula
            check_unit(row, CROP_KINDS[row["property"]], "crop_facts")


def test_crop_growing_stands_in_units_of_its_property():
    for row in LIBRARY.rows("crop_growing"):
        if row["property"] in BY_OTHER_UNITS:
            figure_of("x", row, BY_OTHER_UNITS[row["property"]])  # refuses another dimension
        else:
            check_unit(row, GROWING_KINDS[row["property"]], "crop_growing")


@pytest.mark.parametrize(
    ("table", "kinds"),
    [
        ("lime_buffer", ["mass_per_area"]),
        ("lime_texture", ["mass_per_area"]),
        ("sulfur_rates", ["mass_per_area"]),
        ("nutrient_rates", ["mass_per_area"]),
        ("label_rates", ["mass_per_area"]),
        ("screening_levels", ["fraction"]),
        ("soil_classes", ["fraction", "mass_per_area", "charge_fraction"]),
        ("water_classes", ["conductivity", "concentration", "charge_concentration", "ratio"]),
    ],
)
def test_rates_and_limits_stand_in_units_that_can_be_read(table: str, kinds: list[str]):
    for row in LIBRARY.rows(table):
        assert any(fits(row["unit"], kind) for kind in kinds), (row.line, row["unit"])


def fits(unit: str, kind: str) -> bool:
    try:
        to_si(1.0, unit, kind)
    except UnitError:
        return False
    return True


SHARES = {"n_total", "p2o5_total", "k2o_total", "ca", "mg", "s", "c", "na", "cl", "b", "zn", "fe",
          "mn", "cu", "organic_n", "ammonium_n"}  # fmt: skip


def test_no_material_is_more_than_the_whole_of_itself():
    analyses = defaultdict(float)
    for row in LIBRARY.rows("material_facts"):
        if row.used and row["property"] in SHARES:
            share = to_si(row.typical(), row["unit"], "fraction")
            assert 0 <= share <= 1, row.line
            if row["property"] in ("n_total", "p2o5_total", "k2o_total"):
                analyses[row["material"]] += share

    assert {material: share for material, share in analyses.items() if share > 1} == {}


def test_a_crops_ph_has_both_ends_and_they_are_those_of_a_soil():
    crops = {row["crop"] for row in LIBRARY.rows("crop_facts") if row["property"].startswith("ph_")}

    assert len(crops) >= 50
    for crop in crops:
        low = LIBRARY.fact("crop_facts", crop, "ph_low", "-")
        high = LIBRARY.fact("crop_facts", crop, "ph_high", "-")
        assert low is not None and high is not None, crop
        assert 3.5 <= low.value < high.value <= 9, crop


# Safety: what warns or forbids rests on something that was read, reckoned or decided with a reason.


def rests_on_hearsay(rows: list[Row]) -> list[str]:
    return [f"line {row.line}" for row in rows if row.source.source_id in UNSOURCED]


def test_no_screening_level_rests_on_hearsay():
    assert rests_on_hearsay(LIBRARY.rows("screening_levels")) == []


def test_no_greatest_rate_rests_on_hearsay():
    rates = [row for row in LIBRARY.rows("material_facts") if row["property"] == "max_rate"]

    assert {"borax", "soluble_borate"} <= {row["material"] for row in rates}
    assert rests_on_hearsay(rates) == []


@pytest.mark.parametrize("parameter", ["compost_ec_limit", "compost_boron_limit"])
def test_no_limit_on_compost_rests_on_hearsay(parameter: str):
    rows = [row for row in LIBRARY.rows("parameters") if row["parameter"] == parameter]

    assert rows
    assert rests_on_hearsay(rows) == []


HANDLING = {"dust_mask", "gloves", "eye_protection", "heavy_bags", "stains", "attracts_animals"}


def test_only_advice_on_handling_rests_on_the_practice_of_the_trade():
    cautions = LIBRARY.rows("material_cautions")

    assert {row["caution"] for row in cautions} > HANDLING
    assert rests_on_hearsay([row for row in cautions if row["caution"] not in HANDLING]) == []


def test_every_raw_manure_has_its_interval_before_harvest_from_the_rule_itself():
    intervals = [row for row in LIBRARY.rows("material_cautions")
                 if row["caution"] == "raw_manure_interval"]  # fmt: skip

    assert len(intervals) >= 8
    assert {row.source.source_id for row in intervals} == {"cfr_205_203"}


ANIMAL_AND_PLANT = {"manure", "compost", "meal", "residue"}


def test_no_organic_rule_on_manure_compost_or_meal_rests_on_hearsay():
    rows = [row for row in LIBRARY.rows("materials") if row["kind"] in ANIMAL_AND_PLANT]

    assert len(rows) >= 30
    assert rests_on_hearsay(rows) == []


@pytest.mark.xfail(strict=True, reason="7 CFR 205.203(d) and 205.601(i), (j) have not been read")
def test_no_organic_rule_on_a_mineral_rests_on_hearsay():
    rows = [row for row in LIBRARY.rows("materials") if row["kind"] not in ANIMAL_AND_PLANT]

    assert rests_on_hearsay(rows) == []


def test_nothing_on_what_stock_may_be_fed_rests_on_hearsay():
    rows = [row for row in LIBRARY.rows("crop_habits") if row["property"].startswith("residue_")]

    assert len(rows) >= 150
    assert rests_on_hearsay(rows) == []
    assert [row.line for row in rows if not row.source.note] == []


def test_every_boron_material_is_weighed_and_warned_of():
    boron = {row["material"] for row in LIBRARY.rows("material_facts")
             if row["property"] == "b" and row.used and row.typical() > 5}  # fmt: skip
    warned = {row["material"] for row in LIBRARY.rows("material_cautions")
              if row["caution"] == "boron_narrow_margin"}  # fmt: skip
    weighed = {row["material"] for row in LIBRARY.rows("materials")
               if row["measure"] == "weight_only"}  # fmt: skip

    assert len(boron) >= 2
    assert boron <= warned
    assert boron <= weighed


# The loader: a table that does not hold together is refused with every fault and its line.

HEADER = ",".join(COLUMNS["parameters"] + SOURCE_COLUMNS)
READ = frozenset({"judgement"})


@pytest.mark.parametrize(
    ("row", "fault"),
    [
        ("a,1,2,3,kg,yes,nobody,,", "source 'nobody' is not in sources.csv"),
        ("a,3,2,1,kg,yes,judgement,,", "are not in order"),
        ("a,,,,kg,yes,judgement,,", "no value"),
        ("a,,nan,,kg,yes,judgement,,", "typical is not finite"),
        ("a,,many,,kg,yes,judgement,,", "typical 'many' is not a number"),
        ("a,,1,,kg,yes,judgement", "7 cells, should be 9"),
    ],
)
def test_a_faulty_row_is_refused_with_its_line(row: str, fault: str):
    text = f"{HEADER}\na,,1,,kg,yes,judgement,,\n{row}\n"

    with pytest.raises(TableError) as caught:
        read_rows("parameters", text, READ)

    assert all(message.startswith("parameters.csv line 3: ") for message in caught.value.faults)
    assert any(fault in message for message in caught.value.faults)


def test_all_faulty_rows_are_told_together():
    text = f"{HEADER}\na,,x,,kg,yes,judgement,,\nb,,1,,kg,yes,nobody,,\n"

    with pytest.raises(TableError) as caught:
        read_rows("parameters", text, READ)

    assert [fault.split(":")[0] for fault in caught.value.faults if "no value" not in fault] == [
        "parameters.csv line 2",
        "parameters.csv line 3",
    ]


def test_a_table_with_other_columns_is_refused():
    with pytest.raises(TableError, match=r"parameters\.csv line 1: columns are"):
        read_rows("parameters", "parameter,value\n", READ)


def test_a_row_of_two_quantities_names_its_unit_as_misfit():
    row = read_rows("parameters", f"{HEADER}\na,,1,,kg,yes,judgement,,\n", READ)[0]

    with pytest.raises(TableError, match=r"parameters\.csv line 2: 'kg' is not a unit of a length"):
        check_unit(row, "length", "parameters")
