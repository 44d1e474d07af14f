"""Comparisons without blocks, and of factors, on the site."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse
from pages_read import words_in

from planning.compare.compare_gardens import FOUR_BLOCKS, TEN_BEDS, TWO, design, of_block

pytestmark = pytest.mark.django_db
NAME = "x"


@pytest.fixture
def made(db):
    """A garden with a comparison; nobody needs its plan."""
    from bedwright.web.documents import make_garden

    def make(text: str):
        return make_garden(text, "Small", None, change="made")

    return make


def page(client) -> str:
    answer = client.get(reverse("compare-one", args=[NAME]))
    assert answer.status_code == 200
    return answer.content.decode()


def heads(text: str) -> list[str]:
    """The heads of the columns of a page's tables."""
    return [words_in(each).strip() for each in re.findall('<th scope="col".*?</th>', text, re.S)]


def test_results_of_beds_without_blocks_are_written_down_by_bed_and_drawn(client, made):
    garden = made(design(TEN_BEDS))
    address = reverse("compare-results", args=[NAME])
    plots = re.findall(r'name="(plot_\d+_\d+)"', client.get(address).content.decode())
    assert len(plots) == 10

    sent = {name: str(10 + at) for at, name in enumerate(plots)}
    sent |= {"on": "2026-07-14", "read_from": str(garden.standing.pk)}
    assert client.post(address, sent).status_code == 302

    garden.refresh_from_db()
    assert garden.standing.text.count("bed = ") == 10
    shown = page(client)
    assert "Pooled t = " in words_in(shown) and shown.count("<circle") == 10
    assert "Block 1" not in words_in(shown)
    assert "Block" not in heads(shown), "beds without blocks have no column for them"
    # a day that is written anew replaces what stood
    again = {**sent, plots[0]: "20.5", "read_from": str(garden.standing.pk)}
    assert client.post(address, again).status_code == 302
    garden.refresh_from_db()
    assert garden.standing.text.count("bed = ") == 10 and '"20.5 lb"' in garden.standing.text


def test_each_effect_of_factors_is_drawn_with_its_interval(client, made):
    every = [f"{a} + {b}" for a in ("compost", "no compost") for b in ("mulch", "bare")]
    results = "".join(
        of_block(block, way, 10 + at + (block * at) % 3 / 4)
        for block in range(1, 5)
        for at, way in enumerate(every)
    )
    made(design(TWO + FOUR_BLOCKS, results))

    shown = page(client)

    assert shown.count("<rect") == 1 + 3  # the paper, and a square for each effect
    assert "compost x mulch" in shown
    assert "Block" in heads(shown)
    assert "Where the bar crosses the line at 0, no effect is shown." in words_in(shown)
    assert "every combination of compost or no compost; mulch or bare" in words_in(shown)
    assert client.get(reverse("compare")).status_code == 200
