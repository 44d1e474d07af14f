"""The journal counted in: stock by mass balance, each act once, whatever the order."""

from __future__ import annotations

import re
import uuid
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.garden import Document, load_text
from bedwright.journal import Entry, read_entry, with_journal
from bedwright.reference import Library
from bedwright.reports.journal_text import note_sentence
from bedwright.reports.words_journal import JOURNAL_NOTES
from bedwright.units import UnitSystem

LIBRARY = Library()
AS_OF = date(2026, 11, 25)
KG = 0.45359237  # a pound, by definition
STATION = """
[weather]
file = "nights.csv"
units = "metric"
reading = [{ on = 2026-10-01, minimum = "30 F" }]
"""
TEXT = """
format = 2
[garden]
name = "A garden"
latitude = "{latitude}"
units = "US customary"
[[bed]]
id = "1"
length = "25 ft"
width = "4 ft"
[[bed]]
id = "2"
length = "10 ft"
width = "10 ft"
[[stock]]
material = "gypsum"
on_hand = "40 lb"
counted = 2026-10-10
[[stock]]
material = "feather meal"
on_hand = "20 lb"
[[stock]]
material = "borax"
[[soil_report]]
id = "both"
beds = ["1", "2"]
sampled = 2026-09-01
depth = "6 in"
results = [{{ analyte = "pH", value = 7.8, method = "water" }}]
[[history]]
bed = "1"
year = 2026
crop = "onion"
harvested = "30 lb"
applied = [{{ material = "gypsum", amount = "10 lb", on = 2026-04-10 }}]
"""


def garden(latitude: str = "46 N", more: str = "", folder: Path = Path("/nonexistent")) -> Document:
    return load_text(TEXT.format(latitude=latitude) + more, "garden.toml", folder, LIBRARY, AS_OF)


GARDEN = garden()


def entry(kind: str, on: str | date, **fields: object) -> Entry:
    return read_entry({"id": str(uuid.uuid4()), "kind": kind, "on": str(on), **fields})


def spread(amount: str, on: str | date, bed: str = "1", material: str = "gypsum") -> Entry:
    return entry("did", on, what="spread", bed=bed, material=material, amount=amount)


def counted(*entries: Entry, document: Document = GARDEN, as_of: date = AS_OF):
    return with_journal(document, entries, LIBRARY, as_of)


def on_hand(document: Document, material: str = "gypsum") -> float:
    return sum(
        each.on_hand.si
        for at, each in enumerate(document.garden.stock)
        if document.keys[("stock", at, "material")] == material and each.on_hand is not None
    )


def codes(notes) -> list[str]:
    return [each.code for each in notes]


def applied(document: Document, bed: str = "1") -> list[tuple[str, str, int]]:
    return [
        (each.amount.text, str(each.on), season.year)
        for season in document.garden.history
        if season.bed == bed
        for each in season.applied
    ]


def test_what_was_spread_before_or_on_the_day_of_counting_is_in_the_count_already():
    before, notes = counted(spread("5 lb", "2026-10-10"))
    after, _ = counted(spread("5 lb", "2026-10-11"))

    assert on_hand(before) == pytest.approx(40 * KG)
    assert on_hand(after) == pytest.approx(35 * KG)
    assert notes == ()


def test_bought_adds_and_used_up_ends_the_day():
    found, _ = counted(
        entry("used up", "2026-10-20", material="gypsum"),
        entry("bought", "2026-10-20", material="gypsum", amount="50 lb"),
        entry("bought", "2026-10-21", material="gypsum", amount="50 lb"),
        spread("20 lb", "2026-10-21"),
    )

    assert on_hand(found) == pytest.approx(30 * KG)


def test_more_spread_than_was_there_is_said_and_nothing_is_left():
    found, notes = counted(spread("55 lb", "2026-10-11"))

    assert on_hand(found) == 0
    said = next(each for each in notes if each.code == "stock_short")
    assert said.values["missing"] == pytest.approx(15 * KG)


