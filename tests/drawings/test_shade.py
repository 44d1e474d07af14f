"""The shade of one moment over the garden's plan: where it lies, what casts it, what is said."""

import re

import numpy as np
import pytest
from reading_drawings import garden_of, plan_of
from test_garden_plan import bed, check_readable, check_true

from bedwright.drawings.shade import Mark, ShadeLayer
from bedwright.garden.ground_plan import placed_plan
from bedwright.light.scene import Cloth, Prism, Screen
from bedwright.reports.words_shade import SHADE_WORDS


def box(west: float, south: float, east: float, north: float) -> np.ndarray:
    return np.array([[west, south], [east, south], [east, north], [west, north]], float)


def layer(*marks: Mark, elevation: float = 45.0, azimuth: float = 180.0, **more) -> ShadeLayer:
    given = {"when": "21 March, noon", "words": SHADE_WORDS}
    return ShadeLayer(marks, elevation, azimuth, **(given | more))


def around(document, **more) -> ShadeLayer:
    """A shed, a tree, a fence, a trellis and a cloth in a garden."""
    plans = [np.array(plan) for each in document.garden.bed if (plan := placed_plan(each))]
    low, high = np.vstack(plans).min(axis=0), np.vstack(plans).max(axis=0)
    turn = 2 * np.pi * np.arange(12) / 12
    crown = [high[0] + 3, low[1] + 3] + 2 * np.column_stack([np.cos(turn), np.sin(turn)])
    first, second = plans[1], plans[2]
    return layer(
        Mark(Prism(box(low[0] - 5, low[1], low[0] - 1, low[1] + 6), 0, 3.5), "shed"),
        Mark(Prism(crown, 1.5, 6, 1.0, 0.4), "plum tree"),
        Mark(Screen(low - [0, 1], [high[0], low[1] - 1], 0, 1.5, 0.4), "fence"),
        Mark(
            Screen((first[0] + first[3]) / 2, (first[1] + first[2]) / 2, 0.1, 1.8, 0.3), "trellis"
        ),
        Mark(Cloth(second, 1.8, 0.5), "shade cloth"),
        **more,
    )


@pytest.fixture(params=["kestrel_bend", "ennery_flat"])
def demo(request):
    return request.getfixturevalue(request.param)


def said(drawn) -> str:
    return " ".join(each.text or "" for each in drawn.root if each.tag.endswith("desc"))


def test_one_moment_has_one_shade_to_scale():
    # A wall 2 m high, 10 m long, the sun 45 degrees high in the south: 2 m of shade to the north
    document = garden_of(bed("1", "10 m", "1 m", "E-W", ("0 m", "1.5 m")))
    wall = Mark(Screen(np.array([0.0, 0.0]), np.array([10.0, 0.0]), 0, 2.0), "wall")
    drawn = plan_of(document, shade=layer(wall))
    (path,) = drawn.all("shadow")
    xs, ys = zip(
        *((float(x), float(y)) for x, y in re.findall(r"([-\d.]+),([-\d.]+)", path.get("d"))),
        strict=True,
    )
    west, top = np.array(drawn.outline("1")).min(axis=0)
    (screen,) = drawn.all("screen")

    assert min(xs) == pytest.approx(west, abs=0.01)
    assert max(xs) - min(xs) == pytest.approx(10 * drawn.scale, abs=0.01)
    assert max(ys) - min(ys) == pytest.approx(2 * drawn.scale, abs=0.01)
    assert float(screen.get("y1")) == pytest.approx(max(ys), abs=0.01)
    assert min(ys) == pytest.approx(top + 0.5 * drawn.scale, abs=0.01)


@pytest.mark.parametrize(
    ("far", "sentence"),
    [
        (0.3, "Wholly in shade: 1."),
        (1.2, "More than half in shade: 1."),
        (1.8, "Partly in shade: 1."),
        (3.0, "No bed is shaded."),
    ],
)
def test_how_much_of_a_bed_lies_in_shade_is_said(far: float, sentence: str):
    document = garden_of(bed("1", "10 m", "1 m", "E-W", ("0 m", f"{far} m")))
    wall = Mark(Screen(np.array([-5.0, 0.0]), np.array([15.0, 0.0]), 0, 2.0), "wall")
    drawn = plan_of(document, shade=layer(wall))

    assert sentence in said(drawn)
    assert sentence in drawn.words()


@pytest.mark.parametrize("azimuth", [95.0, 180.0, 265.0, 350.0])
@pytest.mark.parametrize("width", [360.0, 760.0])
def test_words_stay_readable_and_beds_to_scale(demo, width: float, azimuth: float):
    drawn = plan_of(
        demo, width_px=width, shade=around(demo, elevation=25.0, azimuth=azimuth), link=str
    )

    check_readable(drawn)
    check_true(drawn, demo)


def test_the_sun_is_said_and_shown_where_it_stands(demo):
    drawn = plan_of(demo, shade=around(demo, elevation=32.4, azimuth=230.0))
    (sun,) = drawn.all("sun")
    disk = next(each for each in sun if each.tag.endswith("circle"))
    line = next(each for each in sun if each.tag.endswith("line"))

    assert "21 March, noon: the sun stands 32 degrees high in the southwest." in said(drawn)
    assert float(disk.get("cx")) < float(line.get("x2"))  # the light goes to the northeast
    assert float(disk.get("cy")) > float(line.get("y2"))


