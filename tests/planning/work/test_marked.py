"""Tasks told as done in the journal: each by its kind, several materials as one task."""

from datetime import date
from uuid import UUID

import pytest

from bedwright.journal import Did, EntryError, read_entry
from bedwright.planning.work.acts import acts_of
from bedwright.planning.work.done import standing
from bedwright.planning.work.model import Act, Bring, Task
from bedwright.working import Figure
from planning.work.work_gardens import LIBRARY, garden, plan_of

ON = date(2027, 5, 3)
NEXT = date(2027, 6, 7)
HOURS = Figure("hours", 1.0, "h", "stated")


def spread(kind: str, on: date, *materials: str) -> Task:
    return Task(f"A/tomato/{kind}/1", kind, "A", "tomato", on, on, HOURS,
                bring=tuple(Bring("material", each) for each in materials))  # fmt: skip


def test_an_entry_that_names_its_task_tells_it_as_done():
    document = plan_of(garden()).document
    entries = [
        Did(id=UUID(int=1, version=4), on=ON, bed="A", what="worked", task="weed", crop="tomato"),
        Did(id=UUID(int=2, version=4), on=ON, what="worked", task="sell"),
    ]

    assert acts_of(entries, document, LIBRARY) == (
        Act("sell", ON),
        Act("weed", ON, "A", "tomato"),
    )


def test_materials_spread_on_one_day_are_one_task_and_not_the_next_one_too():
    tasks = (
        spread("spread", ON, "blood_meal", "gypsum"),
        spread("side_dress", NEXT, "blood_meal", "gypsum"),
    )
    acts = [Act("spread", ON, "A", material=each) for each in ("blood_meal", "gypsum")]
    later = [Act("spread", NEXT, "A", material="gypsum")]

    assert standing(tasks, acts, ON).done == {"A/tomato/spread/1": ON}
    assert standing(tasks, [*acts, *later], NEXT).done == {
        "A/tomato/spread/1": ON, "A/tomato/side_dress/1": NEXT,
    }  # fmt: skip


@pytest.mark.parametrize(
    "wrong",
    [
        {"what": "worked", "task": "nap"},
        {"what": "sowed", "task": "sow", "crop": "tomato"},
        {"what": "worked", "crop": "tomato", "hours": 1},
    ],
)
def test_a_task_that_is_none_or_stands_beside_another_word_is_refused(wrong):
    sent = {"id": str(UUID(int=3, version=4)), "kind": "did", "on": "2027-05-03", "bed": "A"}
    with pytest.raises(EntryError):
        read_entry(sent | wrong)
