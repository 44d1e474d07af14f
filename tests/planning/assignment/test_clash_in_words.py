"""Wishes that can't all be had, said as the gardener would say it."""

import json
from pathlib import Path

import jsonschema
import pytest
from gardens import AS_OF, LIBRARY, NO_EXTRAS, beds, document_of, grew

from bedwright.garden import Document
from bedwright.garden.load import load_text
from bedwright.planning.assignment.ahead import years_ahead
from bedwright.planning.assignment.result import YearsAhead
from bedwright.reports.rotation_json import rotation_schema, years_dict
from bedwright.reports.rotation_text import years_text
from bedwright.reports.rotation_words import clash_words


def plan(body: str) -> YearsAhead:
    return years_ahead(document_of(body), LIBRARY, AS_OF)


def said(ahead: YearsAhead) -> list[str]:
    return [text for each in ahead.clashes for text in clash_words(each)]


def nine_beds(nightshades: str, more: str = "years = 1") -> str:
    """B1 to B9; all but B4 and B9 had nightshades within three years."""
    body = NO_EXTRAS.format(more=more) + beds(*(f"B{n}" for n in range(1, 10)))
    for n in range(1, 10):
        crop = "lettuce" if n in (4, 9) else ("tomato", "potato", "eggplant")[n % 3]
        body += grew(f"B{n}", (2024 + n % 3, crop))
    return body + nightshades


THREE = '[[wish]]\ncrop = "tomato"\nbeds = 3\nmust = true\n'
TWO_AND_ONE = (
    '[[wish]]\ncrop = "tomato"\nbeds = 2\nmust = true\n'
    '[[wish]]\ncrop = "sweet pepper"\nbeds = 1\nmust = true\n'
)


def test_three_beds_of_nightshades_are_wanted_but_only_two_are_free():
    texts = said(plan(nine_beds(THREE)))

    assert texts[0] == (
        "3 beds of nightshades wanted, but only B4 and B9 have been free of them for 3 years."
    )
    assert texts[1] == "Of tomato, 3 beds in 2027, 2 of its 3 beds can still be had."


def test_wishes_of_one_family_are_counted_together_and_each_is_told_what_it_would_gain():
    texts = said(plan(nine_beds(TWO_AND_ONE)))

    assert texts == [
        "3 beds of nightshades wanted, but only B4 and B9 have been free of them for 3 years.",
        "Where tomato, 2 beds in 2027 gives way, all the others are met, and 1 of its 2 beds can "
        "still be had.",
        "Where sweet pepper, 1 bed in 2027 gives way, all the others are met, and none of it can "
        "be had.",
    ]


def test_wishes_that_need_not_be_met_are_told_of_in_the_same_words():
    texts = said(plan(nine_beds(THREE.replace("must = true\n", ""))))

    assert texts[0] == (
        "3 beds of nightshades wanted, but only B4 and B9 have been free of them for 3 years."
    )


@pytest.mark.parametrize(
    ("free", "words"),
    [
        ((), "3 beds of nightshades wanted, but no bed has been free of them for 3 years."),
        ((4,), "3 beds of nightshades wanted, but only B4 has been free of them for 3 years."),
    ],
)
def test_one_bed_has_been_and_none_has_been(free: tuple[int, ...], words: str):
    body = nine_beds(THREE)
    for n in {4, 9} - {*free}:
        body += grew(f"B{n}", (2026, "potato"))

    assert said(plan(body))[0] == words


def test_another_interval_is_said_as_it_is():
    texts = said(plan(nine_beds(THREE, more="years = 1\nyears_away = 1")))

    # Those of 2024 and 2025 may bear them again after one full year.
    assert texts == []


def test_what_can_not_be_had_over_the_years_is_said_for_the_years():
    body = NO_EXTRAS.format(more="years = 2") + beds("1")
    body += '[[wish]]\ncrop = "tomato"\nbeds = 1\nmust = true\n'
    texts = said(plan(body))

    assert texts[0] == (
        "2 beds of nightshades wanted in 2027 to 2028, but only bed 1 has been free of them for 3 "
        "years, and none may bear them twice within 4 years."
    )


def test_pins_that_clash_are_named_with_their_beds():
    body = NO_EXTRAS.format(more="years = 2") + beds("1", "2")
    body += "".join(
        f'[[pin]]\nbed = "1"\nyear = {year}\ncrop = "{crop}"\n'
        for year, crop in ((2027, "tomato"), (2028, "sweet pepper"))
    )
    texts = said(plan(body))

    assert texts[0] == ("These can't all be had: tomato on 1 in 2027; sweet pepper on 1 in 2028.")
    assert len(texts) == 3


PARTED = '[[bed]]\nid = "1"\nlength = "50 ft"\nwidth = "4 ft"\nparts = 2\n'


