"""Rows, plants and seed of a bed, counted by hand."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from laid import LIBRARY, bed, codes, garden, laid, want

from bedwright.drawings.geometry import contains
from bedwright.garden import Bed
from bedwright.planning.layout.frame import bed_frame
from bedwright.planning.layout.rows import (
    places,
    row_at,
    row_count,
    triangular,
    triangular_grid_plants,
)
from bedwright.units import to_si

FT, IN = to_si(1, "ft", "length"), to_si(1, "in", "length")
LONG = bed(length="100 ft", width="30 in")
L_SHAPE = [("0", "0"), ("16", "0"), ("16", "5"), ("5", "5"), ("5", "14"), ("0", "14")]


def spaced(crop: str, in_row: str, between: str, **more: str) -> str:
    """A cultivar that says how far apart it wants to stand."""
    rest = "".join(f'{key} = "{each}"\n' for key, each in more.items())
    return (
        f'[[crop]]\ncrop = "{crop}"\nspacing_in_row = "{in_row}"\n'
        f'spacing_between_rows = "{between}"\n{rest}'
    )


# 100 ft by 30 in: 12 in each way take 2 rows of 100, 6 in take 5 rows of 200, by hand.
@pytest.mark.parametrize(("inches", "rows", "plants"), [(12, 2, 200), (6, 5, 1000)])
def test_a_square_grid_takes_as_many_plants_as_are_counted_by_hand(inches, rows, plants):
    own = spaced("lettuce", f"{inches} in", f"{inches} in")

    (count,) = laid(garden(LONG, want("lettuce"), more=own)).counts

    assert (count.rows, count.plants.value) == (rows, plants)


def test_a_triangular_grid_takes_two_over_the_root_of_three_as_many_less_the_edges():
    exact = triangular_grid_plants(250 * FT**2, 6 * IN)
    rows = triangular(bed_frame(Bed(id="B", length="100 ft", width="30 in")), "lettuce", 6 * IN)

    assert exact == pytest.approx(1000 * 2 / math.sqrt(3))  # 1155 by the published factor 1.155
    counted = sum(len(row.places) for row in rows)
    assert 0.85 * exact < counted <= exact
    apart = [b.offset_m - a.offset_m for a, b in pairwise(rows)]
    assert apart == pytest.approx([6 * IN * math.sqrt(3) / 2] * (len(rows) - 1))


def test_carrots_of_three_rows_take_an_ounce_and_a_half_of_seed():
    # The planting chart's half ounce for 100 ft of row, on three rows of a 100 ft bed.
    own = spaced("carrot", "2 in", "10 in")

    (count,) = laid(garden(LONG, want("carrot"), more=own)).counts

    assert count.rows == 3
    assert count.seed_mass is not None
    assert count.seed_mass.value == pytest.approx(1.5 * to_si(1, "oz", "mass"), rel=1e-6)


def test_beets_take_an_ounce_for_a_hundred_feet_of_row():
    own = spaced("beet", "3 in", "30 in")

    (count,) = laid(garden(LONG, want("beet"), more=own)).counts

    assert count.rows == 1
    assert count.seed_mass is not None
    assert count.seed_mass.value == pytest.approx(to_si(1, "oz", "mass"), rel=1e-6)


def test_what_is_set_out_is_raised_with_a_tenth_to_spare_and_sown_by_its_germination():
    own = spaced("lettuce", "12 in", "12 in")
    (count,) = laid(garden(LONG, want("lettuce"), more=own)).counts
    germination = LIBRARY.fact("crop_growing", "lettuce", "germination", "-")

    assert count.to_raise is not None and count.seeds is not None and germination is not None
    assert count.to_raise.value == 220
    assert count.seeds.value == math.ceil(220 / germination.value)
    assert {each.name for each in count.seeds.inputs} == {"to_raise", "germination"}


def test_rows_lie_evenly_and_half_a_distance_from_the_sides():
    own = spaced("lettuce", "12 in", "12 in")

    rows = laid(garden(bed(), want("lettuce"), more=own)).rows

    assert [row.offset_m / IN for row in rows] == pytest.approx([6, 18, 30, 42])


def test_a_bed_narrower_than_a_rows_distance_takes_one_row():
    assert row_count(30 * IN, 36 * IN) == 1
    assert row_count(1.2, 2 * FT) == 2  # a metric bed is not 2 cm too narrow
    with pytest.raises(ValueError, match="apart_m"):
        row_count(1.2, 0)


def test_vines_that_are_wider_than_the_bed_are_told():
    assert "vines_over_paths" in codes(laid(garden(bed(), want("winter squash"))))


def test_the_gardeners_own_cultivar_outranks_the_table():
    own = '[[crop]]\ncrop = "little gem"\nlike = "lettuce"\nspacing_in_row = "5 in"\n'

    layout = laid(garden(bed(), want("little gem"), more=own))

    assert layout.planting.crop.in_row.value == pytest.approx(5 * IN)
    assert layout.planting.crop.in_row.origin == "stated"
    assert layout.planting.crop.name == "little gem"
    assert layout.planting.crop.between_rows.origin == "table"


def test_an_l_shaped_bed_has_rows_as_long_as_its_arms():
    corners = ", ".join(f'["{x} ft", "{y} ft"]' for x, y in L_SHAPE)
    corner = (
        f'[[bed]]\nid = "B"\noutline = [{corners}]\nlong_axis = "E-W"\ncorner = ["0 ft", "0 ft"]\n'
    )
    own = spaced("lettuce", "12 in", "12 in")

    layout = laid(garden(corner, want("lettuce"), more=own))

    # North first: nine rows cross the narrow arm, five the long one.
    assert [round(row.length_m / FT) for row in layout.rows] == [5] * 9 + [16] * 5
    assert [len(row.places) for row in layout.rows] == [5] * 9 + [16] * 5
    assert layout.counts[0].plants.value == 9 * 5 + 5 * 16


@pytest.mark.parametrize("latitude", ["46.1 N", "34 S"])
def test_the_tall_row_of_an_l_shaped_bed_stands_in_its_long_arm(latitude):
    corners = ", ".join(f'["{x} ft", "{y} ft"]' for x, y in L_SHAPE)
    corner = (
        f'[[bed]]\nid = "B"\noutline = [{corners}]\nlong_axis = "E-W"\ncorner = ["0 ft", "0 ft"]\n'
    )
    out = "2027-05-10" if latitude.endswith("N") else "2026-11-10"

    layout = laid(garden(corner, want("tomato", out=out, companion="lettuce"), latitude=latitude))

    (tall,) = [row for row in layout.rows if row.tall]
    assert tall.length_m == pytest.approx(16 * FT)
    assert 9 * FT <= tall.offset_m <= 14 * FT


@pytest.mark.parametrize("axis", ["N-S", "20 deg", "NE-SW", "E-W", "NW-SE", "170 deg"])
def test_rows_lie_on_the_ground_where_the_bed_lies(axis):
    frame = bed_frame(
        Bed(id="B", length="30 ft", width="4 ft", long_axis=axis, corner=("7 ft", "3 ft"))
    )
    from bedwright.garden.ground_plan import placed_plan

    plan = placed_plan(
        Bed(id="B", length="30 ft", width="4 ft", long_axis=axis, corner=("7 ft", "3 ft"))
    )

    assert plan is not None
    back = sorted(frame.ground(*each) for each in frame.corners)
    assert [x for point in back for x in point] == pytest.approx(
        [x for point in sorted(plan) for x in point]
    )


@given(
    start=st.floats(0, 30),
    length=st.floats(0.05, 60),
    spacing=st.floats(0.02, 4),
)
def test_plants_keep_half_their_spacing_to_the_ends_and_a_whole_one_to_each_other(
    start, length, spacing
):
    found = places((start, start + length), spacing)

    assert len(found) <= length / spacing + 1e-6 or len(found) == 1
    if len(found) > 1:
        assert found[0] >= start + spacing / 2 - 1e-6
        assert found[-1] <= start + length - spacing / 2 + 1e-6
        assert min(b - a for a, b in pairwise(found)) >= spacing - 1e-6
    # one more would not fit
    assert (len(found) + 1) * spacing > length - 1e-6


@given(
    across=st.floats(0.01, 0.99),
    spacing=st.floats(0.05, 2),
    degrees=st.integers(0, 179),
    cut=st.tuples(st.floats(0.2, 0.8), st.floats(0.2, 0.8)),
)
def test_every_plant_stands_within_its_bed(across, spacing, degrees, cut):
    x, y = 6 * cut[0], 4 * cut[1]
    corners = [(0, 0), (6, 0), (6, y), (x, y), (x, 4), (0, 4)]
    given_bed = Bed(
        id="B",
        outline=[(f"{a:.6f} m", f"{b:.6f} m") for a, b in corners],
        long_axis=f"{degrees} deg",
    )
    frame = bed_frame(given_bed)
    row = row_at(frame, "lettuce", across * frame.width_m, spacing)

    for each in row.places:
        assert contains(frame.corners, (each, min(max(row.offset_m, 1e-6), frame.width_m - 1e-6)))
