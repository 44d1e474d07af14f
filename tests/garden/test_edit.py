"""Edits of the document's text: what is set is read back, all else stands byte for byte."""

import difflib
import tomllib
from datetime import date
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bedwright.garden.edit import (
    EditError,
    add_item,
    remove_item,
    replace_item,
    set_field,
    unset_field,
    value_at,
)

_HERE = Path(__file__).parent
_TEXTS = [
    (resources.files("bedwright.garden") / "template.toml").read_text(encoding="utf-8"),
    (_HERE / "whole.toml").read_text(encoding="utf-8"),
    (resources.files("bedwright.demo") / "kestrel_bend.toml").read_text(encoding="utf-8"),
    (resources.files("bedwright.demo") / "ennery_flat.toml").read_text(encoding="utf-8"),
]
_WHOLE = _TEXTS[1]


def _paths(data: Any, path: tuple = ()) -> list[tuple]:
    found = [path] if path else []
    items = data.items() if isinstance(data, dict) else enumerate(data)
    for key, each in items:
        here = (*path, key)
        found += _paths(each, here) if isinstance(each, dict | list) else [here]
    return found


def _headed(text: str) -> set[tuple]:
    """Paths of tables with headers, and lists of them: set by their fields, not whole."""
    data = tomllib.loads(text)
    found = set()
    for path in _paths(data):
        value = data
        for each in path:
            value = value[each]
        name = ".".join(word for word in path if isinstance(word, str))
        if isinstance(value, dict | list) and f"[{name}" in text:
            found.add(path)
    return found


_PATHS = [_paths(tomllib.loads(each)) for each in _TEXTS]
_SETTABLE = [
    [path for path in paths if path not in headed]
    for paths, headed in zip(_PATHS, map(_headed, _TEXTS), strict=True)
]
_words = st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=20)
_plain = st.one_of(
    _words, st.integers(-(2**60), 2**60), st.booleans(), st.dates(),
    st.floats(allow_nan=False, allow_infinity=False),
)  # fmt: skip
_values = st.one_of(_plain, st.lists(_words, max_size=3))
_fields = st.dictionaries(st.text(min_size=1, max_size=8), _values, min_size=1, max_size=4)


@st.composite
def texts(draw) -> tuple[int, str]:
    at = draw(st.integers(0, len(_TEXTS) - 1))
    text = _TEXTS[at]
    if draw(st.booleans()):
        text = text.rstrip("\n")
    if draw(st.booleans()):
        text = text.replace("\n", "\r\n")
    return at, text


def removed_lines(old: str, new: str) -> list[str]:
    opcodes = difflib.SequenceMatcher(
        None, old.split("\n"), new.split("\n"), autojunk=False
    ).get_opcodes()
    return [
        line
        for tag, a, b, _, _ in opcodes
        if tag in ("delete", "replace")
        for line in old.split("\n")[a:b]
    ]


_many = settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@_many
@given(texts(), st.data(), _values)
def test_a_value_that_is_set_is_read_back_and_touches_only_its_lines(held, data, value):
    at, text = held
    path = data.draw(st.sampled_from(_SETTABLE[at]))

    changed = set_field(text, path, value)

    assert value_at(changed, path) == value
    before, after = text.encode(), changed.encode()
    same_start = _shared(before, after)
    same_end = _shared(before[same_start:][::-1], after[same_start:][::-1])
    taken = before[same_start : len(before) - same_end]
    old = value_at(text, path)
    if not isinstance(old, list):
        assert taken.count(b"\n") == 0


def _shared(a: bytes, b: bytes) -> int:
    return next((n for n, (x, y) in enumerate(zip(a, b, strict=False)) if x != y),
                min(len(a), len(b)))  # fmt: skip


@_many
@given(texts(), st.sampled_from([("garden",), ("limits",), ("bed", 0), ("want", 0), ("stock", 0)]),
       _values)  # fmt: skip
def test_a_field_that_is_added_and_unset_leaves_the_text_as_it_was(held, parent, value):
    _, text = held
    path = (*parent, "a field that is not there")

    changed = set_field(text, path, value)

    assert value_at(changed, path) == value
    assert unset_field(changed, path) == text


@pytest.mark.parametrize("table", ["garden", "limits"])
def test_a_field_goes_below_its_example_line(table):
    text = _TEXTS[0]
    key, example = {
        "garden": ("elevation", '#elevation = "590 ft"'),
        "limits": ("budget", '#budget = "150 USD"'),
    }[table]

    lines = set_field(text, (table, key), "7 ft").split("\n")

    assert lines[lines.index(example) + 1] == f'{key} = "7 ft"'


@_many
@given(texts(), st.sampled_from(["stock", "bed", "want", "heap", "history", "usual_mix", "new"]),
       _fields)  # fmt: skip
def test_an_item_that_is_added_and_removed_leaves_the_text_as_it_was(held, name, item):
    _, text = held
    count = len(tomllib.loads(text).get(name, []))

    changed = add_item(text, (name,), item)

    assert value_at(changed, (name, count)) == item
    assert removed_lines(text.replace("\r", ""), changed.replace("\r", "")) == []
    assert remove_item(changed, (name, count)) == text


