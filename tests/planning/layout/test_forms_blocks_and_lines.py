"""The grid's form of a crop, corn in blocks, the zone's own lines, the room beside a trellis."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from laid import HOT, LIBRARY, bed, codes, garden, laid, want

from bedwright.planning.layout.crop_facts import NoSpacing, layout_crop, timing_tables
from bedwright.planning.sunlight import sunlight
from bedwright.planning.watering.lines import zone_lines
from bedwright.reports.layout_json import layout_dict
from bedwright.reports.layout_text import count_lines, counted, trellis_lines
from bedwright.sheets.bed_layout import rows_told
from bedwright.units import UnitSystem, to_si

FT, IN = to_si(1, "ft", "length"), to_si(1, "in", "length")
US = UnitSystem.US


def zoned(zone: str, crop: str = "sweet pepper", **how):
    described = f'[[water_zone]]\nid = "drip"\n{zone}\n'
    return garden(bed(more='water_zone = "drip"', **how), want(crop), more=described)


# Grid


def test_no_crop_stands_closer_on_the_grid_than_in_its_rows():
    """A closer spacing is that of a smaller form: leaf lettuce, not heads; garlic pulled green."""
    tables = timing_tables(LIBRARY)
    closer = []
    for row in LIBRARY.rows("crops"):
        try:
            crop = layout_crop(LIBRARY, tables, row["crop"], None, room_m=0.0)
        except NoSpacing:
            continue
        if crop.grid_spacing.value < crop.in_row.value:
            closer.append(crop.key)
    assert closer == []


@pytest.mark.parametrize("crop", ["lettuce", "garlic"])
def test_the_grid_counts_the_form_that_the_rows_have(crop):
    layout = laid(garden(bed(), want(crop)))
    spacing = layout.planting.crop.in_row.value

    assert layout.planting.crop.equidistant.value < spacing  # the table's, of a smaller form
    assert layout.planting.crop.grid_spacing.value == spacing
    most = 50 * 4 * FT**2 / (spacing**2 * 3**0.5 / 2)  # the whole area, no edges
    assert layout.grid is not None and layout.grid <= most


def test_the_gardeners_own_spacing_is_that_of_the_grid_too():
    own = '[[crop]]\ncrop = "lettuce"\nspacing_in_row = "4 in"\nspacing_between_rows = "12 in"\n'

    layout = laid(garden(bed(), want("lettuce"), more=own))

    assert layout.planting.crop.grid_spacing.value == pytest.approx(4 * IN)


# Drip


@pytest.mark.parametrize(
    ("zone", "lines", "each_row"),
    [
        ("lines = 3", 3, False),
        ("lines = 2", 2, True),  # as many as the two rows of pepper
        ('line_spacing = "12 in"', 4, False),  # over 48 in
        ("", 2, True),
    ],
)
def test_the_lines_of_the_zone_lie_on_the_bed(zone, lines, each_row):
    document = zoned(zone)
    drip = laid(document).drip

    assert (drip.lines, drip.each_row) == (lines, each_row)
    assert drip.length_m == pytest.approx(lines * 50 * FT)


@pytest.mark.parametrize("zone", ["lines = 3", 'line_spacing = "16 in"', ""])
def test_layout_and_watering_count_the_same_lines(zone):
    document = zoned(f'{zone}\nemitter_flow = "0.5 gal/h"\nemitter_spacing = "12 in"')
    layout = laid(document)

    (found,) = zone_lines(
        document, LIBRARY, {"B": layout.planting.crop.between_rows.value}
    )["drip"].beds  # fmt: skip

    assert (found.count, found.length_m) == (layout.drip.lines, pytest.approx(layout.drip.length_m))


# Room beside a trellis


@pytest.mark.parametrize("width", ["30 in", "4 ft", "5 ft"])
def test_low_rows_take_what_room_there_is_away_from_the_trellis(width):
    document = garden(bed(width=width, axis="E-W"), want("tomato", companion="lettuce"))
    layout = laid(document)
    low = layout.planting.companion
    assert low is not None
    (tall,) = (row.offset_m for row in layout.rows if row.tall)
    wide, apart = layout.planting.frame.width_m, low.between_rows.value
    for sign, side in ((-1, 0.0), (1, wide)):
        rows = sorted(
            abs(row.offset_m - side) for row in layout.rows
            if not row.tall and (row.offset_m - tall) * sign > 0
        )  # fmt: skip
        if not rows:
            continue
        # No farther from the side than half a row's distance: what is left is next to the trellis.
        assert rows[0] <= apart / 2 + 1e-9
        assert np.diff(rows) == pytest.approx(apart)
        nearest = abs(tall - side) - rows[-1]
        assert (
            nearest >= (layout.planting.crop.equidistant.value + low.equidistant.value) / 2 - 1e-9
        )


# Corn


def test_sweet_corn_in_two_rows_is_warned_of_and_in_four_it_is_not():
    narrow, wide = (laid(garden(bed(width=each), want("sweet corn"))) for each in ("4 ft", "10 ft"))

    assert len(narrow.rows) < 3 <= len(wide.rows)
    assert "rows_too_few_for_wind" in codes(narrow)
    assert "rows_too_few_for_wind" not in codes(wide)


@pytest.mark.parametrize(("out", "warned"), [("2027-05-12", False), ("2027-06-10", True)])
def test_beds_of_corn_side_by_side_are_one_block_where_they_are_sown_together(out, warned):
    beds = bed("B") + bed("C", corner="5 ft, 0 ft") + bed("D", corner="10 ft, 0 ft")
    wants = want("sweet corn", "B", out=out) + want("sweet corn").replace('["B"]', '["C"]')
    document = garden(beds, wants + want("sweet corn", "D", out=out))

    assert ("rows_too_few_for_wind" in codes(laid(document, "C"))) == warned


def test_what_bees_or_nothing_pollinates_is_not_asked_for_a_block():
    assert "rows_too_few_for_wind" not in codes(laid(garden(bed(), want("summer squash"))))


# A crop that shares the bed


def test_a_second_crop_has_its_count_its_plants_to_raise_and_its_days():
    layout = laid(garden(bed(), want("tomato", companion="basil")))
    days = layout.companion_days
    assert days is not None
    count = next(each for each in layout.counts if each.crop == "basil")

    # basil in the tables: 6 weeks under cover, 60 days to the first picking, 8 weeks of it
    assert days.sow_under_cover == date(2027, 3, 29)
    assert (days.start, days.first_pick) == (date(2027, 5, 10), date(2027, 7, 9))
    assert days.end == date(2027, 9, 3)
    page = " ".join(count_lines(layout, US))
    assert "March 29" in page and "July 9" in page
    assert count.to_raise is not None
    sheet = " ".join(rows_told(layout, US)[0])
    assert f"raise {count.to_raise.value:.0f}" in sheet
    assert layout_dict(layout)["companion_days"] == {
        "sow_under_cover": "2027-03-29", "start": "2027-05-10", "first_pick": "2027-07-09",
        "end": "2027-09-03",
    }  # fmt: skip


def test_a_bed_of_one_crop_tells_no_days_of_a_second():
    layout = laid(garden(bed(), want("tomato")))

    assert layout.companion_days is None
    assert layout_dict(layout)["companion_days"] is None


# Words


def test_one_is_in_the_singular():
    short = laid(garden(bed(length="2 ft", width="30 in"), want("pole bean")))
    one = replace(short.trellises[0], panels=1)

    assert counted("place", 1) == "1 plant" and counted("seed", 2) == "2 seeds"
    assert "1 mesh panel," in " ".join(trellis_lines(one, US))


# Light


def weather(rain_mm: int):
    rain = ", ".join([f'"{rain_mm} mm"'] * 12)
    wet = ", ".join(["8"] * 12)
    return f"{HOT}rain = [{rain}]\nwet_days = [{wet}]\n"


def test_in_dry_air_less_of_the_suns_energy_is_light():
    """Szeicz 1974 and Jacovides 2003: 0.50 at large, 0.454 in a dry climate."""
    suns = {
        mm: sunlight(garden(bed(), want("kale"), more=weather(mm)), LIBRARY) for mm in (15, 150)
    }
    dry, moist = suns[15], suns[150]
    assert dry is not None and moist is not None

    assert np.array_equal(dry.radiation_mj_m2, moist.radiation_mj_m2)
    ratio = dry.supply.open_mol_m2_d.sum() / moist.supply.open_mol_m2_d.sum()
    assert ratio == pytest.approx(0.454 / 0.50)
    assert "light_share_dry_air" in {each.code for each in dry.findings}
    assert not {each.code for each in moist.findings} & {
        "light_share_dry_air", "light_share_air_unknown",
    }  # fmt: skip


def test_without_the_years_rain_it_is_said_what_is_taken():
    sun = sunlight(garden(bed(), want("kale"), more=HOT), LIBRARY)
    assert sun is not None

    assert "light_share_air_unknown" in {each.code for each in sun.findings}
