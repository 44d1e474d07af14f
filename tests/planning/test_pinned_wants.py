"""What is pinned for this season is prepared, laid and fed as what is wanted."""

from datetime import timedelta
from pathlib import Path

import pytest
from small_gardens import ALKALINE, AS_OF, LIBRARY, garden_text, plan_of
from test_second_crops import WEATHER

from bedwright.garden import Bed
from bedwright.garden.load import load_text
from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.assignment.dates import Timer
from bedwright.planning.assignment.long_dates import long_slots
from bedwright.planning.bed_pieces import piece_of
from bedwright.planning.layout.frame import bed_frame
from bedwright.planning.pinned_wants import with_pins
from bedwright.season import SeasonPlan

PLACE = 'latitude = "46 N"\nlongitude = "119 W"\nelevation = "180 m"\n'
PARTED = 'length = "50 ft"\nwidth = "4 ft"\ntexture = "silt loam"\nparts = 2\n'


def pin(crop: str, more: str, bed: str = "A") -> str:
    return f'[[pin]]\nbed = "{bed}"\ncrop = "{crop}"\n{more}\n'


@pytest.fixture(scope="module")
def pinned() -> SeasonPlan:
    """A bed with a want, a second crop and a winter cover pinned; another pinned in two parts."""
    more = (
        f'[[bed]]\nid = "B"\n{PARTED}'
        + pin("spinach", "year = 2027\nset_out = 2027-08-01\n")
        + pin("hairy vetch", "year = 2028\nset_out = 2027-10-25\n")
        + pin("lettuce", "year = 2027\npart = 2\nset_out = 2027-05-10\n", "B")
        + pin("lettuce", "year = 2027\npart = 1\nset_out = 2027-05-10\n", "B")
    )
    return plan_of(garden_text(ALKALINE, crop="lettuce", more=more).replace("05-10", "05-01"))


def test_each_pin_of_the_season_is_a_planting_in_the_order_of_its_ground(pinned: SeasonPlan):
    found = [(each.prescription.planting, each.prescription.crop.key) for each in pinned.plantings]

    assert found == [
        ("A", "lettuce"),
        ("B, part 2", "lettuce"),
        ("A, second crop", "spinach"),
        ("A, third crop", "hairy_vetch"),
        ("B, part 1", "lettuce"),
    ]
    assert pinned.complete
    assert len({(each.bed, each.crop) for each in pinned.grown}) == len(pinned.plantings)


def test_a_part_gets_its_share_of_the_beds_prescription_rows_and_plants(pinned: SeasonPlan):
    whole = plan_of(
        garden_text(None, crop="lettuce", bed=PARTED).replace("05-10", "05-01")
    ).beds[0].prescription  # fmt: skip
    parts = [each for each in pinned.plantings if each.prescription.part is not None]

    assert sum(each.prescription.evidence.area.value for each in parts) == pytest.approx(
        whole.evidence.area.value
    )
    for each in parts:
        count = pinned.layout_of(each).counts[0]
        assert count.places == pytest.approx(
            plan_places(pinned, "A") / 2, abs=count.rows
        )  # both beds are of one size
    first, second = (pinned.layout_of(each).planting.at for each in parts)
    assert first != second


def plan_places(plan: SeasonPlan, bed: str) -> int:
    (planting,) = [each for each in plan.beds if each.prescription.bed.id == bed]
    return plan.layout_of(planting).counts[0].places


def test_a_cover_is_told_its_seed_depth_inoculant_and_that_it_is_not_fed(pinned: SeasonPlan):
    cover = pinned.plantings[3]
    said = {each.code: each for each in cover.findings}

    seed = said["cover_sown"].values["seed"]
    # 15 to 25 lb/ac (University of Minnesota Extension, cover crops, table of rates) on 200 ft2
    assert (seed.least / 0.45359237, seed.most / 0.45359237) == pytest.approx(
        (15 * 200 / 43560, 25 * 200 / 43560)
    )
    assert {"cover_depth", "cover_inoculant", "cover_not_fed"} <= set(said)
    assert cover.prescription.lines == ()
    assert "settled_with_the_first_crop" not in said
    sown = [each for each in pinned.work.tasks if each.id.startswith("A/hairy_vetch.3/sow")]
    assert len(sown) == 1


def test_later_crops_ask_for_their_nitrogen_alone(pinned: SeasonPlan):
    spinach = pinned.plantings[2].prescription

    assert spinach.first == "lettuce"
    assert all(each.amount.value == 0 for each in spinach.needs)


@pytest.mark.parametrize(
    "more",
    [
        pin("lettuce", "year = 2027\nset_out = 2027-05-10\n"),  # says again what is wanted
        pin("spinach", "year = 2029\n"),  # another year's
        '[[pin]]\nbed = "A"\nyear = 2027\nturn = "late summer"\n',  # kept free
    ],
    ids=["wanted", "later", "free"],
)
def test_what_is_wanted_already_or_of_another_year_adds_nothing(more: str):
    plan = plan_of(garden_text(ALKALINE, crop="lettuce", more=more))

    assert [each.prescription.crop.key for each in plan.plantings] == ["lettuce"]


def test_the_parts_of_a_bed_lie_end_to_end_and_fill_it():
    bed = Bed(id="A", length="10 ft", width="4 ft", long_axis="E-W", corner=["3 ft", "5 ft"],
              parts=3)  # fmt: skip
    whole = bed_frame(bed)
    frames = [bed_frame(piece_of(bed, part)) for part in (1, 2, 3)]

    assert sum(piece_of(bed, part).area_m2 for part in (1, 2, 3)) == pytest.approx(bed.area_m2)
    assert all(each.bearing_rad == pytest.approx(whole.bearing_rad) for each in frames)
    assert all(each.width_m == pytest.approx(whole.width_m) for each in frames)
    starts = [each.origin[0] for each in frames]
    assert starts == pytest.approx([whole.origin[0] + at * whole.length_m / 3 for at in range(3)])


def test_an_undated_winter_cover_is_sown_when_the_years_ahead_would_sow_it():
    more = WEATHER + pin("cereal rye", "year = 2028\n", "A")
    text = garden_text(ALKALINE, crop="lettuce", place=PLACE, more=more)
    document = load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, AS_OF)
    found = with_pins(document, LIBRARY, AS_OF)

    (rye,) = found.garden.want[1:]
    timer = Timer.of(document, LIBRARY)
    (slot,) = [
        each for each in long_slots(candidate_at(document, LIBRARY, "pin", 0), timer)
        if each.turn == "late summer"
    ]  # fmt: skip
    assert rye.set_out == timer.season_start(2027) + timedelta(days=slot.offset)
    assert rye.set_out.year == 2027
    assert found.pinned == {1: 0}
    assert with_pins(found, LIBRARY, AS_OF).garden.want == found.garden.want
