"""Masses of units of sale against weights that other publications print.

The table's own are household weights of the USDA National Nutrient Database, release 28. Beside
them stand the weights of a buying guide (Canadian government, in the same table as rows that are
not used) and packing guides of shippers, seen in extension lists.
"""

import pytest

from bedwright.crops.growing import growing
from bedwright.reference import Library
from bedwright.reference.library import figure_of

LIBRARY = Library()
POUND = 0.45359237


def other(crop: str, unit: str) -> float:
    """The buying guide's mass of a piece [kg]."""
    (row,) = [
        row
        for row in LIBRARY.rows("crop_growing")
        if (row["crop"], row["property"], row["condition"]) == (crop, "unit_mass", unit)
        and row["source_id"] == "canadian_buying_guide"
    ]
    return figure_of(unit, row, "kg").value


def test_the_buying_guides_bunch_of_asparagus_is_the_heaviest_packed():
    ours = growing(LIBRARY, "asparagus").unit_mass["bunch"]

    assert ours.least < ours.value < ours.most
    assert ours.most == pytest.approx(other("asparagus", "bunch"))


@pytest.mark.parametrize(
    ("crop", "unit", "ratio"),
    [
        ("eggplant", "each", 1.11),
        ("beet", "bunch", 1.175),
        ("broccoli", "bunch", 1.34),
        ("cabbage", "head", 0.50),
    ],
)
def test_where_the_buying_guide_disagrees_the_difference_is_known(
    crop: str, unit: str, ratio: float
):
    """The guide's eggplant is of 1 lb against our 503 g, its bunch of beets is of 3 to 4 against 5
    to 8, its bunch of broccoli of 1 lb against 608 g, its cabbage, a large one, of 4 lb."""
    ours = growing(LIBRARY, crop).unit_mass[unit].value

    assert ours / other(crop, unit) == pytest.approx(ratio, abs=0.005)


def test_a_carton_of_24_crisp_lettuces_holds_heads_of_the_largest_size():
    """Shippers' carton: 24 heads of 40 to 48 lb. A head at the table's top, 755 g, makes 40 lb."""
    heads = growing(LIBRARY, "lettuce").unit_mass["head_crisp"]

    assert 24 * heads.most / POUND == pytest.approx(40, abs=0.1)
    assert 24 * heads.value / POUND < 40


def test_a_carton_of_14_bunches_of_broccoli_comes_out_light():
    """Shippers' carton: 23 lb (recalled). 14 bunches of 608 g are 18.8 lb."""
    bunch = growing(LIBRARY, "broccoli").unit_mass["bunch"].value

    assert 14 * bunch / POUND == pytest.approx(18.8, abs=0.05)


def test_a_carton_of_fennel_weighs_what_shippers_print():
    """Shippers' carton: 20 to 24 heads with greens, 40 to 50 lb."""
    head = growing(LIBRARY, "fennel").unit_mass["head"].value

    assert 40 <= 22 * head / POUND <= 50