def test_a_stock_without_a_day_of_counting_stands_and_says_so():
    found, notes = counted(spread("5 lb", "2026-10-11", material="feather meal"))

    assert on_hand(found, "feather_meal") == pytest.approx(20 * KG)
    assert codes(notes) == ["stock_undated"]


def test_unknown_stock_is_not_zero_but_what_was_bought_is_there_at_least():
    taken, silent = counted(spread("1 lb", "2026-10-11", material="borax"))
    found, notes = counted(entry("bought", "2026-10-11", material="borax", amount="4 lb"))

    assert taken.garden.stock[2].on_hand is None and silent == ()
    assert on_hand(found, "borax") == pytest.approx(4 * KG)
    assert codes(notes) == ["stock_at_least"]


def test_a_material_that_is_bought_joins_the_list_with_its_price():
    found, _ = counted(
        entry("bought", "2026-11-01", material="kelp meal", amount="50 lb", price="80 USD"),
        spread("10 lb", "2026-11-02", material="kelp meal"),
    )

    assert on_hand(found, "kelp_meal") == pytest.approx(40 * KG)
    assert found.garden.stock[-1].price.si == 80
    assert found.garden.stock[:3] == GARDEN.garden.stock[:3]


def test_a_garden_without_a_stock_list_does_not_get_one_of_a_single_bag():
    text = re.sub(r"\[\[stock\]\]\n(.+\n)+?(?=\[\[)", "", TEXT.format(latitude="46 N"))
    bare = load_text(text, "g.toml", Path("/nonexistent"), LIBRARY, AS_OF)
    found, notes = counted(
        entry("bought", "2026-11-01", material="gypsum", amount="50 lb"), document=bare
    )

    assert bare.garden.stock == [] == found.garden.stock
    assert codes(notes) == ["no_stock_list"]


@pytest.mark.parametrize(
    ("amount", "on", "one"),
    [
        ("10 lb", "2026-04-10", True),
        ("9 lb", "2026-04-12", True),
        ("9 lb", "2026-04-08", True),
        ("8.9 lb", "2026-04-10", False),
        ("11.2 lb", "2026-04-10", False),
        ("10 lb", "2026-04-13", False),
        ("10 lb/100 ft2", "2026-04-10", True),
        ("4.5 kg", "2026-04-10", True),
    ],
)
def test_one_act_by_bed_material_days_and_amount(amount: str, on: str, one: bool):
    found, notes = counted(spread(amount, on))
    of_2026 = [each for each in applied(found) if each[2] == 2026]

    if one:
        assert of_2026 == [(amount, on, 2026)]
        assert codes(notes) == ["spread_one"]
    else:
        assert of_2026 == [("10 lb", "2026-04-10", 2026), (amount, on, 2026)]


def test_another_bed_or_material_is_another_act():
    found, notes = counted(
        spread("10 lb", "2026-04-10", bed="2"), spread("10 lb", "2026-04-10", material="borax")
    )

    assert len(applied(found)) == 2 and len(applied(found, "2")) == 1 and notes == ()


def test_an_act_that_nearly_agrees_counts_twice_and_is_said():
    _, notes = counted(spread("7 lb", "2026-04-11"))

    assert codes(notes) == ["spread_two"]


def test_two_entries_are_two_acts_and_one_of_them_the_documents():
    found, _ = counted(spread("10 lb", "2026-04-10"), spread("10 lb", "2026-04-11"))

    assert [each[1] for each in applied(found)] == ["2026-04-10", "2026-04-11"]


def test_what_is_spread_in_autumn_feeds_the_next_season_by_hemisphere():
    north, _ = counted(spread("1 lb", "2026-10-01", bed="2"))
    south, _ = counted(spread("1 lb", "2026-04-01", bed="2"), document=garden("34 S"))

    assert applied(north, "2")[0][2] == 2027
    assert applied(south, "2")[0][2] == 2027


