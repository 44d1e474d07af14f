"""The record of the beds: every act once, with its amount and who tells it; safe as a table."""

import csv
import io
from datetime import date
from pathlib import Path
from uuid import UUID

import pytest

from bedwright.garden import Document
from bedwright.garden.load import load_text
from bedwright.journal import read_entry
from bedwright.language import using
from bedwright.planning.own import library_of
from bedwright.reference import Library
from bedwright.reports.bed_record.gather import garden_record
from bedwright.reports.bed_record.model import RecordLine
from bedwright.reports.bed_record.table import record_csv
from bedwright.reports.bed_record.text import record_text
from bedwright.units import UnitSystem

AS_OF = date(2027, 9, 1)
LIBRARY = Library()
GARDEN = """format = 2
[garden]
name = "Small"
[[bed]]
id = "A"
length = "25 ft"
width = "4 ft"
[[bed]]
id = "B"
length = "25 ft"
width = "4 ft"
[[history]]
bed = "A"
year = 2026
crop = "tomato"
harvested = "120 lb"
applied = [{ material = "plant compost", amount = "1 in", on = 2026-04-20 }]
[[history]]
bed = "A"
year = 2027
crop = "sweet pepper"
harvested = "40 lb"
applied = [
  { material = "blood meal", amount = "3 lb", on = 2027-05-01 },
  { material = "gypsum", amount = "5 lb/100 ft2", on = 2027-05-01 },
]
[[history]]
bed = "B"
year = 2027
crop = "lettuce"
failed = 2027-06-12
[[material]]
material = "bag 7"
name = "The open bag"
like = "feather meal"
[[standing]]
bed = "B"
crop = "kale"
since = 2027-08-01
sprayed = 2027-08-20
label_harvest_days = 7
[[labor_done]]
task = "clear"
bed = "A"
on = 2027-04-15
[[labor_done]]
task = "spread"
bed = "A"
on = 2027-05-02
"""


def entry(number: int, kind: str, on: str, bed: str = "A", **fields):
    key = str(UUID(int=number))
    return read_entry({"id": key, "kind": kind, "on": on, "bed": bed, **fields})


JOURNAL = (
    entry(1, "did", "2027-05-02", what="spread", material="blood meal", amount="3.1 lb"),
    entry(2, "did", "2027-05-12", what="set out", crop="sweet pepper", count=24),
    entry(3, "picked", "2027-07-20", crop="sweet pepper", mass="6 lb", quality="good"),
    entry(4, "picked", "2027-07-27", crop="sweet pepper", count=30, of="pieces"),
    entry(5, "did", "2027-08-01", "B", what="set out", crop="kale"),
    entry(6, "did", "2027-08-30", what="worked", note="=HYPERLINK(1) pulled the vines"),
    entry(7, "did", "2027-09-09", what="spread", material="gypsum", amount="1 lb"),
    entry(8, "did", "2027-06-01", what="worked", hours=2),
    entry(9, "did", "2027-06-20", "B", what="spread", material="bag 7", amount="1 lb"),
)  # fmt: skip


def document_of(text: str = GARDEN) -> Document:
    return load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, AS_OF)


@pytest.fixture(scope="module")
def record():
    document = document_of()
    return garden_record(document, library_of(document, LIBRARY), AS_OF, JOURNAL)


def acts(record, bed: str, year: int) -> list[RecordLine]:
    (found,) = [each for each in record.beds if each.bed == bed]
    return [each for each in found.lines if each.year == year]


def test_the_list_goes_by_day_with_what_was_put_on_planted_and_picked(record):
    found = [(each.on and each.on.isoformat(), each.act) for each in acts(record, "A", 2027)]

    assert found == [
        (None, "grew"),
        (None, "harvest"),
        ("2027-04-15", "cleared"),
        ("2027-05-01", "spread"),
        ("2027-05-02", "spread"),
        ("2027-05-12", "set_out"),
        ("2027-07-20", "picked"),
        ("2027-07-27", "picked"),
        ("2027-08-30", "worked"),
    ]


def test_an_act_that_document_and_journal_tell_stands_once_as_the_journal_tells_it(record):
    (blood,) = [e for e in acts(record, "A", 2027) if e.key == "blood_meal"]

    assert (blood.source, blood.amount, blood.entry) == ("journal", "3.1 lb", str(UUID(int=1)))
    assert {each.code for each in record.notes} == {"spread_one", "harvest_stated"}


