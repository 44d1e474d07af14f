"""The sources that a plan rests on, found in its own figures."""

from dataclasses import dataclass
from typing import Any

from bedwright.reports.cited import sources_in
from bedwright.working import Figure, Source


@dataclass(frozen=True)
class Held:
    what: Any


def test_sources_are_found_at_any_depth_of_plain_data():
    first, second = Source("first", "p. 1"), Source("second", "p. 2")
    inner = Figure("ph", 7.0, "-", "table", sources=(second,))
    outer = Figure("lime", 1.0, "kg", "computed", sources=(first,), inputs=(inner,))

    found = list(sources_in([Held({"bed": [outer, "lime", 3]}), None, Held]))

    assert sorted(each.source_id for each in found) == ["first", "second"]


def test_what_is_held_twice_is_told_once():
    figure = Figure("ph", 7.0, "-", "table", sources=(Source("first", "p. 1"),))

    assert len(list(sources_in([Held(figure), [figure], {"again": figure}]))) == 1