def test_the_pickings_are_parts_of_a_harvest_that_the_document_states():
    few, said = counted(entry("picked", "2026-08-01", bed="1", crop="onion", mass="12 lb"))
    many, more = counted(
        entry("picked", "2026-08-01", bed="1", crop="onion", mass="12 lb"),
        entry("picked", "2026-08-09", bed="1", crop="onions", mass="20 lb"),
    )

    assert few.garden.history[0].harvested.si == pytest.approx(30 * KG)
    assert many.garden.history[0].harvested.si == pytest.approx(32 * KG)
    assert (codes(said), codes(more)) == (["harvest_stated"], ["harvest_picked"])


def test_a_crop_that_was_set_out_and_picked_is_one_season():
    found, notes = counted(
        entry("did", "2025-10-08", what="set out", bed="2", crop="garlic", count=120),
        entry("picked", "2026-07-10", bed="2", crop="garlic", mass="14 lb"),
        entry("picked", "2026-07-12", bed="2", crop="garlic", count=20, of="bunches"),
    )
    seasons = [each for each in found.garden.history if each.bed == "2"]
    at = found.garden.history.index(seasons[0])

    assert [(each.year, each.crop) for each in seasons] == [(2026, "garlic")]
    assert seasons[0].harvested.si == pytest.approx(14 * KG)
    assert found.keys[("history", at, "crop")] == "garlic"
    assert codes(notes) == ["picked_not_weighed"]


def test_a_soil_test_is_read_as_a_report_and_takes_its_beds_place_on_the_same_day():
    other, silent = counted(
        entry("measured", "2026-11-02", what="soil test", bed="1", depth="6 in",
              results=[{"analyte": "pH", "value": 7.2, "method": "water"}])
    )  # fmt: skip
    same, said = counted(
        entry("measured", "2026-09-01", what="soil test", bed="1", depth="6 in",
              results=[{"analyte": "pH", "value": 7.2, "method": "water"}])
    )  # fmt: skip

    report = other.garden.soil_report[-1]
    assert (report.beds, other.soil[report.id][0].value, silent) == (["1"], 7.2, ())
    assert [each.beds for each in same.garden.soil_report] == [["2"], ["1"]]
    assert codes(said) == ["soil_test_one"]


def test_nights_go_beside_the_documents_readings_where_there_is_a_station(tmp_path: Path):
    (tmp_path / "nights.csv").write_text("date,t_min\n2026-10-01,1.0\n", encoding="utf-8")
    with_station = garden(more=STATION, folder=tmp_path)
    nights = [
        entry("measured", "2026-10-01", what="minimum", minimum="28 F"),
        entry("measured", "2026-10-02", what="minimum", minimum="33 F"),
        entry("measured", "2026-10-02", what="minimum", minimum="31 F"),
    ]
    found, notes = counted(*nights, document=with_station)
    without, said = counted(*nights)

    readings = {str(each.on): each.minimum.text for each in found.garden.weather.reading}
    assert readings == {"2026-10-01": "28 F", "2026-10-02": "31 F"}
    assert sorted(codes(notes)) == ["night_one", "night_twice"]
    assert without is GARDEN and codes(said) == ["nights_without_station"]


def test_notes_of_what_was_seen_change_nothing():
    found, notes = counted(
        entry("saw", "2026-10-01", what="pest", bed="1", note="flea beetles"),
        entry("did", "2026-10-01", what="worked", bed="1", hours=2.5),
        entry("measured", "2026-10-01", what="moisture", bed="1", moisture="moist"),
    )

    assert found is GARDEN and notes == ()


def test_an_entry_of_a_bed_or_material_that_is_gone_is_said_and_left_out():
    found, notes = counted(spread("5 lb", "2026-10-11", bed="9"),
                           spread("5 lb", "2026-10-11", material="moon dust"))  # fmt: skip

    assert found is GARDEN and sorted(codes(notes)) == ["bed_gone", "material_gone"]


def test_what_is_dated_after_the_day_waits():
    assert counted(spread("5 lb", "2026-11-26"))[0] is GARDEN


# Properties -------------------------------------------------------------------------------------