def test_pickings_are_part_of_a_stated_harvest_unless_they_are_more(record):
    (harvest,) = [e for e in acts(record, "A", 2027) if e.act == "harvest"]
    assert harvest.holds_pickings
    (alone,) = [e for e in acts(record, "A", 2026) if e.act == "harvest"]
    assert not alone.holds_pickings

    document = document_of()
    many = (*JOURNAL, entry(10, "picked", "2027-08-02", crop="sweet pepper", mass="60 lb"))
    more = garden_record(document, LIBRARY, AS_OF, many)
    assert [e.act for e in acts(more, "A", 2027)].count("harvest") == 0


def test_amounts_by_area_are_weighed_for_the_bed(record):
    (gypsum,) = [e for e in acts(record, "A", 2027) if e.key == "gypsum"]

    assert gypsum.kg == pytest.approx(5 * 0.45359237)  # 100 ft2
    (compost,) = [e for e in acts(record, "A", 2026) if e.act == "spread"]
    assert compost.kg is None or compost.kg > 0


def test_losses_and_sprays_are_told_and_what_stands_is_not_told_twice(record):
    found = acts(record, "B", 2027)

    assert [each.act for each in found] == ["grew", "failed", "spread", "set_out", "sprayed"]
    assert found[1].on == date(2027, 6, 12)
    assert found[4].label_days == (None, 7)


def test_entries_count_once_and_those_to_come_wait(record):
    document = document_of()
    own = library_of(document, LIBRARY)
    doubled = garden_record(document, own, AS_OF, (*JOURNAL, *reversed(JOURNAL)))

    assert doubled == record
    assert all(each.on is None or each.on <= AS_OF for bed in record.beds for each in bed.lines)


def test_what_the_document_knows_no_more_is_told_as_it_was_written():
    gone = entry(20, "did", "2027-05-05", what="spread", material="old mix", amount="2 lb")
    found = acts(garden_record(document_of(), LIBRARY, AS_OF, (gone,)), "A", 2027)

    (told,) = [each for each in found if each.entry == str(UUID(int=20))]
    assert (told.name, told.key, told.kg) == ("old mix", "", pytest.approx(2 * 0.45359237))


def test_the_text_is_a_page_of_eighty_columns(record):
    text = record_text(record, "Small", UnitSystem.US, LIBRARY)

    said = " ".join(text.split())
    assert max(map(len, text.splitlines())) <= 80
    assert "May 2, 2027: Spread: blood meal, 3.1 lb (journal)" in said
    assert "May 1, 2027: Spread: gypsum, 5 lb/100 ft2, about 5 lb on the bed (garden document)" in (
        said
    )
    assert "May 12, 2027: Set out: sweet pepper, 24 plants (journal)" in said
    assert "July 27, 2027: Picked: sweet pepper, 30 pieces (journal)" in said
    assert "June 20, 2027: Spread: feather meal (The open bag), 1 lb (journal)" in said
    assert "April 15, 2027: Cleared (garden document)" in said
    assert "2026, no day: Harvested: tomato, 120 lb, of the whole season" in said
    assert "taken for one act" in said
    assert "Bed A" not in record_text(record, "Small", UnitSystem.US, LIBRARY, "B")


def test_the_table_holds_every_line_with_plain_numbers_and_no_formula(record):
    text = record_csv(record)
    rows = list(csv.DictReader(io.StringIO(text, newline="")))

    assert len(rows) == sum(len(each.lines) for each in record.beds)
    assert all(line.endswith("\r") for line in text.split("\n")[:-1])
    (worked,) = [each for each in rows if each["act"] == "Worked"]
    assert worked["note"] == "'=HYPERLINK(1) pulled the vines"
    (blood,) = [each for each in rows if each["what"] == "blood meal"]
    assert float(blood["mass_kg"]) == pytest.approx(3.1 * 0.45359237, abs=1e-4)
    assert (blood["day"], blood["amount"]) == ("2027-05-02", "3.1 lb")
    for row in rows:
        for cell in row.values():
            assert not cell.lstrip().startswith(("=", "+", "-", "@"))


def test_spanish_tells_acts_and_names(record):
    with using("es"):
        text = record_text(record, "Small", UnitSystem.METRIC, LIBRARY)

    assert "harina de sangre" in text
