"""Whatever is wanted of whatever bed: rows stay in it, no light comes from nowhere."""

import math

from hypothesis import given
from hypothesis import strategies as st
from laid import LIBRARY, bed, garden, want

from bedwright.planning.layout.bed import bed_layouts
from bedwright.planning.layout.plantings import grounds_of
from bedwright.reports.layout_json import layout_dict
from bedwright.reports.layout_text import layout_text
from bedwright.sheets.bed_layout import layout_drawing, rows_told
from bedwright.units import UnitSystem

CROPS = sorted(row["crop"] for row in LIBRARY.rows("crops"))
AXES = st.sampled_from(["N-S", "E-W", "NE-SW", "NW-SE", "17 deg", "141 deg"])


@given(
    crop=st.sampled_from(CROPS),
    companion=st.one_of(st.none(), st.sampled_from(CROPS)),
    length=st.floats(1.0, 40.0),
    width=st.floats(0.2, 3.0),
    axis=AXES,
    latitude=st.sampled_from(["62 N", "46.1 N", "12 N", "0 N", "20 S", "34.2 S", "55 S"]),
    month=st.integers(1, 12),
)
def test_every_bed_is_laid_within_itself_and_lit_by_the_sky_alone(
    crop, companion, length, width, axis, latitude, month
):
    beds = bed(length=f"{length:.2f} m", width=f"{width:.2f} m", axis=axis, corner="0 m, 0 m")
    wants = want(crop, out=f"2027-{month:02d}-09", companion=companion)
    document = garden(beds, wants, latitude=latitude, units="metric")
    grounds = grounds_of(document, LIBRARY)

    layouts = bed_layouts(grounds, "B")

    assert layouts or grounds.not_laid["B"]
    for layout in layouts:
        frame = layout.planting.frame
        for row in layout.rows:
            assert -1e-9 <= row.offset_m <= frame.width_m + 1e-9
            assert all(-1e-9 <= each <= frame.length_m + 1e-9 for each in row.places)
        offsets = [row.offset_m for row in layout.rows]
        assert offsets == sorted(offsets)
        assert layout.lights is not None
        for light in layout.lights.rows:
            assert (light.light_mol_m2_d <= layout.lights.open_mol_m2_d + 1e-9).all()
            assert (light.light_mol_m2_d >= 0).all()
        counted = {count.crop: count.places for count in layout.counts}
        for key, count in counted.items():
            assert count == sum(len(row.places) for row in layout.rows if row.crop == key)
        for parts in layout.trellises:
            assert parts.posts >= 2 and not math.isnan(parts.post_length.value)
        # What is made of it is made without a missing word.
        assert layout_text(layout, LIBRARY, "Under test", UnitSystem.METRIC)
        assert layout_dict(layout)["rows"]
        assert "NaN" not in str(layout_dict(layout)).replace("nan", "NaN")
        assert rows_told(layout, UnitSystem.US)[0]
        assert layout_drawing(layout, document, UnitSystem.METRIC).startswith("<svg")
