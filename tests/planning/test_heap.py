"""The gardener's compost: what the document says of heaps and reports, and what is answered."""

from datetime import date, timedelta

import pytest
from pydantic import ValidationError

from bedwright.garden.model_heap import CompostReport, Heap
from bedwright.planning.heap import compost_quality, feedstock_key, heap_plan
from bedwright.reference import Library, UnknownName
from bedwright.reports.fill import sentence
from bedwright.reports.words_ledger import HEAP_FINDINGS
from bedwright.units import UnitSystem

BUILT = date(2026, 4, 1)


def codes(found) -> set[str]:
    return {each.code for each in found.findings}


def hot(days: int, text: str = "140 F") -> list[dict]:
    return [{"on": BUILT + timedelta(days=at), "temperature": text} for at in range(days)]


def test_grass_and_leaves_make_a_heap(library: Library):
    heap = Heap.model_validate({
        "id": "spring",
        "feedstocks": [
            {"feedstock": "grass clippings", "on_hand": "200 lb", "origin": "own"},
            {"feedstock": "dry leaves", "on_hand": "200 lb", "origin": "own"},
        ],
    })  # fmt: skip
    found = heap_plan(heap, library)

    assert found.recipe is not None and found.recipe.c_to_n is not None
    assert 25 <= found.recipe.c_to_n <= 40 + 1e-6
    assert codes(found) == {"heap_without_record"}


def test_straw_of_unknown_origin_is_to_be_tested_with_peas(library: Library):
    heap = Heap.model_validate({
        "id": "h", "feedstocks": [{"feedstock": "straw", "on_hand": "50 lb"},
                                  {"feedstock": "grass clippings", "on_hand": "300 lb"}],
    })  # fmt: skip
    found = heap_plan(heap, library)
    (test,) = [each for each in found.findings if each.code == "herbicide_bioassay"]

    assert {source.source_id for source in test.sources} >= {"wsu_bioassay_2011"}
    assert "peas or beans" in sentence(test, UnitSystem.US)


@pytest.mark.parametrize("origin", ["own", "known"])
def test_straw_of_known_origin_is_not(library: Library, origin: str):
    heap = Heap.model_validate({
        "id": "h", "feedstocks": [{"feedstock": "straw", "on_hand": "50 lb", "origin": origin}],
    })  # fmt: skip

    assert "herbicide_bioassay" not in codes(heap_plan(heap, library))


def manure_heap(**more) -> Heap:
    return Heap.model_validate({
        "id": "m", "built": BUILT,
        "feedstocks": [
            {"feedstock": "horse manure", "on_hand": "500 lb", "origin": "known"},
            {"feedstock": "straw", "on_hand": "200 lb", "origin": "known"},
        ],
        **more,
    })  # fmt: skip


def test_a_windrow_of_manure_turned_five_times_in_fifteen_hot_days_is_compost(library: Library):
    turned = [BUILT + timedelta(days=at) for at in (2, 5, 8, 11, 14)]
    found = heap_plan(manure_heap(readings=hot(15), turned=turned), library)

    assert "heap_heat_met" in codes(found)
    assert "heap_counts_as_raw_manure" not in codes(found)


def test_manure_without_the_heat_counts_as_raw(library: Library):
    for heap in (manure_heap(), manure_heap(readings=hot(14)), manure_heap(system="passive")):
        assert "heap_counts_as_raw_manure" in codes(heap_plan(heap, library))


def test_both_ends_of_the_range_count_in_either_unit(library: Library):
    for text in ("131 F", "55 C", "170 F"):
        found = heap_plan(manure_heap(readings=hot(3, text), system="in-vessel"), library)
        assert found.heat is not None
        assert (text, found.heat.verdict) == (text, "met")


def test_stated_contents_outrank_the_table(library: Library):
    stated = {"feedstock": "leaves", "on_hand": "100 kg", "moisture": "55 %",
              "nitrogen": "1.4 %", "carbon": "45 %", "origin": "own"}  # fmt: skip
    found = heap_plan(Heap.model_validate({"id": "h", "feedstocks": [stated]}), library)

    assert found.recipe is not None
    assert found.recipe.c_to_n == pytest.approx(45 / 1.4)


def test_an_unknown_feedstock_is_answered_with_those_there_are(library: Library):
    with pytest.raises(UnknownName) as caught:
        feedstock_key(library, "moon dust")

    assert "dry leaves" in caught.value.nearest


def test_a_reading_before_the_heap_was_built_is_refused():
    with pytest.raises(ValidationError, match="before the heap was built"):
        manure_heap(readings=[{"on": BUILT - timedelta(days=1), "temperature": "140 F"}])


def test_a_bare_temperature_is_refused():
    with pytest.raises(ValidationError, match="has no unit"):
        manure_heap(readings=[{"on": BUILT, "temperature": 140}])


def test_a_salty_raw_compost_is_named_for_each_fault(library: Library):
    report = CompostReport.model_validate({
        "id": "r", "ec": "9 dS/m", "sodium": "0.6 %", "boron": "28 ppm", "ph": 6.0,
        "c_to_n": 32, "ammonium_n": "530 ppm", "nitrate_n": "7.5 ppm", "germination": "60 %",
    })  # fmt: skip
    found = compost_quality(report, library)

    assert codes(found) == {
        "compost_ec_reject", "compost_sodium_reject", "compost_boron_hot_water_reject",
        "compost_c_to_n_reject", "compost_ammonium_n_caution",
        "compost_ammonium_to_nitrate_caution", "compost_germination_reject",
    }  # fmt: skip


def test_a_fine_compost_raises_nothing_and_what_was_not_tested_is_said(library: Library):
    report = CompostReport.model_validate({"id": "r", "ec": "3 dS/m", "c_to_n": 14})
    found = compost_quality(report, library)

    assert {each.verdict for each in found.judged} == {"good"}
    untested = [each.values["property"] for each in found.findings]
    assert untested == ["sodium", "boron_hot_water", "ammonium_n"]


def test_every_verdict_of_the_limits_has_its_words(library: Library):
    said = {
        f"compost_{row['property']}_{row['verdict']}"
        for row in library.rows("compost_limits")
        if row.used and row["verdict"] != "good"
    }

    assert said - HEAP_FINDINGS.keys() == set()


def test_every_feedstock_has_carbon_nitrogen_and_water_that_leave_room(library: Library):
    for key in {row["feedstock"] for row in library.rows("compost_feedstocks")}:
        stock = {"feedstock": key, "on_hand": "1 kg", "origin": "own"}
        found = heap_plan(Heap.model_validate({"id": "h", "feedstocks": [stock]}), library)
        assert found.recipe is not None
