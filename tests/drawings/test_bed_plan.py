"""One bed drawn: its sides, its direction, its rows, and words that keep their place."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reading_drawings import apart, area, read_drawing

from bedwright.drawings import Row, bed_drawing
from bedwright.garden import Bed
from bedwright.garden.ground_plan import ground_plan
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.units import UnitSystem

L_SHAPE = [("0", "0"), ("16", "0"), ("16", "5"), ("5", "5"), ("5", "14"), ("0", "14")]
CORNER = Bed(id="W14", outline=[(f"{x} ft", f"{y} ft") for x, y in L_SHAPE], long_axis="E-W")


def rectangle(axis: str | None = "N-S", length="50 ft", width="4 ft", **more) -> Bed:
    return Bed(id="W1", length=length, width=width, long_axis=axis, **more)


def drawing(bed: Bed, **more):
    given = {"crop": "tomato", "last_crop": "pole bean 2026", "system": UnitSystem.US}
    return read_drawing(bed_drawing(bed, **(given | {"words": DRAWING_WORDS} | more)))


def check_readable(drawn) -> None:
    width, height = drawn.size
    for text in drawn.texts:
        for x, y in text.corners:
            assert -0.01 <= x <= width + 0.01, text
            assert -0.01 <= y <= height + 0.01, text
        assert text.size >= 12
    for at, one in enumerate(drawn.texts):
        for other in drawn.texts[at + 1 :]:
            assert apart(one.corners, other.corners), (one, other)


@pytest.mark.parametrize(
    ("axis", "degrees"),
    # The bearing of the long axis points to the right: seen so, north lies to the right of a bed
    # that lies north-south, at the top of one east-west, to the upper right of one northeast.
    [("N-S", 90), ("20 deg", 70), ("NE-SW", 45), ("E-W", 0), ("NW-SE", -45), ("170 deg", -80)],
)
def test_the_arrow_points_north(axis, degrees):
    (arrow,) = drawing(rectangle(axis)).all("north")

    assert float(arrow.get("data-degrees")) == pytest.approx(degrees)
    assert arrow.get("transform").endswith(f"rotate({degrees})")


def turned_back(drawn, bed):
    """The drawn corners as east and north of the first [m], by the arrow's direction."""
    (arrow,) = drawn.all("north")
    turn = math.radians(float(arrow.get("data-degrees")))
    outline = drawn.outline(bed.id)
    x0, y0 = outline[0]
    north = (math.sin(turn), -math.cos(turn))  # on the page, y down
    east = (math.cos(turn), math.sin(turn))  # a quarter turn clockwise from north
    return [
        (
            ((x - x0) * east[0] + (y - y0) * east[1]) / drawn.scale,
            ((x - x0) * north[0] + (y - y0) * north[1]) / drawn.scale,
        )
        for x, y in outline
    ]


@given(
    axis=st.floats(0, 179.9),
    length=st.floats(0.5, 90),
    width=st.floats(0.3, 6),
    size=st.tuples(st.sampled_from([260, 390, 720]), st.sampled_from([200, 400])),
    system=st.sampled_from(list(UnitSystem)),
    raised=st.booleans(),
    crop=st.none() | st.text(max_size=30),
)
def test_any_bed_is_drawn_true_level_and_never_mirrored(
    axis, length, width, size, system, raised, crop
):
    more = {"kind": "raised", "fill_depth": "11 in"} if raised else {}
    bed = rectangle(f"{axis} deg", f"{length} m", f"{width} m", **more)
    drawn = drawing(bed, width_px=size[0], height_px=size[1], system=system, crop=crop)

    plan = ground_plan(bed)
    for (east, north), (x, y) in zip(turned_back(drawn, bed), plan, strict=True):
        assert (east, north) == (
            pytest.approx(x - plan[0][0], abs=0.01 + 0.002 / drawn.scale),
            pytest.approx(y - plan[0][1], abs=0.01 + 0.002 / drawn.scale),
        )
    (x1, y1), (x2, y2) = drawn.outline(bed.id)[:2]
    assert abs(y2 - y1) < 0.01
    assert abs(x2 - x1) == pytest.approx(max(length, width) * drawn.scale, abs=0.01)
    assert drawn.size[1] <= size[1] + 60
    check_readable(drawn)


def test_a_rectangle_is_measured_on_two_sides():
    words = drawing(rectangle()).words()

    assert "50 ft" in words
    assert "4 ft" in words
    assert {"W1", "tomato", "pole bean 2026"} <= set(words)


def test_an_outline_is_measured_on_every_side_and_keeps_its_shape():
    drawn = drawing(CORNER)
    written = [each.words for each in drawn.texts if "dimension-words" in each.kinds]

    assert sorted(written) == ["11 ft", "14 ft", "16 ft", "5 ft", "5 ft", "9 ft"]
    to_scale = CORNER.area_m2 * drawn.scale**2
    assert abs(area(drawn.outline("W14"))) == pytest.approx(to_scale, rel=1e-3)
    check_readable(drawn)
    assert turned_back(drawn, CORNER)[1] == (pytest.approx(16 * 0.3048, abs=1e-3), pytest.approx(0))