def test_what_casts_shade_is_named_with_its_height_once(kestrel_bend):
    given = around(kestrel_bend)
    twice = ShadeLayer(given.marks * 2, 40.0, 200.0, "noon", SHADE_WORDS)
    told = said(plan_of(kestrel_bend, shade=twice))

    assert told.count("shed, 11 ft 6 in high") == 1
    assert "A lighter gray is the shade of what lets light through." in told
    assert plan_of(kestrel_bend, shade=given).words().count("shed") == 1


def test_the_less_light_passes_the_darker_and_nothing_twice(kestrel_bend):
    drawn = plan_of(kestrel_bend, shade=around(kestrel_bend))
    tones = [float(each.get("fill-opacity")) for each in drawn.all("shadow")]

    assert tones == sorted(tones, reverse=True)
    assert len(set(tones)) == len(tones)  # one path for each tone: no overlap is darker
    assert all(each.get("mask") for each in drawn.all("shadow")[1:])
    assert max(tones) < 0.3  # ink on it keeps 7:1


def test_every_address_in_the_drawing_is_there_and_no_id_twice(kestrel_bend):
    drawn = plan_of(kestrel_bend, shade=around(kestrel_bend), id_prefix="noon")
    ids = [each.get("id") for each in drawn.root.iter() if each.get("id")]
    asked = {
        name
        for each in drawn.root.iter()
        for value in each.attrib.values()
        for name in re.findall(r"url\(#([^)]+)\)", value)
    }

    assert len(ids) == len(set(ids))
    assert asked <= set(ids)
    assert all(each.startswith("noon-") for each in ids)


def test_beds_under_shade_can_still_be_touched(kestrel_bend):
    drawn = plan_of(kestrel_bend, shade=around(kestrel_bend), link=lambda name: f"/bed/{name}")
    over = drawn.all("shade") + drawn.all("things") + drawn.all("bed-words")

    assert len(drawn.beds()) == len(kestrel_bend.garden.bed)
    assert over
    assert {each.get("pointer-events") for each in over} == {"none"}


def test_a_plan_without_shade_has_none_of_it(kestrel_bend):
    drawn = plan_of(kestrel_bend)

    assert not drawn.all("shade") + drawn.all("sun") + drawn.all("bed-words")
    assert "sun" not in said(drawn)


def test_nothing_in_the_way_is_said():
    document = garden_of(bed("1", corner=("0 m", "0 m")))

    assert "No bed is shaded." in said(plan_of(document, shade=layer()))


def test_beds_without_a_place_have_no_shade_and_that_is_said():
    placed = bed("1", corner=("0 m", "0 m"))
    wall = Mark(Screen(np.array([-5.0, -1.0]), np.array([5.0, -1.0]), 0, 2.0), "wall")
    some = plan_of(garden_of(placed, bed("2")), shade=layer(wall))
    none = plan_of(garden_of(bed("2")), shade=layer(wall))

    assert "Beds that are not placed are drawn without shade." in said(some)
    assert "Beds that are not placed are drawn without shade." in said(none)
    assert not none.all("shadow") + none.all("sun")


def test_a_tree_far_away_does_not_shrink_the_beds_and_its_shade_is_there():
    document = garden_of(bed("1", "10 m", "1 m", "E-W", ("0 m", "0 m")))
    tree = Mark(Prism(box(0, -80, 10, -70), 0, 80.0), "tall house")
    plain, shaded = plan_of(document), plan_of(document, shade=layer(tree))

    assert shaded.scale > 0.5 * plain.scale
    assert "Wholly in shade: 1." in said(shaded)


def test_a_hostile_name_stays_text():
    document = garden_of(bed("1", "10 m", "4 m", "E-W", ("0 m", "0 m")))
    name = '"><script>alert(1)</script>'
    wall = Mark(Prism(box(0, -8, 10, -2), 0, 3.0), name)
    drawn = plan_of(document, shade=layer(wall, when=name))

    assert not any("script" in each.tag for each in drawn.root.iter())
    assert name in said(drawn)


def test_the_same_moment_is_drawn_the_same(kestrel_bend):
    from reading_drawings import DRAWING_WORDS, states_of

    from bedwright.drawings import garden_drawing
    from bedwright.units import UnitSystem

    first, again = (
        garden_drawing(
            kestrel_bend,
            states=states_of(kestrel_bend),
            system=UnitSystem.US,
            words=DRAWING_WORDS,
            shade=around(kestrel_bend),
        )
        for _ in range(2)
    )

    assert first == again
    for red, green, blue in re.findall(r"#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})\b", first):
        assert red == green == blue


@pytest.mark.parametrize("elevation", [0.5, -3.0, 91.0])
def test_a_sun_at_the_horizon_is_refused(elevation: float):
    with pytest.raises(ValueError, match="elevation_deg is"):
        layer(elevation=elevation)
