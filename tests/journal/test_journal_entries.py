"""Entries as they are read: what is asked of each, what is refused and why; tables without loss."""

from __future__ import annotations

import csv
import io
import json
import uuid
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.journal import EntryError, check_entry, plain_entry, read_entry
from bedwright.journal.tables import TableError, from_csv, from_json, to_csv, to_json

ID = "6f1c1f0a-7a50-4d63-9a39-0d7c8a1c2b3d"
GOOD = [
    {"kind": "did", "what": "spread", "bed": "W2", "material": "gypsum", "amount": "4 lb 2 oz",
     "hours": 0.5, "plan": "as planned"},
    {"kind": "did", "what": "set out", "bed": "W2", "crop": "sweet pepper", "count": 24},
    {"kind": "did", "what": "worked", "bed": "W2", "hours": 1.5, "note": "hoed\nand raked"},
    {"kind": "picked", "bed": "W2", "crop": "sweet pepper", "mass": "12 lb", "quality": "good"},
    {"kind": "picked", "bed": "W2", "crop": "sweet pepper", "count": 30, "of": "bunches"},
    {"kind": "saw", "what": "pest", "bed": "W2", "note": "=aphids"},
    {"kind": "saw", "what": "photograph", "photographs": ["a" * 64]},
    {"kind": "measured", "what": "moisture", "bed": "W2", "moisture": "dry", "depth": "6 in"},
    {"kind": "measured", "what": "minimum", "minimum": "28 F"},
    {"kind": "measured", "what": "soil test", "bed": "W2", "depth": "6 in",
     "results": [{"analyte": "pH", "value": 7.6, "method": "water"}]},
    {"kind": "bought", "material": "gypsum", "amount": "50 lb", "price": "18 USD"},
    {"kind": "used up", "material": "gypsum"},
]  # fmt: skip


def sent(**fields: object) -> dict:
    return {"id": ID, "on": "2026-11-20", **fields}


@pytest.mark.parametrize("fields", GOOD, ids=lambda each: f"{each['kind']} {each.get('what', '')}")
def test_an_entry_is_read_and_written_as_it_was(fields, kestrel_bend, library, as_of):
    entry = read_entry(sent(**fields))
    check_entry(entry, kestrel_bend, library, as_of)

    assert plain_entry(entry) == sent(**fields)
    assert json.loads(json.dumps(plain_entry(entry))) == plain_entry(entry)


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"kind": "dreamt"}, "kind"),
        ({"kind": "did", "what": "spread", "bed": "W2", "material": "gypsum"}, ""),
        ({"kind": "did", "what": "spread", "bed": "W2", "material": "gypsum", "amount": "4"},
         "amount"),
        ({"kind": "did", "what": "spread", "bed": "W2", "material": "gypsum", "amount": "4 dS/m"},
         "amount"),
        ({"kind": "did", "what": "spread", "bed": "W2", "material": "gypsum", "amount": "0 lb"},
         "amount"),
        ({"kind": "did", "what": "worked"}, ""),
        ({"kind": "did", "what": "worked", "hours": float("nan")}, "hours"),
        ({"kind": "did", "what": "worked", "hours": -1}, "hours"),
        ({"kind": "did", "what": "set out", "bed": "W2", "crop": "pea", "count": 1.5}, "count"),
        ({"kind": "picked", "bed": "W2", "crop": "pea"}, ""),
        ({"kind": "picked", "crop": "pea", "mass": "1 lb"}, ""),
        ({"kind": "saw", "what": "pest"}, ""),
        ({"kind": "saw", "what": "photograph", "note": "x"}, ""),
        ({"kind": "saw", "what": "photograph", "photographs": ["../../etc/passwd"]},
         "photographs"),
        ({"kind": "measured", "what": "minimum", "minimum": "400 F"}, "minimum"),
        ({"kind": "measured", "what": "soil test", "bed": "W2", "depth": "6 in"}, ""),
        ({"kind": "used up", "material": "gypsum", "amount": "1 lb"}, "amount"),
        ({"kind": "saw", "what": "note", "note": "x" * 5000}, "note"),
    ],
)  # fmt: skip
def test_a_faulty_entry_is_refused_with_its_field(fields, field):
    with pytest.raises(EntryError) as refused:
        read_entry(sent(**fields))

    assert [each.field for each in refused.value.faults] == [field]
    assert str(refused.value).endswith(".")


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"kind": "saw", "what": "note", "bed": "Z9", "note": "x"}, "bed"),
        ({"kind": "used up", "material": "moon dust"}, "material"),
        ({"kind": "picked", "bed": "W2", "crop": "moonflower", "mass": "1 lb"}, "crop"),
        ({"kind": "saw", "what": "note", "note": "x", "on": "2026-11-27"}, "on"),
        ({"kind": "measured", "what": "soil test", "bed": "W2", "depth": "6 in",
          "results": [{"analyte": "moonlight", "value": 7}]}, "results"),
    ],
)  # fmt: skip
def test_an_entry_is_held_against_the_garden(fields, field, kestrel_bend, library):
    entry = read_entry({**sent(), **fields})
    with pytest.raises(EntryError) as refused:
        check_entry(entry, kestrel_bend, library, date(2026, 11, 26))

    assert [each.field for each in refused.value.faults] == [field]


def test_an_entry_that_is_no_entry_is_refused():
    with pytest.raises(EntryError):
        read_entry({"kind": "used up", "id": "7", "on": "yesterday", "material": "gypsum"})


# Tables -----------------------------------------------------------------------------------------


def rows() -> list[dict]:
    return [
        {**sent(**fields), "id": str(uuid.UUID(int=at)), "revision": at + 1,
         "made_at": "2026-11-20T08:00:00+00:00", "made_by": "Ada"}
        for at, fields in enumerate(GOOD)
    ]  # fmt: skip


def test_csv_and_json_lose_nothing():
    assert from_csv(to_csv(rows())) == rows()
    assert from_json(to_json(rows(), [{"entry": ID, "what": "made"}])) == (
        rows(), [{"entry": ID, "what": "made"}],
    )  # fmt: skip


@given(st.text(st.characters(exclude_categories=["Cs"]), min_size=1).filter(str.strip))
def test_any_words_survive_the_tables_and_no_cell_is_a_formula(words: str):
    made = to_csv([{**sent(kind="saw", what="note"), "note": words}])

    assert from_csv(made)[0]["note"] == words
    cell = list(csv.reader(io.StringIO(made, newline="")))[1][8]
    assert not cell.startswith(("=", "+", "-", "@"))


@pytest.mark.parametrize(
    "text", ["", "a,b\n1,2\n", "id,kind,on\n1,2\n", "id,kind,on,hours\n1,did,2026-01-01,much\n",
             'id,kind,on\n"1'],
)  # fmt: skip
def test_a_table_that_is_none_is_refused(text):
    with pytest.raises(TableError):
        from_csv(text)


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"journal": 2}', '{"journal":1,"entries":[1]}'])
def test_a_json_that_is_no_journal_is_refused(text):
    with pytest.raises(TableError):
        from_json(text)
