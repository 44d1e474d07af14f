"""Forms for wishes, pins, problems, structures and own crops: saved, held, changed, taken out."""

import tomllib

import pytest
from django.urls import reverse
from forms_sent import form_of, sent_of

from bedwright.web.documents import save_revision
from bedwright.web.part_forms import items

pytestmark = pytest.mark.django_db

# Two of each kind, with amounts that a form shows in another way than the document has them.
STATED = """
[[wish]] # for the stall
crop = "tomato"
beds = 1.50 # and a half
must = true

[[wish]]
crop = "carrot"
a_week = "2 lb 4 oz"
from_day = "7-1"
to_day = "10-15"
years = [2027, 2028]
weight = 12

[[wish]]
crop = "onion"
area = "400 ft2"

[[pin]]
bed = "W2"
crop = "garlic"
year = 2028

[[pin]]
bed = "W3"
year = 2027
turn = "late summer"
note = "for the shed's new floor"

[[structure]]
id = "north fence"
kind = "fence"
line = [["0 ft", "6 ft 6 in"], ["40 ft", "2 m"]]
height = "5 ft 6 in"
openness = "30 %"

[[structure]]
id = "the oak"
kind = "tree"
outline = [["0 ft", "60 ft"], ["40 ft", "60 ft"], ["40 ft", "70 ft"]]
height = "12 m"
base = "8 ft"
from_day = "05-01"
to_day = "10-20"

[[crop]]
crop = "long red pepper"
like = "sweet pepper"
days_to_maturity = 75
height = "2 ft 6 in"
price = "3.50 USD"
per = "1 lb"

[rotation]
years = 2
away = { Asteraceae = 1 }
gap = "2 %"
weights = { wishes = 8 }
"""
KINDS = ("wish", "pin", "structure", "own-crop")
TABLES = {"own-crop": "crop", "bed-problem": "bed_problem"}
RIGHT = {
    "wish": {"crop": "tomato", "beds": "2"},
    "pin": {"bed": "W4", "crop": "lettuce", "year": "2027"},
    "bed-problem": {"problem": "white rot", "beds": ["W1", "W5"], "found": "2024"},
    "structure": {
        "id": "the barn", "kind": "building", "points": "0, 60\r\n40, 60\r\n40, 70",
        "height": "14",
    },
    "own-crop": {"crop": "small melon", "like": "melon", "days_to_maturity": "80"},
}  # fmt: skip


@pytest.fixture
def stated(bare):
    """That garden with two of each kind in its document."""
    save_revision(bare, bare.standing.text + STATED, read_from=bare.standing.pk, change="stated",
                  user=None)  # fmt: skip
    return bare


def items_of(garden, address: str) -> list[dict[str, object]]:
    return items(garden.standing.text, TABLES.get(address, address))


@pytest.mark.parametrize("address", KINDS)
def test_what_is_saved_as_it_stands_changes_no_letter(client, stated, address):
    before = stated.standing
    for at in range(len(items_of(stated, address))):
        answer = client.post(reverse(address, args=[at]), form_of(client, address, at))
        assert answer.status_code == 302
    stated.refresh_from_db()

    assert items_of(stated, address)
    assert stated.standing == before


@pytest.mark.parametrize("address", KINDS)
def test_one_is_put_in_and_taken_out_again_and_the_text_is_as_it_was(client, stated, address):
    before, count = stated.standing.text, len(items_of(stated, address))
    new = {**form_of(client, address, "new"), **RIGHT[address]}
    assert client.post(reverse(address, args=["new"]), new).status_code == 302
    stated.refresh_from_db()
    assert len(items_of(stated, address)) == count + 1

    sent = form_of(client, address, count)
    client.post(reverse(f"{address}-remove", args=[count]), sent)
    stated.refresh_from_db()
    assert stated.standing.text == before


def test_one_field_changed_leaves_the_words_of_the_others(client, stated):
    sent = {**form_of(client, "structure", 0), "openness": "40"}
    client.post(reverse("structure", args=[0]), sent)
    stated.refresh_from_db()

    assert items_of(stated, "structure")[0] == {
        "id": "north fence", "kind": "fence", "height": "5 ft 6 in", "openness": "40 %",
        "line": [["0 ft", "6 ft 6 in"], ["40 ft", "2 m"]],
    }  # fmt: skip


def test_a_fence_that_becomes_a_building_takes_its_points_along(client, stated):
    sent = {**form_of(client, "structure", 0), "kind": "building", "points": "0,0\n10,0\n10,8"}
    assert client.post(reverse("structure", args=[0]), sent).status_code == 302
    stated.refresh_from_db()
    found = items_of(stated, "structure")[0]

    assert "line" not in found
    assert found["outline"] == [["0 ft", "0 ft"], ["10 ft", "0 ft"], ["10 ft", "8 ft"]]


