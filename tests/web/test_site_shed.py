"""The shed's pages: what to buy first, then lines that are changed, added and taken out."""

import pytest
from django.urls import reverse

pytestmark = pytest.mark.django_db


def form_of(client, at) -> dict[str, str]:
    page = client.get(reverse("stock", args=[at]))
    fields = page.context["fields"]
    sent = {name: str(value) for name, value in vars(fields).items() if name != "can_buy"}
    sent["package_unit"] = fields.package_unit or page.context["package_units"][0]
    sent["on_hand_unit"] = fields.on_hand_unit or page.context["on_hand_units"][0]
    if fields.can_buy:
        sent["can_buy"] = "yes"
    return {**sent, "read_from": str(page.context["read_from"])}


def test_the_page_says_what_to_buy_and_what_it_comes_to(client, planned, demo_plan):
    page = client.get(reverse("shed")).content.decode()

    for each in demo_plan.shared.purchases:
        assert each.name.lower() in page
    assert f"{demo_plan.shared.money:.2f} USD" in page


def test_a_line_saved_as_it_stands_changes_nothing(client, planned):
    for at in range(len(client.get(reverse("shed")).context["lines"])):
        client.post(reverse("stock", args=[at]), form_of(client, at))
    planned.refresh_from_db()

    assert planned.standing.number == 1


def test_a_new_price_is_saved_in_the_gardens_own_money(client, planned):
    client.post(reverse("stock", args=[0]), {**form_of(client, 0), "price": "17,5"})
    planned.refresh_from_db()

    assert planned.standing.number == 2
    assert 'price = "17.5 USD"' in planned.standing.text


def test_a_line_is_put_in_and_taken_out_again(client, planned):
    before = planned.standing.text
    count = len(client.get(reverse("shed")).context["lines"])
    new = {**form_of(client, "new"), "material": "kelp meal", "package": "50", "price": "60"}
    assert client.post(reverse("stock", args=["new"]), new).status_code == 302
    planned.refresh_from_db()
    assert "kelp meal" in planned.standing.text

    client.post(reverse("stock-remove", args=[count]), {"read_from": str(planned.standing.pk)})
    planned.refresh_from_db()
    assert planned.standing.text == before


@pytest.mark.parametrize(
    ("typed", "problem"),
    [
        ({"material": ""}, "which material"),
        ({"material": "moon dust"}, "not a known material"),
        ({"material": "gypsum", "package": "a sack"}, "not an amount"),
        ({"material": "gypsum", "package": "1,200"}, "two ways"),
        ({"material": "gypsum", "price": "9"}, "price without a package"),
        ({"material": "gypsum", "counted": "2031-01-01"}, "2031-01-01"),
    ],
)
def test_what_is_wrong_is_said_and_kept(client, planned, typed, problem):
    page = client.post(reverse("stock", args=["new"]), {**form_of(client, "new"), **typed})

    assert page.status_code == 422
    assert problem in page.content.decode()
    assert page.context["fields"].material == typed["material"]


def test_a_change_made_on_an_old_page_is_held_and_told(client, planned):
    old = form_of(client, 1)
    client.post(reverse("stock", args=[0]), {**form_of(client, 0), "price": "1"})
    page = client.post(reverse("stock", args=[1]), {**old, "price": "2"})

    assert page.status_code == 422
    assert "changed meanwhile" in page.content.decode()
    assert page.context["fields"].price == "2"
