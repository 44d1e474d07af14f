"""Starting a comparison on the site: told what it can show, drawn once, changed, taken away."""

from __future__ import annotations

import pytest
from django.urls import reverse
from forms_sent import sent_of
from pages_read import words_of

from bedwright.web.part_forms import items
from planning.compare.compare_gardens import HEAD, comparison, six_pairs

pytestmark = pytest.mark.django_db
STRIPS = {
    "id": "mulch", "question": "Does straw give more?", "crop": "carrot", "ways": "straw\r\nbare",
    "lie": "strips", "beds": ["A", "B"], "blocks_in_bed": "3", "measured": "fit to sell",
    "unit": "lb", "edge": "1", "edge_unit": "ft",
}  # fmt: skip


@pytest.fixture
def made(db):
    """A garden of six beds; nobody needs its plan."""
    from bedwright.web.documents import make_garden

    def make(text: str = HEAD):
        return make_garden(text, "Small", None, change="made")

    return make


def stated(garden) -> list[dict[str, object]]:
    garden.refresh_from_db()
    return items(garden.standing.text, "comparison")


def looked_at(client, address: str, sent: dict[str, object]):
    """The page after looking, and what its form sends then."""
    answer = client.post(address, {**sent, "look": "yes"})
    return answer, sent_of(answer.content.decode())


def begun(client) -> tuple[str, dict[str, object]]:
    address = reverse("compare-start")
    return address, sent_of(client.get(address).content.decode())


def start(client, **other: object):
    """Look at a comparison and save it."""
    address, empty = begun(client)
    _page, sent = looked_at(client, address, {**empty, **STRIPS, **other})
    return client.post(address, {**sent, "save": "yes"})


def test_the_list_leads_to_the_form(client, made):
    made()

    assert reverse("compare-start") in client.get(reverse("compare")).content.decode()


def test_what_it_can_show_is_told_before_anything_is_saved(client, made):
    garden = made()
    address, empty = begun(client)

    answer, _sent = looked_at(client, address, {**empty, **STRIPS})
    page = words_of(answer)

    assert answer.status_code == 200
    # six blocks, 12 % of the mean from plot to plot: docs/comparisons.md
    assert "6 blocks: a true difference of 24 % of the mean is seen in 4 of 5 such trials." in page
    assert "12 blocks would show 15 %." in page
    assert "Bed A, blocks: 3; each has 2 strips of 40 ft2." in page
    assert stated(garden) == []


def test_too_few_blocks_are_told_before_it_is_saved(client, made):
    made()
    address, empty = begun(client)

    answer, _sent = looked_at(client, address, {**empty, **STRIPS, "blocks_in_bed": "2"})

    assert "4 blocks are too few" in words_of(answer)


def test_it_is_saved_as_it_was_looked_at_and_its_order_is_drawn_once(client, made):
    garden = made()

    answer = start(client)
    (found,) = stated(garden)

    assert answer.headers["Location"] == reverse("compare-one", args=["mulch"])
    assert 0 <= found.pop("seed") < 1_000_000
    assert found == {
        "id": "mulch", "question": "Does straw give more?", "crop": "carrot",
        "ways": ["straw", "bare"], "blocks": [["A"]] * 3 + [["B"]] * 3,
        "measured": "fit to sell", "unit": "lb", "edge": "1 ft",
    }  # fmt: skip
    assert "Drawn at random from seed" in words_of(client.get(answer.headers["Location"]))


def test_saving_the_same_form_again_draws_nothing_anew(client, made):
    garden = made()
    address, empty = begun(client)
    _page, sent = looked_at(client, address, {**empty, **STRIPS})
    client.post(address, {**sent, "save": "yes"})
    before = stated(garden)

    again = client.post(address, {**sent, "save": "yes"})
    with_its_answer = client.post(address, {**sent_of(again.content.decode()), "save": "yes"})

    assert (again.status_code, with_its_answer.status_code) == (422, 422)
    assert "there are two comparisons called" in words_of(with_its_answer).lower()
    assert stated(garden) == before


def test_what_was_not_looked_at_is_not_saved(client, made):
    garden = made()
    address, empty = begun(client)
    _page, sent = looked_at(client, address, {**empty, **STRIPS})

    at_once = client.post(address, {**empty, **STRIPS, "save": "yes"})
    fewer = client.post(address, {**sent, "blocks_in_bed": "2", "save": "yes"})

    assert at_once.status_code == fewer.status_code == 200
    assert "4 blocks: a true difference" in words_of(fewer)
    assert "Not saved yet" in words_of(fewer)
    assert stated(garden) == []


def test_a_change_keeps_the_seed_and_what_was_not_touched(client, made):
    more = 'seed = 7\nconfidence = "90 %"\n'
    garden = made(HEAD + comparison('[["A"], ["A"], ["B"], ["B"]]', more=more))
    (before,) = stated(garden)
    address = reverse("compare-change", args=["carrots"])
    shown = sent_of(client.get(address).content.decode())
    assert (shown["lie"], shown["beds"], shown["blocks_in_bed"]) == (["strips"], ["A", "B"], ["2"])

    _page, sent = looked_at(client, address, {**shown, "blocks_in_bed": "3"})
    answer = client.post(address, {**sent, "save": "yes"})

    assert answer.status_code == 302
    assert stated(garden) == [{**before, "blocks": [["A"]] * 3 + [["B"]] * 3}]


@pytest.mark.parametrize(
    ("blocks", "lie"),
    [('[["A", "B"], ["C", "D"]]', "beds"), ('[["A"], ["D", "C"]]', "written")],
)
def test_blocks_are_shown_as_they_stand_and_saving_them_changes_no_letter(
    client, made, blocks, lie
):
    garden = made(HEAD + comparison(blocks))
    before = garden.standing.text
    address = reverse("compare-change", args=["carrots"])
    shown = sent_of(client.get(address).content.decode())

    _page, sent = looked_at(client, address, shown)
    client.post(address, {**sent, "save": "yes"})
    garden.refresh_from_db()

    assert shown["lie"] == [lie]
    assert garden.standing.text == before