@_many
@given(texts(), _fields)
def test_an_item_added_to_a_list_within_a_table_can_be_taken_out_again(held, item):
    _, text = held
    reports = tomllib.loads(text)["soil_report"]
    place = next(n for n, each in enumerate(reports) if "results" in each)
    path = ("soil_report", place, "results")

    changed = add_item(text, path, item)

    assert value_at(changed, path)[-1] == item
    assert remove_item(changed, (*path, len(value_at(text, path)))) == text


@_many
@given(texts(), st.data())
def test_whatever_is_unset_is_gone_and_the_rest_is_there(held, data):
    at, text = held
    path = data.draw(st.sampled_from(_PATHS[at]))

    changed = unset_field(text, path)

    expected = tomllib.loads(text)
    holder = expected
    for each in path[:-1]:
        holder = holder[each]
    del holder[path[-1]]
    got = tomllib.loads(changed)
    assert {k: v for k, v in got.items() if v} == {k: v for k, v in expected.items() if v}
    comments = [line for line in text.split("\n") if line.lstrip().startswith("#")]
    kept = [line for line in changed.split("\n") if line.lstrip().startswith("#")]
    if len(path) > 1 and not isinstance(value_at(text, path), dict | list):
        assert kept == comments


@_many
@given(texts(), st.data(), _fields)
def test_an_item_can_be_replaced_by_other_fields_and_back(held, data, item):
    _, text = held
    name = data.draw(st.sampled_from(["stock", "bed", "want"]))
    place = data.draw(st.integers(0, len(tomllib.loads(text)[name]) - 1))
    old = value_at(text, (name, place))

    changed = replace_item(text, (name, place), item)
    back = replace_item(changed, (name, place), old)

    assert value_at(changed, (name, place)) == item
    assert tomllib.loads(back) == tomllib.loads(text)


@_many
@given(texts(), st.data())
def test_every_edit_is_deterministic_and_nothing_is_written_for_no_change(held, data):
    at, text = held
    path = data.draw(st.sampled_from(_SETTABLE[at]))

    assert set_field(text, path, value_at(text, path)) == text


def test_missing_tables_on_the_way_are_made():
    text = 'format = 2\n\n[garden]\nname = "a"\n'

    changed = set_field(text, ("weather", "monthly", "t_max"), ["1 F"])
    changed = set_field(changed, ("weather", "file"), "a.csv")
    changed = add_item(changed, ("weather", "reading"), {"on": date(2026, 4, 3)})
    changed = add_item(changed, ("weather", "reading"), {"on": date(2026, 4, 4)})
    changed = set_field(changed, ("limits", "budget"), "3 USD")

    assert tomllib.loads(changed) == {
        "format": 2, "garden": {"name": "a"}, "limits": {"budget": "3 USD"},
        "weather": {"file": "a.csv", "monthly": {"t_max": ["1 F"]},
                    "reading": [{"on": date(2026, 4, 3)}, {"on": date(2026, 4, 4)}]},
    }  # fmt: skip


def test_a_table_goes_below_the_commented_example_of_it():
    changed = set_field(_TEXTS[0], ("watering", "method"), "drip")

    assert '#note = "Two lines a bed."\n\n[watering]\nmethod = "drip"\n' in changed


def test_fields_spelled_with_dots_get_company():
    text = "garden.name = 'a'\n[limits]\nx.y = 1\n"

    changed = set_field(text, ("garden", "note"), "b")
    changed = set_field(changed, ("limits", "x", "z"), 2)

    assert changed == "garden.name = 'a'\ngarden.note = \"b\"\n[limits]\nx.y = 1\nx.z = 2\n"
    assert unset_field(unset_field(changed, ("garden", "note")), ("limits", "x", "z")) == text


def test_a_field_within_a_line_is_added_and_taken_out():
    text = "a = { b = 1, c = 2 }\nd = {}\n"

    changed = set_field(text, ("a", "e"), "x")

    assert changed == 'a = { b = 1, c = 2, e = "x" }\nd = {}\n'
    assert unset_field(text, ("a", "b")) == "a = { c = 2 }\nd = {}\n"
    assert unset_field(text, ("a", "c")) == "a = { b = 1 }\nd = {}\n"
    assert set_field(text, ("d", "e", "f"), 1) == "a = { b = 1, c = 2 }\nd = { e = { f = 1 } }\n"


def test_an_items_own_tables_leave_with_it():
    text = "[[a]]\nb = 1\n[a.c]\nd = 2\n\n[[a]]\nb = 3\n"

    assert remove_item(text, ("a", 0)) == "\n[[a]]\nb = 3\n"
    assert value_at(set_field(text, ("a", 0, "c", "e"), 5), ("a", 0, "c")) == {"d": 2, "e": 5}
    assert value_at(set_field(text, ("a", 1, "c", "e"), 5), ("a", 1, "c")) == {"e": 5}


@pytest.mark.parametrize("path", [("bed", 99, "length"), ("nothing", 0), ("stock", 77, "a", "b")])
def test_what_leads_through_nothing_is_refused(path):
    with pytest.raises(EditError):
        set_field(_WHOLE, path, "1 ft")


def test_what_is_no_list_gets_no_item_and_what_is_not_there_is_not_removed():
    with pytest.raises(EditError):
        add_item(_WHOLE, ("garden",), {"a": 1})
    with pytest.raises(EditError):
        remove_item(_WHOLE, ("stock", 99))
    assert unset_field(_WHOLE, ("stock", 99)) == _WHOLE
