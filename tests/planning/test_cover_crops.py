"""A cover crop is dug in where it grew: it is fed nothing and carries nothing off."""

import pytest
from small_gardens import ACID, ALKALINE, LIBRARY, garden_text, plan_of

from bedwright.planning.bed_ledger import bed_ledger
from bedwright.planning.own import library_of

COVERS = [row["crop"] for row in LIBRARY.rows("crops") if row["kind"] == "cover"]
NEW_CROPS = (
    "chinese_cabbage mizuna radicchio new_zealand_spinach amaranth dill chives sunflower fava_bean"
).split()


@pytest.mark.parametrize("tests", [ALKALINE, ACID, None], ids=["alkaline", "acid", "untested"])
@pytest.mark.parametrize("crop", ["buckwheat", "cereal_rye", "alfalfa", "french_marigold"])
def test_no_test_makes_a_cover_crop_be_fed(tests, crop: str):
    prescription = plan_of(garden_text(tests, crop=crop)).beds[0].prescription

    assert {line.material.kind for line in prescription.lines} <= {"liming"}


@pytest.mark.parametrize("crop", COVERS)
def test_every_cover_can_be_wanted(crop: str):
    prescription = plan_of(garden_text(crop=crop)).beds[0].prescription

    assert prescription.crop.kind == "cover"


@pytest.mark.parametrize("crop", NEW_CROPS)
def test_a_crop_that_is_picked_is_fed(crop: str):
    prescription = plan_of(garden_text(ALKALINE, crop=crop)).beds[0].prescription

    fed = {line.material.kind for line in prescription.lines}
    assert fed - {"liming"}


def test_a_cover_of_the_past_takes_nothing_and_asks_nothing():
    season = '[[history]]\nbed = "A"\nyear = 2025\ncrop = "{}"\n'
    found = {}
    for crop in ("buckwheat", "tomato"):
        document = plan_of(garden_text(more=season.format(crop))).document
        found[crop] = bed_ledger(document, library_of(document, LIBRARY))

    takes = {crop: each.phosphate.outgoing["harvest"].sum() for crop, each in found.items()}
    assert takes["buckwheat"] == 0 < takes["tomato"]