def test_the_depth_of_a_raised_bed_is_noted_and_its_outline_double():
    drawn = drawing(rectangle(kind="raised", fill_depth="17 in", length="12 ft"))

    assert "Raised, filled 17 in deep." in drawn.words()
    assert len(drawn.all("wall")) == 1
    assert drawing(rectangle()).all("wall") == []


def test_a_bed_whose_direction_is_not_stated_has_no_arrow_and_says_so():
    drawn = drawing(rectangle(None))

    assert drawn.all("north") == []
    assert "Its direction is not stated." in drawn.words()


@pytest.mark.parametrize(("length", "width"), [("8 ft", "4 ft"), ("4 ft", "8 ft")])
def test_a_bed_whose_direction_is_not_stated_lies_as_long_as_its_lines_say(length, width):
    drawn = drawing(rectangle(None, length, width))

    xs, ys = zip(*drawn.outline("W1"), strict=True)
    assert (max(xs) - min(xs)) / drawn.scale == pytest.approx(8 * 0.3048, abs=1e-3)
    assert (max(ys) - min(ys)) / drawn.scale == pytest.approx(4 * 0.3048, abs=1e-3)
    beneath = {each.words: each for each in drawn.texts if "dimension-words" in each.kinds}
    assert set(beneath) == {"8 ft", "4 ft"}
    check_readable(drawn)


def test_metric_beds_are_measured_in_meters():
    drawn = drawing(rectangle("E-W", "15 m", "90 cm"), system=UnitSystem.METRIC)

    assert {"15 m", "90 cm"} <= set(drawn.words())


# Rows ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("axis", "first"),
    # the top of the drawing: west of a bed north-south, north of one east-west
    [("N-S", (-1, 0)), ("E-W", (0, 1)), ("NW-SE", (math.sqrt(0.5), math.sqrt(0.5)))],
)
def test_rows_lie_at_their_distance_from_the_side_at_the_top(axis, first):
    bed = rectangle(axis)
    drawn = drawing(bed, rows=[Row(0.3, "carrot"), Row(0.9, "beet")])
    top = min(y for _, y in drawn.outline("W1"))
    (rows,) = drawn.all("rows")
    at = {each.get("data-row"): (float(each.get("y1")) - top) / drawn.scale for each in rows}

    assert at == {
        "carrot": pytest.approx(0.3, abs=1e-3),
        "beet": pytest.approx(0.9, abs=1e-3),
    }
    (arrow,) = drawn.all("north")
    turn = math.radians(float(arrow.get("data-degrees")))
    # up on the page, as east and north
    up = (-math.sin(turn), math.cos(turn))
    assert up == (pytest.approx(first[0], abs=1e-9), pytest.approx(first[1], abs=1e-9))
    assert {"carrot", "beet"} <= set(drawn.words())


def test_rows_take_the_place_of_the_ruling():
    assert len(drawing(rectangle()).all("ruling")) == 1
    ruled = drawing(rectangle(), rows=[Row(0.6, "carrot")])
    assert ruled.all("ruling") == []
    assert "Ruled every 12 in." not in ruled.words()


def test_rows_keep_within_an_outline():
    drawn = drawing(CORNER, rows=[Row(1.0, "bean"), Row(3.5, "squash")])
    (rows,) = drawn.all("rows")
    reach = {each.get("data-row"): float(each.get("x2")) for each in rows}
    right = max(x for x, _ in drawn.outline("W14"))

    assert reach["bean"] < right - 10 * 0.3048 * drawn.scale
    assert reach["squash"] == pytest.approx(right, abs=10)


@given(
    st.lists(
        st.tuples(st.floats(0, 1.2), st.text(min_size=1, max_size=20)), min_size=1, max_size=30
    ),
    st.sampled_from([260, 720]),
)
def test_rows_are_named_along_them_or_below_the_bed(rows, width):
    bed = rectangle("E-W", "15 m", "1.2 m")
    drawn = drawing(bed, rows=[Row(*each) for each in rows], width_px=width)
    width_px, height = drawn.size

    for text in drawn.texts:
        for x, y in text.corners:
            assert -0.01 <= x <= width_px + 0.01
            assert -0.01 <= y <= height + 0.01
    told_below = any(each.startswith("Rows from the top:") for each in drawn.words())
    along = [each for each in drawn.texts if each.bed == "W1"]
    assert told_below or len(along) >= len(rows)


@pytest.mark.parametrize("offset", [-0.01, 1.3, math.nan, math.inf])
def test_a_row_outside_the_bed_is_refused(offset):
    with pytest.raises(ValueError, match="outside the bed"):
        drawing(rectangle(), rows=[Row(offset, "carrot")])


@pytest.mark.parametrize("name", ["<script>x</script>", "\"'><g onload=x>", "nul\x00\ufffe"])
def test_hostile_words_stay_words(name):
    drawn = drawing(rectangle(), crop=name, last_crop=name, rows=[Row(0.4, name)])

    for each in drawn.root.iter():
        assert not each.tag.endswith("script")
        assert not [key for key in each.attrib if key.lower().startswith("on")]


def test_a_size_too_small_to_read_is_refused():
    with pytest.raises(ValueError, match="too small"):
        drawing(rectangle(), height_px=100)