_DAYS = st.integers(-20, 40).map(lambda n: date(2026, 10, 10) + timedelta(days=n))
_POUNDS = st.integers(1, 60).map(lambda n: f"{n} lb")
_MATERIALS = st.sampled_from(["gypsum", "feather meal", "borax", "kelp meal"])
_BEDS = st.sampled_from(["1", "2"])
_SPREADS = st.builds(spread, _POUNDS, _DAYS, _BEDS, _MATERIALS)
_SHED = st.one_of(
    _SPREADS,
    st.builds(lambda on, m, a: entry("bought", on, material=m, amount=a), _DAYS, _MATERIALS,
              _POUNDS),
    st.builds(lambda on, m: entry("used up", on, material=m), _DAYS, _MATERIALS),
)  # fmt: skip
_ANY = st.one_of(
    _SHED,
    st.builds(lambda on, b, m: entry("picked", on, bed=b, crop="onion", mass=m), _DAYS, _BEDS,
              _POUNDS),
    st.builds(lambda on, b: entry("did", on, what="sowed", bed=b, crop="carrot"), _DAYS, _BEDS),
)  # fmt: skip


def seen(document: Document) -> object:
    return document.garden.stock, document.garden.history, sorted(document.keys.items(), key=str)


@given(st.lists(_SHED, max_size=12))
def test_stock_balances(entries: list[Entry]):
    """Count and purchases less spreads and shortages is what is on hand, while none is used up."""
    kept = [each for each in entries if each.kind != "used up" and each.material == "gypsum"]
    found, notes = counted(*kept)
    after = [each for each in kept if each.on > date(2026, 10, 10)]
    bought = sum(each.amount.si for each in after if each.kind == "bought")
    taken = sum(each.amount.si for each in after if each.kind == "did")
    short = sum(each.values["missing"] for each in notes if each.code == "stock_short")

    assert on_hand(found) == pytest.approx(40 * KG + bought - taken + short)
    assert on_hand(found) >= 0


@given(st.lists(_ANY, max_size=12), st.randoms(use_true_random=False))
def test_the_order_of_entries_does_not_matter(entries: list[Entry], dice):
    mixed = list(entries)
    dice.shuffle(mixed)
    first, first_notes = counted(*entries)
    second, second_notes = counted(*mixed)

    assert seen(first) == seen(second) and first_notes == second_notes


@given(st.lists(_ANY, max_size=8))
def test_each_entry_counts_once_however_often_it_comes(entries: list[Entry]):
    assert seen(counted(*entries)[0]) == seen(counted(*entries, *entries)[0])


@given(st.lists(_SPREADS, max_size=10))
def test_each_act_is_counted_once(entries: list[Entry]):
    """All that was written is in the history; the document's stands unless it is one of these."""
    found, notes = counted(*entries)
    history = [
        (season.bed, each.material, each.amount.text, each.on)
        for season in found.garden.history
        for each in season.applied
    ]
    one = codes(notes).count("spread_one")
    written = [(each.bed, each.material, each.amount.text, each.on) for each in entries]

    assert one <= 1 and len(history) == len(entries) + 1 - one
    for each in written:
        assert history.count(each) >= written.count(each)


@given(st.lists(_ANY, max_size=8), _ANY)
def test_undo_restores(entries: list[Entry], last: Entry):
    before = seen(counted(*entries)[0])
    counted(*entries, last)

    assert seen(counted(*entries)[0]) == before
    assert counted()[0] is GARDEN


@given(st.lists(_ANY, max_size=12))
def test_what_the_document_states_keeps_its_place_and_every_note_has_words(entries: list[Entry]):
    found, notes = counted(*entries)
    first = found.garden.history[0]

    assert (first.bed, first.year, first.crop) == ("1", 2026, "onion")
    assert [each.material for each in found.garden.stock[:3]] == ["gypsum", "feather meal", "borax"]
    for each in notes:
        said = note_sentence(each, LIBRARY, UnitSystem.US)
        assert "{" not in said and "_" not in said


def test_every_code_has_words_and_every_word_a_code():
    source = Path(with_journal.__code__.co_filename).parent
    text = " ".join(path.read_text(encoding="utf-8") for path in source.glob("*.py"))
    made = {code for code in JOURNAL_NOTES if f'"{code}"' in text}

    assert made | {"material_gone", "crop_gone"} == set(JOURNAL_NOTES)