@pytest.mark.parametrize(
    ("address", "typed", "field", "said"),
    [
        ("wish", {"crop": ""}, "crop", "which crop"),
        ("wish", {"crop": "moonflower seed"}, "crop", "not a known crop"),
        ("wish", {"beds": ""}, "beds", "how much"),
        ("wish", {"beds": "many"}, "beds", "not an amount"),
        ("wish", {"area": "30"}, "area", "one way only"),
        ("wish", {"beds": "", "a_week": "20"}, "from_day", "from which day"),
        ("wish", {"beds": "", "a_week": "20", "from_day": "07-01", "to_day": "02-30"}, "to_day",
         "not a day of the year"),
        ("wish", {"weight": "2000"}, "weight", "1000"),
        ("wish", {"years": "soon"}, "years", "Write years"),
        ("pin", {"bed": ""}, "bed", "which bed"),
        ("pin", {"crop": "moonflower seed"}, "crop", "not a known crop"),
        ("pin", {"bed": "W2", "year": "2028"}, "bed", "pinned twice"),
        ("bed-problem", {"beds": []}, "beds", "Tick the beds"),
        ("bed-problem", {"problem": "melancholy"}, "problem", "not a known soil-borne problem"),
        ("bed-problem", {"found": "long ago"}, "found", "whole number"),
        ("structure", {"id": ""}, "id", "a name"),
        ("structure", {"points": "0, 0\n4, 4"}, "points", "3 points or more"),
        ("structure", {"points": "here, there"}, "points", "not a point"),
        ("structure", {"points": "1,5, 2\n3, 4\n5, 6"}, "points", "not a point"),
        ("structure", {"height": "tall"}, "height", "tall"),
        ("structure", {"from_day": "05-01"}, "to_day", "both days"),
        ("own-crop", {"price": "3"}, "per", "what it is for"),
        ("own-crop", {"like": "moonflower seed"}, "like", "not a known crop"),
        ("own-crop", {"days_to_maturity": "5"}, "days_to_maturity", "from 10 to 400"),
    ],
)  # fmt: skip
def test_a_fault_stands_at_its_field_and_what_was_typed_stays(
    client, stated, address, typed, field, said
):
    before = stated.standing
    sent = {**form_of(client, address, "new"), **RIGHT[address], **typed}
    answer = client.post(reverse(address, args=["new"]), sent)
    stated.refresh_from_db()
    shown = {each.name: each for group in answer.context["groups"] for each in group.fields}

    assert answer.status_code == 422
    assert any(said in each for each in shown[field].faults), answer.context["paper"].faults
    assert f'id="{field}-said"' in answer.content.decode()
    assert stated.standing == before
    for name, value in typed.items():
        kept = "\n".join(value) if isinstance(value, list) else value
        assert shown[name].value == kept


def test_a_form_from_an_old_page_is_held_and_told_what_was_changed(client, stated):
    old = form_of(client, "wish", 0)
    client.post(reverse("wish", args=[0]), {**form_of(client, "wish", 0), "beds": "3"})
    answer = client.post(reverse("wish", args=[0]), {**old, "beds": "4"})

    assert answer.status_code == 422
    assert any("beds = 3" in each for each in answer.context["paper"].meanwhile)
    assert answer.context["groups"][1].fields[0].value == "4"


def test_a_form_follows_its_item_where_others_moved_it(client, stated):
    sent = form_of(client, "wish", 1)
    client.post(reverse("wish-remove", args=[0]), form_of(client, "wish", 0))
    answer = client.post(reverse("wish", args=[1]), {**sent, "weight": "5"})
    again = {**sent_of(answer.content.decode())}
    client.post(reverse("wish", args=[1]), {**again, "weight": "5"})
    stated.refresh_from_db()

    assert [each["crop"] for each in items_of(stated, "wish")] == ["carrot", "onion"]
    assert items_of(stated, "wish")[0]["weight"] == 5


def test_what_somebody_took_out_meanwhile_is_put_in_anew_and_so_said(client, stated):
    sent = form_of(client, "pin", 1)
    client.post(reverse("pin-remove", args=[1]), form_of(client, "pin", 1))
    answer = client.post(reverse("pin", args=[1]), {**sent, "note": "still"})
    again = {**sent_of(answer.content.decode())}
    client.post(reverse("pin", args=[1]), {**again, "note": "still"}, follow=True)
    stated.refresh_from_db()

    assert "put in anew" in answer.content.decode()
    assert [each.get("note") for each in items_of(stated, "pin")] == [None, "still"]


def test_weights_and_limits_are_saved_and_untouched_ones_stay(client, stated):
    address = reverse("rotation-weights")

    def form() -> dict[str, object]:
        return sent_of(client.get(address).content.decode())

    before = stated.standing
    client.post(address, form())
    stated.refresh_from_db()
    assert stated.standing == before

    changed = {**form(), "roots": "0.5", "away": "Asteraceae: 2\nBrassicaceae: 4", "years": "4"}
    assert client.post(address, changed).status_code == 302
    stated.refresh_from_db()
    found = tomllib.loads(stated.standing.text)["rotation"]
    assert found["weights"] == {"wishes": 8, "roots": 0.5}
    assert (found["away"], found["years"], found["gap"]) == (
        {"Asteraceae": 2, "Brassicaceae": 4}, 4, "2 %",
    )  # fmt: skip

    wrong = client.post(address, {**form(), "away": "Asteraceae", "years": "40", "gap": "much"})
    assert wrong.status_code == 422
    assert {"away", "years", "gap"} <= set(wrong.context["paper"].faults)


def test_in_a_garden_without_any_word_of_it_weights_are_put_in(client, bare):
    page = client.get(reverse("rotation-weights")).content.decode()
    sent = {**sent_of(page), "wishes": "20"}
    assert client.post(reverse("rotation-weights"), sent).status_code == 302
    bare.refresh_from_db()

    assert tomllib.loads(bare.standing.text)["rotation"] == {"weights": {"wishes": 20}}
