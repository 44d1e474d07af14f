"""The page of the heat ahead."""

from urllib.parse import urlencode

import pytest
from django.urls import reverse
from pages_read import words_of

pytestmark = pytest.mark.django_db


def heat(client, **asked) -> str:
    answer = client.get(f"{reverse('heat')}?{urlencode(asked)}")
    assert answer.status_code == 200
    return words_of(answer)


def test_the_page_tells_heat_cloth_work_mulch_and_wind(client, planned):
    said = heat(client)

    assert "Shade cloth of 30 %, from June" in said  # of the sweet peppers
    assert "of the 57 days on which flowers set go above 86 F" in said
    assert "University of Delaware" in said
    assert "no trial over this crop was read" in said
    assert "Hours are those of the clock." in said
    assert "A usual day of June" in said  # asked in November: the next month of heat
    assert "straw or hay" in said and "13 miles an hour" in said
    assert "not enough evidence" in said


def test_a_forecast_is_worked_by_the_hour(client, planned):
    hot = heat(client, on="2027-07-20", high="106", low="68", humidity="12")
    mild = heat(client, on="2027-07-20", high="72", low="50")

    assert "high 106 F" in hot and " 0 " in hot.split("Drink")[0]
    assert "The heat index of the hottest hour is" in hot
    assert " 0 " not in mild.split("Drink")[0].split("WBGT")[-1]


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"high": "250"}, "Write a temperature from"),
        ({"high": "90", "low": "95"}, "The low is above the high."),
        ({"high": "90", "humidity": "140"}, "Write a humidity from 1 to 100."),
        ({"high": "warm"}, "warm"),
        ({"on": "someday"}, "is not a date"),
    ],
)
def test_a_forecast_that_can_not_be_is_told_at_its_field(client, planned, asked, said):
    answer = client.get(f"{reverse('heat')}?{urlencode(asked)}")

    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert "Plantings and shade cloth" in answer.content.decode()


def test_while_the_plan_is_made_the_page_says_so(client, bare):
    answer = client.get(reverse("heat"))

    assert answer.status_code == 200
    assert "Plantings and shade cloth" not in answer.content.decode()


def test_the_page_is_in_spanish_too(client, planned):
    answer = client.get(reverse("heat"), headers={"accept-language": "es"})
    said = words_of(answer)

    assert "Malla sombra" in said
    assert "Shade cloth of" not in said and "Drink" not in said
