"""The garden month by month on the site: drawn, as a table, half a year on and back."""

from xml.etree import ElementTree

import pytest
from django.urls import reverse

pytestmark = pytest.mark.django_db


def test_the_months_are_drawn_and_stand_in_a_table_of_the_same(client, planned):
    page = client.get(reverse("months"), {"from": "2027-01"})
    table = {row.bed: row for row in page.context["rows"]}

    heads = [head for _, head in page.context["heads"]]
    assert (heads[0], heads[-1]) == ("January 2027", "December 2027")
    assert {bed for bed, row in table.items() if any(d != "empty" for d, _ in row.cells)} >= {
        "W2",
        "W3",
        "E5",
    }
    words = [words for _, words in table["W2"].cells]
    assert "sweet pepper, being picked" in words
    assert words[0] == "empty"
    for svg in page.context["drawings"].values():
        root = ElementTree.fromstring(svg)
        assert len([e for e in root.iter() if e.get("class") == "month"]) == 12
        assert 'href="/bed/W2/"' in svg


def test_it_begins_with_this_month_and_goes_half_a_year_on_and_back(client, planned):
    page = client.get(reverse("months"))
    text = page.content.decode()

    assert page.context["heads"][0][1] == "November 2026"
    assert 'href="?from=2027-05"' in text
    assert 'href="?from=2026-05"' in text


@pytest.mark.parametrize("month", ["2027", "2027-13", "2027-00", "soon", "1700-01"])
def test_a_month_that_is_none_is_not_found(client, demo, month):
    assert client.get(reverse("months"), {"from": month}).status_code == 404


def test_it_speaks_the_readers_language(client, planned):
    client.post(reverse("language"), {"language": "es", "next": "/"})

    text = client.get(reverse("months"), {"from": "2027-01"}).content.decode()

    assert "enero" in text
    assert "January" not in text


def test_without_a_plan_it_says_what_is_being_done(client, bare):
    page = client.get(reverse("months"))

    assert page.status_code == 200
    assert "drawings" not in page.context
    assert page.context["job"] is not None


def test_one_page_is_printed_as_a_file(client, planned):
    page = client.get(reverse("months-printed"), {"from": "2027-01"})

    assert page["Content-Type"] == "application/pdf"
    assert page.content.startswith(b"%PDF")


def test_without_a_plan_nothing_is_printed(client, bare):
    assert client.get(reverse("months-printed"))["Location"] == reverse("months")
