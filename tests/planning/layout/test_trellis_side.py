"""On which side a trellis stands, in both halves of the world, and the light it leaves."""

import numpy as np
import pytest
from laid import HOT, LIBRARY, bed, codes, demo, garden, laid, side, want

from bedwright.planning.light_map import bed_light
from bedwright.planning.sunlight import sunlight


def test_in_an_east_west_bed_at_46_north_the_trellis_stands_on_the_north_side():
    layout = laid(demo("kestrel_bend", "R4", "tomato", "2027-05-10", "lettuce"), "R4")

    assert side(layout) == "north"
    assert codes(layout) & {"side_by_shadow", "side_alike_poleward"}
    assert layout.side is not None
    assert layout.side.taken.low_mol > max(each.low_mol for each in layout.side.judged[1:])


def test_in_an_east_west_bed_at_34_south_the_trellis_stands_on_the_south_side():
    layout = laid(demo("ennery_flat", "1", "tomato", "2026-10-20", "lettuce"), "1")

    assert side(layout) == "south"


# In summer the noon sun of 34 S stands high over the bed; when it is lower its shadow rules.
@pytest.mark.parametrize(("out", "code"), [("2026-11-20", "side_alike_poleward"),
                                           ("2027-03-01", "side_by_shadow")])  # fmt: skip
def test_the_reason_is_that_of_the_season(out, code):
    layout = laid(demo("ennery_flat", "1", "peas", out, "lettuce"), "1")

    assert code in codes(layout)
    assert side(layout) == "south"


@pytest.mark.parametrize("axis", ["E-W", "NW-SE", "NE-SW", "70 deg"])
def test_the_halves_of_the_world_are_mirrored(axis):
    mirrored = {"E-W": "E-W", "NW-SE": "NE-SW", "NE-SW": "NW-SE", "70 deg": "110 deg"}
    north = laid(garden(bed(axis=axis), want("tomato", companion="carrot", out="2027-04-21"),
                        latitude="40 N"))  # fmt: skip
    south = laid(garden(bed(axis=mirrored[axis]),
                        want("tomato", companion="carrot", out="2026-10-21"),
                        latitude="40 S"))  # fmt: skip
    turned = {"north": "south", "northeast": "southeast", "northwest": "southwest"}

    assert north.side is not None and south.side is not None
    assert turned[side(north)] == side(south)
    # The earth stands a little nearer to the sun in the southern summer: up to 7 % more light.
    assert south.side.taken.low_mol == pytest.approx(north.side.taken.low_mol, rel=0.08)


def test_in_a_hot_summer_lettuce_gets_the_shade_of_the_afternoon():
    layout = laid(garden(bed(), want("tomato", companion="lettuce"), more=HOT))

    assert side(layout) == "west"
    assert codes(layout) & {"side_for_relief", "side_for_relief_month"}


def test_a_crop_that_likes_heat_is_not_shaded_on_purpose():
    layout = laid(garden(bed(), want("tomato", companion="basil"), more=HOT))

    assert "side_alike" in codes(layout)
    assert side(layout) == "east"


def test_a_trellis_alone_in_a_north_south_bed_stands_in_the_middle():
    layout = laid(garden(bed(), want("pole bean")))

    assert codes(layout) & {"side_middle", "side_middle_alike"}
    assert layout.rows[0].offset_m == pytest.approx(layout.planting.frame.width_m / 2)


def test_a_bed_beside_that_must_have_its_light_pushes_the_trellis_away():
    beds = bed() + bed("C", corner="5 ft, 0 ft")
    own = '[[crop]]\ncrop = "sun lover"\nlike = "basil"\ndaily_light = 55\n'

    layout = laid(garden(beds, want("tomato") + want("sun lover", "C"), more=own))

    assert "side_for_beds_beside" in codes(layout)
    assert side(layout) == "west"  # the bed beside lies to the east


def test_without_a_latitude_no_side_is_claimed():
    layout = laid(garden(bed(), want("tomato", companion="lettuce"), latitude=None))

    assert layout.lights is None and layout.side is None
    assert "layout_no_latitude" in codes(layout)


@pytest.mark.parametrize("name", ["kestrel_bend", "ennery_flat"])
def test_no_row_of_the_invented_gardens_gets_more_than_the_open_sky(name, request):
    document = request.getfixturevalue(name)
    seen = 0
    for each in document.garden.bed:
        from bedwright.planning.layout.bed import bed_layouts
        from bedwright.planning.layout.plantings import grounds_of

        for layout in bed_layouts(grounds_of(document, LIBRARY), each.id):
            assert layout.lights is not None
            for row in layout.lights.rows:
                assert (row.light_mol_m2_d <= layout.lights.open_mol_m2_d + 1e-9).all()
                assert (row.light_mol_m2_d > 0).all()
                assert (row.sun_h <= layout.lights.open_sun_h + 1e-9).all()
                seen += 1
    assert seen > 6


