"""[work], [[labor_time]], [[labor_done]] and [[fork_test]] of the document, and their faults."""

from datetime import date
from pathlib import Path

import pytest

from bedwright.garden import GardenError
from bedwright.garden.load import load_text
from bedwright.reference import Library

GARDEN = """format = 2
[garden]
name = "Small"
[[bed]]
id = "A"
length = "20 ft"
width = "4 ft"
"""


def load(more: str):
    return load_text(
        GARDEN + more, "garden.toml", Path("/nonexistent"), Library(), date(2027, 4, 1)
    )


def fault(more: str) -> str:
    with pytest.raises(GardenError) as caught:
        load(more)
    return str(caught.value)


def test_the_work_is_read():
    garden = load(
        '[work]\nhours_per_week = 12.5\npeople = 2\ntools = ["broadfork"]\n'
        '[[work.other_hours]]\nfirst = "12-01"\nlast = "01-31"\nhours_per_week = 0\n'
        '[[labor_time]]\ntask = "set out"\ntime = "20 min"\ncount = 50\n'
        '[[labor_done]]\ntask = "set out"\nbed = "A"\ncrop = "tomatoes"\non = 2027-03-30\n'
        '[[fork_test]]\nbed = "A"\non = 2027-03-01\nfound = "pan"\n'
    )
    work = garden.garden.work

    assert work.hours_per_week == 12.5
    assert work.other_hours[0].holds_on(date(2028, 1, 15))
    assert not work.other_hours[0].holds_on(date(2028, 2, 1))
    assert (garden.garden.labor_time[0].measure, garden.garden.labor_time[0].amount) == (
        "count",
        50,
    )
    assert garden.keys[("labor_done", 0, "crop")] == "tomato"


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("[work]\nhours_per_week = -1\n", "hours_per_week"),
        ('[work]\n[[work.other_hours]]\nfirst = "07-01"\nlast = "07-05"\nhours_per_week = 1\n',
         "other_hours but no usual ones"),
        ('[work]\nhours_per_week = 9\n[[work.other_hours]]\nfirst = "07-01"\nlast = 2027-07-05\n'
         "hours_per_week = 1\n", "one of every year"),
        ('[work]\nhours_per_week = 9\n[[work.other_hours]]\nfirst = 2027-07-05\nlast = 2027-07-01\n'
         "hours_per_week = 1\n", "lies before first"),
        ('[work]\nhours_per_week = 9\n[[work.other_hours]]\nfirst = "13-01"\nlast = "07-01"\n'
         "hours_per_week = 1\n", "is not a day"),
        ('[work]\ntools = ["tractor"]\n', "tools"),
        ('[[labor_time]]\ntask = "weed"\ntime = "5 min"\narea = "10 ft2"\n',
         "needs its method. Methods: hand, mulched, wheel hoe"),
        ('[[labor_time]]\ntask = "weed"\nmethod = "goat"\ntime = "5 min"\narea = "10 ft2"\n',
         "has no method"),
        ('[[labor_time]]\ntask = "weeed"\nmethod = "hand"\ntime = "5 min"\narea = "10 ft2"\n',
         "not a known task. Nearest: weed"),
        ('[[labor_time]]\ntask = "clear"\ntime = "5 min"\nmass = "10 lb"\n',
         "not counted by mass. Give its area"),
        ('[[labor_time]]\ntask = "clear"\ntime = "5 min"\n', "needs one of area"),
        ('[[labor_done]]\ntask = "clear"\nbed = "Z"\non = 2027-03-01\n', "there is no bed 'Z'"),
        ('[[labor_done]]\ntask = "clear"\nbed = "A"\non = 2027-05-01\n', "the day of reading"),
        ('[[labor_done]]\ntask = "pick"\nbed = "A"\ncrop = "tomatto"\non = 2027-03-01\n',
         "not a known crop"),
        ('[[fork_test]]\nbed = "A"\non = 2027-03-01\nfound = "hard"\n', "found"),
    ],
)  # fmt: skip
def test_a_fault_is_named_with_what_would_be_right(more: str, said: str):
    assert said in " ".join(fault(more).split())
