"""The shed's pages: what to buy first, then lines that are changed, added and taken out."""

import pytest
from django.urls import reverse
from forms_sent import form_of as sent_form

from bedwright.web.documents import save_revision

pytestmark = pytest.mark.django_db


def form_of(client, at) -> dict[str, object]:
    return sent_form(client, "stock", at)


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
        ({"material": "gypsum", "price": "9"}, "holds that has this price"),
        ({"material": "gypsum", "counted": "2031-01-01"}, "2031-01-01"),
    ],
)
def test_what_is_wrong_is_said_and_kept(client, planned, typed, problem):
    page = client.post(reverse("stock", args=["new"]), {**form_of(client, "new"), **typed})

    assert page.status_code == 422
    assert problem in page.content.decode()
    assert page.context["paper"].text("material") == typed["material"]
    assert 'aria-invalid="true"' in page.content.decode()  # said at its field


def test_a_change_made_on_an_old_page_is_held_and_told(client, planned):
    old = form_of(client, 1)
    client.post(reverse("stock", args=[0]), {**form_of(client, 0), "price": "1"})
    page = client.post(reverse("stock", args=[1]), {**old, "price": "2"})

    assert page.status_code == 422
    assert "changed meanwhile" in page.content.decode()
    assert page.context["paper"].text("price") == "2"


def test_a_package_in_pounds_and_ounces_is_one_number_in_a_field_and_stays_as_it_was(client, demo):
    text = demo.standing.text.replace('package = "50 lb"', 'package = "12 lb 8 oz"', 1)
    save_revision(demo, text, read_from=demo.standing.pk, change="small bag", user=None)
    at = next(n for n, line in enumerate(client.get(reverse("shed")).context["lines"])
              if line[1].package.text == "12 lb 8 oz")  # fmt: skip
    sent = form_of(client, at)
    client.post(reverse("stock", args=[at]), {**sent, "counted": ["2026-11-20"]})
    demo.refresh_from_db()

    assert (sent["package"], sent["package_unit"]) == (["12.5"], ["lb"])
    assert 'package = "12 lb 8 oz"' in demo.standing.text
    assert "counted = 2026-11-20" in demo.standing.text
