"""Rows with their plants, the trellis with its posts, and the light along the bed, as drawn."""

import pytest
from reading_drawings import apart, read_drawing

from bedwright.drawings import LightStrip, Row, bed_drawing
from bedwright.drawings.light_strip import tone
from bedwright.garden import Bed
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.units import UnitSystem

BED = Bed(id="W1", length="10 m", width="1.2 m", long_axis="E-W")
PLACES = tuple(0.5 + at for at in range(10))


def drawing(rows=(), strips=(), bed=BED, **more):
    given = {"crop": "tomato", "last_crop": None, "system": UnitSystem.METRIC}
    return read_drawing(
        bed_drawing(bed, **given, words=DRAWING_WORDS, rows=rows, strips=strips, **more)
    )


def strip(*light: float, title="Lettuce: light in July") -> LightStrip:
    return LightStrip(title, light, 60.0, 0.0, 10.0)


def test_each_plant_has_its_tick_to_scale():
    drawn = drawing([Row(0.3, "tomato", PLACES)])
    scale = float(drawn.root.get("data-px-per-m"))
    left = min(x for x, _ in drawn.outline("W1"))

    (ticks,) = drawn.all("plants")

    xs = [float(each.get("x1")) for each in ticks]
    assert xs == pytest.approx([left + each * scale for each in PLACES], abs=0.01)


def test_ticks_that_would_run_together_are_left_out():
    close = tuple(0.05 * at for at in range(200))

    assert drawing([Row(0.3, "carrot", close)]).all("plants") == []


def test_a_trellis_is_a_heavy_line_with_its_posts():
    drawn = drawing([Row(0.3, "tomato", PLACES, (0.0, 5.0, 10.0)), Row(0.8, "lettuce")])

    (posts,) = drawn.all("posts")
    (lines,) = drawn.all("rows")
    weights = {
        each.get("data-row"): float(each.get("stroke-width") or lines.get("stroke-width"))
        for each in lines
        if each.get("data-row")
    }
    assert len(list(posts)) == 3
    assert weights["tomato"] > 2 * weights["lettuce"]


def test_the_light_stands_level_with_the_bed_and_is_told_in_figures():
    drawn = drawing(strips=[strip(60, 45, 30)])
    outline = drawn.outline("W1")
    left, right = min(x for x, _ in outline), max(x for x, _ in outline)

    (group,) = drawn.all("light")

    cells = [each for each in group if each.get("data-light")]
    assert float(cells[0].get("x")) == pytest.approx(left, abs=0.1)
    last = cells[-1]
    assert float(last.get("x")) + float(last.get("width")) == pytest.approx(right, abs=0.1)
    assert {"60", "45", "30"} <= {text.words for text in drawn.texts}


def luminance(gray: str) -> float:
    level = int(gray[1:3], 16) / 255
    return level / 12.92 if level <= 0.04045 else ((level + 0.055) / 1.055) ** 2.4


@pytest.mark.parametrize("share", [0.0, 0.25, 0.5, 1.0])
def test_figures_stand_seven_to_one_on_every_tone(share):
    assert (luminance(tone(share)) + 0.05) / (luminance("#141414") + 0.05) >= 7


def test_less_light_is_a_darker_tone():
    tones = [luminance(tone(each / 10)) for each in range(11)]

    assert tones == sorted(tones)
    assert tones[-1] == luminance("#ffffff")


@pytest.mark.parametrize("width", [320.0, 590.0, 720.0])
@pytest.mark.parametrize("length", ["2 m", "10 m", "30 m"])
def test_the_words_keep_their_place(width, length):
    bed = Bed(id="W1", length=length, width="1 m", long_axis="NW-SE")
    end = float(length.split()[0])
    strips = [
        LightStrip(title, tuple(40.0 + at for at in range(9)), 60.0, 0.0, end)
        for title in ("Lettuce: light in July", "Tomato: light in July")
    ]
    drawn = drawing([Row(0.2, "tomato"), Row(0.7, "lettuce")], strips, bed, width_px=width,
                    height_px=500.0)  # fmt: skip

    wide, tall = drawn.size
    for at, one in enumerate(drawn.texts):
        assert one.size >= 12
        for x, y in one.corners:
            assert -0.01 <= x <= wide + 0.01, one
            assert -0.01 <= y <= tall + 0.01, one
        for other in drawn.texts[at + 1 :]:
            assert apart(one.corners, other.corners), (one, other)


def test_the_rows_name_covers_neither_plant_nor_post():
    drawn = drawing([Row(0.6, "tomato", PLACES, (0.0, 5.0, 10.0))], width_px=720.0)
    (posts,) = drawn.all("posts")
    (ticks,) = drawn.all("plants")
    (name,) = (text for text in drawn.texts if text.words == "tomato" and text.size < 13)
    xs, ys = ([point[at] for point in name.corners] for at in (0, 1))
    feet = [(float(p.get("x")) + 3, float(p.get("y")) + 3, 3.0) for p in posts]
    feet += [
        (float(t.get("x1")), (float(t.get("y1")) + float(t.get("y2"))) / 2, 3.0) for t in ticks
    ]

    covered = [
        (x, y) for x, y, reach in feet
        if min(xs) < x < max(xs) and min(ys) - reach < y < max(ys) + reach
    ]  # fmt: skip
    assert covered == []


def test_rows_of_one_crop_are_named_once_where_not_every_row_has_room():
    bed = Bed(id="W1", outline=[("0 m", "0 m"), ("5 m", "0 m"), ("5 m", "1.5 m"),
                                ("1 m", "1.5 m"), ("1 m", "4 m"), ("0 m", "4 m")])  # fmt: skip
    one = drawing([Row(0.5, "winter squash"), Row(3.0, "winter squash")], bed=bed)
    two = drawing([Row(0.5, "lettuce"), Row(3.0, "winter squash")], bed=bed)

    assert not [text for text in one.texts if "Rows from the top" in text.words]
    assert [text for text in two.texts if "Rows from the top" in text.words]