def pinned(crop: str, on: str, part: int | None = None) -> str:
    named = "" if part is None else f"part = {part}\n"
    return f'[[pin]]\nbed = "1"\nyear = 2027\ncrop = "{crop}"\nset_out = {on}\n{named}'


@pytest.mark.parametrize(
    ("of_tomato", "of_lettuce"), [(None, 2), (2, None), (2, 2)], ids=["whole", "part", "parts"]
)
def test_pins_on_the_same_part_at_the_same_time_are_told_with_the_part_the_days_and_the_remedy(
    of_tomato: int | None, of_lettuce: int | None
):
    body = NO_EXTRAS.format(more="years = 1") + PARTED
    pins = pinned("tomato", "2027-05-10", of_tomato) + pinned("lettuce", "2027-06-10", of_lettuce)
    ahead = plan(body + pins)
    texts = said(ahead)
    schema = jsonschema.Draft202012Validator(rotation_schema())

    words = "Start the lettuce on October 1, 2027 or later, end the tomato sooner, or give one of"
    assert words in texts[0]
    assert texts[0].startswith(
        "Bed 1, part 2: the tomato stands on this part until about September 23, 2027, and the "
        "lettuce is to start on it on June 10, 2027."
    )
    # one message for each part that both want: a whole bed and a part of it share that part alone
    assert len(texts) == 1
    assert list(schema.iter_errors(json.loads(json.dumps(years_dict(ahead))))) == []


def test_pins_on_two_parts_of_a_bed_are_both_had():
    body = NO_EXTRAS.format(more="years = 1") + PARTED
    texts = said(
        plan(body + pinned("tomato", "2027-05-10", 1) + pinned("lettuce", "2027-06-10", 2))
    )

    assert texts == []


def test_pins_of_parts_that_clash_by_their_family_are_named_with_the_part():
    body = NO_EXTRAS.format(more="years = 2") + PARTED
    body += "".join(
        f'[[pin]]\nbed = "1"\npart = 2\nyear = {year}\ncrop = "{crop}"\n'
        for year, crop in ((2027, "tomato"), (2028, "sweet pepper"))
    )

    assert said(plan(body))[0] == (
        "These can't all be had: tomato on 1, part 2 in 2027; sweet pepper on 1, part 2 in 2028."
    )


def test_a_plan_follows_all_the_same_with_every_rule_kept():
    ahead = plan(nine_beds(THREE))

    assert {x.unit.bed for x in ahead.placements} == {"B4", "B9"}
    (wish,) = ahead.wishes
    assert (wish.given, wish.short, wish.open_beds) == (2, 1, ("B4", "B9"))
    assert dict(wish.barred) == {"family": 7}


def test_without_a_clash_nothing_is_said_of_one():
    ahead = plan(nine_beds(THREE.replace("3", "2")))

    assert ahead.clashes == ()
    assert ahead.wishes[0].short == 0


def test_a_clash_built_into_the_demo_is_told_on_its_page(kestrel_bend: Document, demo_folder: Path):
    # The beds free of nightshades since 2024, two of them kept for the wish; no wants of 2027.
    text = kestrel_bend.text
    wants, years = text.index("\n[[want]]"), text.index("\n# The years ahead")
    history = text.index("\n# Three years of history")
    more = '[rotation]\nyears = 1\n[[wish]]\ncrop = "tomato"\nbeds = 40\nmust = true\n'
    made = text[:wants] + "\n" + more + text[history:]
    assert wants < years < history
    document = load_text(made, "kestrel", demo_folder, LIBRARY, AS_OF)
    page = years_text(years_ahead(document, LIBRARY, AS_OF), document, {})

    told = " ".join(page.split())
    assert "40 beds of nightshades wanted, but only W1, W2, W3, W4, W5, W13," in told
    assert "have been free of them for 3 years." in told


def test_the_small_example_of_the_page_on_rotation_comes_out_as_worked_by_hand():
    body = "[rotation]\nyears = 1\n" + beds("A", "B", "C", "D")
    body += grew("A", (2025, "tomato")) + grew("B", (2026, "lettuce")) + grew("C", (2024, "potato"))
    body += '[[wish]]\ncrop = "tomato"\nbeds = 3\n[[wish]]\ncrop = "lettuce"\nbeds = 1\n'
    body = body.replace("years = 1\n", "years = 1\n[rotation.weights]\nrest = 0\nfeeders = 0\n", 1)
    ahead = plan(body)

    assert {x.unit.bed for x in ahead.placements if x.crop.id == "tomato"} == {"B", "D"}
    assert {x.unit.bed for x in ahead.placements if x.crop.id == "lettuce"} <= {"A", "C"}
    assert ahead.objective == pytest.approx(10 * (2 + 1) - 3 * 0.05)
    assert said(ahead)[0] == (
        "3 beds of nightshades wanted, but only B and D have been free of them for 3 years."
    )