def test_low_rows_are_lit_less_the_nearer_they_stand_to_the_trellis():
    layout = laid(garden(bed(width="6 ft"), want("tomato", companion="lettuce")))
    assert layout.lights is not None
    tall = next(row.offset_m for row in layout.rows if row.tall)
    low = sorted(
        (abs(row.offset_m - tall), light.light_mol_m2_d[:, 6].mean())
        for row, light in zip(layout.rows, layout.lights.rows, strict=True)
        if not row.tall
    )

    lit = [light for _, light in low]

    assert len(lit) >= 3
    assert lit == sorted(lit)
    assert lit[-1] < layout.lights.open_mol_m2_d[6]


# What stands in the garden ------------------------------------------------------------------------

FENCE = (
    '[[structure]]\nid = "fence"\nkind = "fence"\nheight = "1.8 m"\n'
    'line = [["-200 m", "-0.1 m"], ["200 m", "-0.1 m"]]\n'
)


def test_behind_a_long_fence_to_the_south_a_bed_in_december_has_the_sky_alone():
    beds = bed(length="10 m", width="1.2 m", axis="E-W", corner="0 m, 0 m")
    document = garden(beds, want("kale"), units="metric", more=FENCE)

    light = bed_light(document, LIBRARY)["B"]

    sun = sunlight(document, LIBRARY)
    assert sun is not None
    # Beside an endless wall the share of the sky is (1 + cos b) / 2, tan b = height / distance.
    away = np.array([0.3, 0.7, 1.1])
    shares = (1 + np.cos(np.arctan(1.75 / away))) / 2  # of points 5 cm above the ground
    assert light.light_mol_m2_d[11] == pytest.approx(
        shares.mean() * sun.supply.sky_mol_m2_d[11], rel=0.01
    )
    assert light.sun_h[11] == pytest.approx(0, abs=1e-9)
    assert light.light_mol_m2_d[5] > 0.6 * light.open_mol_m2_d[5]


def test_shade_cloth_counts_only_while_it_hangs():
    cloth = (
        '[[structure]]\nid = "cloth"\nkind = "shade cloth"\nheight = "2 m"\nopenness = "50 %"\n'
        'outline = [["-50 m", "-50 m"], ["50 m", "-50 m"], ["50 m", "50 m"], ["-50 m", "50 m"]]\n'
        'from_day = "06-15"\nto_day = "09-10"\n'
    )
    light = bed_light(garden(bed(), want("kale"), more=cloth), LIBRARY)["B"]
    share = light.light_mol_m2_d / light.open_mol_m2_d

    assert share[[6, 7]] == pytest.approx(0.5, abs=0.02)
    assert np.delete(share, [5, 6, 7]) == pytest.approx(1, abs=1e-6)


def test_a_bed_without_a_corner_is_taken_to_lie_open():
    loose = '[[bed]]\nid = "B"\nlength = "50 ft"\nwidth = "4 ft"\nlong_axis = "N-S"\n'
    document = garden(loose, want("kale"), more=FENCE)

    light = bed_light(document, LIBRARY)["B"]

    assert not light.placed
    assert light.light_mol_m2_d == pytest.approx(light.open_mol_m2_d)
    assert "layout_unplaced" in codes(laid(document))


def test_where_nothing_tells_the_radiation_the_sky_is_taken_as_clear_and_said_to_be():
    clear = sunlight(garden(bed(), want("kale")), LIBRARY)
    ranged = sunlight(garden(bed(), want("kale"), more=HOT), LIBRARY)

    assert clear is not None and ranged is not None
    assert clear.origin == "clear_sky" and clear.findings[0].code == "light_of_clear_sky"
    assert ranged.origin == "range" and ranged.findings[0].code == "light_by_temperature_range"
    assert (ranged.supply.open_mol_m2_d < clear.supply.open_mol_m2_d + 1e-9).all()


def test_a_garden_without_a_latitude_has_no_light_map():
    assert bed_light(garden(bed(), want("kale"), latitude=None), LIBRARY) == {}


def test_shade_that_leaves_a_crop_too_little_is_told_with_its_month():
    shed = (
        '[[structure]]\nid = "shed"\nkind = "building"\nheight = "6 m"\n'
        'outline = [["-30 m", "-8 m"], ["30 m", "-8 m"], ["30 m", "-0.2 m"], ["-30 m", "-0.2 m"]]\n'
    )
    beds = bed(length="10 m", width="1.2 m", axis="E-W", corner="0 m, 0 m")

    layout = laid(garden(beds, want("tomato", out="2027-08-01"), units="metric", more=shed))

    assert codes(layout) & {"rows_thin", "rows_dark"}