def test_whole_beds_make_blocks_whose_results_are_the_journals_pickings(client, made):
    garden = made()

    start(client, lie="beds", beds=["A", "B", "C", "D"], blocks_in_bed="", edge="",
          from_day="2027-06-01", to_day="2027-09-30")  # fmt: skip
    (found,) = stated(garden)

    assert found["blocks"] == [["A", "B"], ["C", "D"]]
    assert set(found["journal"]) == {"from_day", "to_day"}


def test_a_count_is_of_something(client, made):
    garden = made()

    assert start(client, unit="", counted="heads").status_code == 302
    assert stated(garden)[0]["unit"] == "heads"


@pytest.mark.parametrize(
    ("other", "field", "words"),
    [
        ({"id": ""}, "id", "short name"),
        ({"id": "x" * 41}, "id", "41 letters"),
        ({"id": "compost/none"}, "id", "slash"),
        ({"question": ""}, "question", "want to know"),
        ({"crop": "moonflower pie"}, "crop", "moonflower pie"),
        ({"ways": f"straw\r\n{'x' * 41}"}, "ways", "41 letters"),
        ({"ways": "straw"}, "ways", "here are 1"),
        ({"ways": "straw\r\nStraw"}, "ways", "same name"),
        ({"ways": "\r\n".join("abcdefghi")}, "ways", "here are 9"),
        ({"beds": []}, "beds", "at least one bed"),
        ({"blocks_in_bed": ""}, "blocks_in_bed", "how many blocks"),
        ({"blocks_in_bed": "21"}, "blocks_in_bed", "40 are the most"),
        ({"lie": ""}, "lie", "how the plots lie"),
        ({"lie": "beds", "beds": ["A", "B", "C"]}, "beds", "tick 2, 4, 6"),
        ({"lie": "written"}, "written", "at least one block"),
        ({"lie": "written", "written": "A, B, C"}, "written", "neither one bed"),
        ({"lie": "written", "written": "A\r\nZ"}, "written", "no bed"),
        ({"unit": ""}, "counted", "what is counted"),
        ({"counted": "heads"}, "counted", "Leave this empty"),
        ({"edge": "5"}, "edge", "leaves nothing to measure"),
        ({"edge": "far"}, "edge", "far"),
        ({"spread": "0", "spread_unit": "%"}, "", "spread"),
        ({"from_day": "2027-06-01"}, "to_day", "both days"),
        ({"from_day": "2027-06-01", "to_day": "2027-07-01"}, "from_day", "strips within one"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_at_its_field_and_nothing_is_saved(client, made, other, field, words):
    garden = made()
    address, empty = begun(client)

    answer = client.post(address, {**empty, **STRIPS, **other, "look": "yes"})
    page = answer.content.decode()

    assert answer.status_code == 422
    assert words in words_of(answer)
    assert not field or f'href="#{field}"' in page
    assert stated(garden) == []


def test_it_is_taken_away_while_it_has_no_results(client, made):
    garden = made(HEAD + comparison('[["A"], ["B"]]'))
    before = garden.standing
    page = client.get(reverse("compare-one", args=["carrots"])).content.decode()
    address = reverse("compare-remove", args=["carrots"])
    assert address in page

    stale = client.post(address, {"read_from": "0"}, follow=True)
    assert "changed meanwhile" in words_of(stale) and len(stated(garden)) == 1
    gone = client.post(address, {"read_from": str(before.pk)})

    assert gone.headers["Location"] == reverse("compare")
    assert stated(garden) == []


def test_what_has_results_is_neither_changed_nor_taken_away(client, made):
    garden = made(six_pairs())
    page = client.get(reverse("compare-one", args=["carrots"])).content.decode()
    change, remove = (reverse(f"compare-{each}", args=["carrots"]) for each in ("change", "remove"))
    assert change not in page and remove not in page

    changed = client.get(change, follow=True)
    removed = client.post(remove, {"read_from": str(garden.standing.pk)}, follow=True)

    assert "It has results" in words_of(changed)
    assert "carrots has results" in words_of(removed)
    assert len(stated(garden)) == 1


def test_one_that_the_form_does_not_know_is_left_to_the_document(client, made):
    made(HEAD + comparison('[["A"]]', more='laid = [["none", "compost"]]\n'))
    page = client.get(reverse("compare-one", args=["carrots"])).content.decode()

    assert reverse("compare-change", args=["carrots"]) not in page
    assert reverse("compare-remove", args=["carrots"]) in page


def test_it_is_changed_by_nobody_over_another_hand(client, made):
    from bedwright.web.documents import save_revision

    garden = made(HEAD + comparison('[["A"], ["B"]]'))
    address = reverse("compare-change", args=["carrots"])
    shown = sent_of(client.get(address).content.decode())
    text = garden.standing.text.replace("fit to sell", "all")
    save_revision(garden, text, read_from=garden.standing.pk, change="all of them", user=None)

    _page, sent = looked_at(client, address, {**shown, "question": "More?"})
    answer = client.post(address, {**sent, "save": "yes"})

    assert answer.status_code == 422
    assert "all of them" in words_of(answer)
    assert stated(garden)[0]["question"] == "Does compost give more?"


def test_of_one_that_is_not_there_nothing_is_shown(client, made):
    made()

    assert client.get(reverse("compare-change", args=["nothing"])).status_code == 404
    assert client.post(reverse("compare-remove", args=["nothing"])).status_code == 404
