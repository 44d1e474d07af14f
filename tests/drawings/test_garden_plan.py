"""The plan of the garden: to scale, the right way round, readable, and safe."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reading_drawings import apart, area, garden_of, plan_of, states_of

from bedwright.drawings import BedState, garden_drawing
from bedwright.face import lacking
from bedwright.garden.check_layout import check_layout
from bedwright.garden.checked import Checked
from bedwright.garden.ground_plan import placed_plan
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.units import UnitSystem


@pytest.fixture(params=["kestrel_bend", "ennery_flat"])
def demo(request):
    return request.getfixturevalue(request.param)


def bed(name: str, length="50 ft", width="4 ft", axis="N-S", corner=None, **more) -> dict:
    found = {"id": name, "length": length, "width": width, "long_axis": axis, **more}
    return found | ({"corner": list(corner)} if corner else {})


def check_readable(drawn) -> None:
    """No words beyond the paper, none on other words, none too small."""
    width, height = drawn.size
    for text in drawn.texts:
        for x, y in text.corners:
            assert -0.01 <= x <= width + 0.01, text
            assert -0.01 <= y <= height + 0.01, text
        assert text.size >= 12
    for at, one in enumerate(drawn.texts):
        for other in drawn.texts[at + 1 :]:
            assert apart(one.corners, other.corners), (one, other)


def check_true(drawn, document) -> None:
    """Every bed's area is its own to scale, and no bed is mirrored."""
    assert set(drawn.beds()) == {each.id for each in document.garden.bed}
    for each in document.garden.bed:
        outline = drawn.outline(each.id)
        to_scale = each.area_m2 * drawn.scale**2
        assert abs(area(outline)) == pytest.approx(to_scale, rel=1e-3, abs=0.5)


# The demo gardens ---------------------------------------------------------------------------------


def test_every_bed_of_the_demo_stands_there_to_scale(demo, width):
    check_true(plan_of(demo, width_px=width), demo)


def test_the_words_of_the_demo_are_on_paper_and_on_nothing_else(demo, width):
    check_readable(plan_of(demo, width_px=width))


def test_east_lies_to_the_right_and_north_at_the_top(demo, width):
    drawn = plan_of(demo, width_px=width)
    here = {each.id: placed_plan(each) for each in demo.garden.bed}
    west = min(x for plan in here.values() for x, _ in plan)
    north = max(y for plan in here.values() for _, y in plan)
    left = min(x for name in here for x, _ in drawn.outline(name))
    top = min(y for name in here for _, y in drawn.outline(name))

    for name, plan in here.items():
        for (east, up), (x, y) in zip(plan, drawn.outline(name), strict=True):
            assert x - left == pytest.approx((east - west) * drawn.scale, abs=0.01)
            assert y - top == pytest.approx((north - up) * drawn.scale, abs=0.01)


def test_the_name_of_every_bed_of_the_demo_can_be_read(demo, width):
    drawn = plan_of(demo, width_px=width)

    for name in drawn.beds():
        assert [each.words for each in drawn.texts if each.bed == name and each.words == name]


def test_the_long_beds_say_what_is_wanted_what_they_do_and_what_grew(kestrel_bend):
    drawn = plan_of(kestrel_bend, width_px=720)
    said = {each.words for each in drawn.texts if each.bed == "W1"}

    assert said == {"W1", "tomato, planned", "pole bean 2026"}
    (italic,) = (each for each in drawn.beds()["W1"].iter() if each.get("font-style") == "italic")
    assert italic.text == "pole bean 2026"


def test_a_bed_in_which_a_crop_stands_names_that_one_not_the_one_wanted(kestrel_bend):
    states = {**states_of(kestrel_bend), "R1": BedState.STANDING}
    drawn = plan_of(kestrel_bend, states=states, stands={"R1": "kale"})

    said = " ".join(each.words for each in drawn.texts if each.bed == "R1")
    assert "spinach" not in said
    label = drawn.beds()["R1"].findtext("{*}title")
    assert "kale in it" in label and "standing" in label and "wanted" not in label


def test_last_seasons_crop_never_stands_where_the_crop_wanted_found_no_room(kestrel_bend):
    wanted = {name for want in kestrel_bend.garden.want for name in want.beds}
    drawn = plan_of(kestrel_bend, width_px=390)
    said: dict[str, list[str]] = {}
    for each in drawn.texts:
        if each.bed is not None:
            said.setdefault(each.bed, []).append(each.words)

    alone = [name for name in wanted if len(said[name]) == 2 and "2026" in said[name][1]]
    assert alone == []


def test_the_whole_is_measured_in_the_gardens_units(kestrel_bend, ennery_flat):
    assert "118 ft" in plan_of(kestrel_bend).words()
    assert "27.9 m" in plan_of(ennery_flat, system=UnitSystem.METRIC).words()


def test_the_scale_bar_is_as_long_as_it_says(kestrel_bend):
    drawn = plan_of(kestrel_bend)
    (bar,) = drawn.all("scale-bar")
    boxes = [each for each in bar if each.tag.endswith("rect")]
    figures = [each.text for each in bar if each.tag.endswith("text")]
    feet = sum(float(each.get("width")) for each in boxes) / drawn.scale / 0.3048

    assert figures[-1] == "ft"
    assert feet == pytest.approx(float(figures[-2]), rel=1e-3)


def test_each_state_has_its_hatching_and_its_word(kestrel_bend):
    drawn = plan_of(kestrel_bend)
    fills = {}
    for name, state in states_of(kestrel_bend).items():
        (outline,) = (e for e in drawn.beds()[name] if e.get("class") == "outline")
        fills.setdefault(state, set()).add(outline.get("fill"))
    patterns = {each.get("id") for each in drawn.root.iter() if each.tag.endswith("pattern")}

    assert fills == {
        BedState.PLANNED: {"url(#garden-planned)"},
        BedState.STANDING: {"url(#garden-standing)"},
        BedState.RESTING: {"url(#garden-resting)"},
        BedState.EMPTY: {"#ffffff"},
    }
    assert patterns == {"garden-planned", "garden-standing", "garden-resting"}
    assert {"planned", "standing", "resting", "empty"} <= set(drawn.words())


def test_raised_beds_alone_have_a_double_outline(kestrel_bend):
    drawn = plan_of(kestrel_bend)
    double = {
        name
        for name, group in drawn.beds().items()
        if any(each.get("class") == "wall" for each in group)
    }

    assert double == {each.id for each in kestrel_bend.garden.bed if each.kind == "raised"}


def test_nothing_is_said_by_color(kestrel_bend):
    svg = garden_drawing(
        kestrel_bend,
        states=states_of(kestrel_bend),
        system=UnitSystem.US,
        words=DRAWING_WORDS,
    )
    for red, green, blue in re.findall(r"#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})\b", svg):
        assert red == green == blue


# Links and names ----------------------------------------------------------------------------------


def test_a_bed_with_a_page_is_a_link_with_a_label(kestrel_bend):
    drawn = plan_of(kestrel_bend, link=lambda name: f"/bed/{name}?a=1&b=2")
    raised = drawn.beds()["R1"]

    assert drawn.root.get("role") == "group"  # a picture would hide its links
    assert raised.tag.endswith("}a")
    assert raised.get("href") == "/bed/R1?a=1&b=2"
    assert raised.get("aria-label").startswith("Bed R1: 12 ft by 4 ft, raised, filled 17 in deep")
    labels = [each.get("aria-label") for each in drawn.beds().values()]
    assert len(set(labels)) == len(labels)


def test_a_plan_without_links_is_a_picture_with_title_and_description(kestrel_bend):
    root = plan_of(kestrel_bend).root
    ids = {each.get("id"): each for each in root.iter() if each.get("id")}
    title, description = (ids[each] for each in root.get("aria-labelledby").split())

    assert root.get("role") == "img"
    assert not any(each.tag.endswith("}a") for each in root.iter())
    assert title.text == "Plan of Kestrel Bend"
    assert "32 beds to scale, north at the top" in description.text


def test_two_plans_on_one_page_share_no_id(kestrel_bend, ennery_flat):
    first, second = plan_of(kestrel_bend, id_prefix="a"), plan_of(ennery_flat, id_prefix="b")

    def ids(drawn):
        return [each.get("id") for each in drawn.root.iter() if each.get("id")]

    assert len(set(ids(first) + ids(second))) == len(ids(first)) + len(ids(second))


# A name in a document has no slash or line break, and TOML no half of a pair of code units.
_SIGNS = st.characters(exclude_characters="\n\r\t/\\", exclude_categories=["Cs"])

HOSTILE = [
    '<script>alert(1)</script>"'[:40].replace("/", "|"),
    "\"' onload=alert(1) x='",
    "&lt;b&gt; &amp; ]]>",
    "a\u202egnp.exe",
    "nul\x00bell\x07\ufffe",
    "W" * 40,
    "畑の東の端\u2003",
    "x" * 39 + "é",
]


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_stays_a_name(name):
    document = garden_of(
        bed(name, corner=("0 ft", "0 ft"), block="b"),
        bed("other", corner=("9 ft", "0 ft")),
        block=[{"id": "b", "name": f"</text><g onclick='x'>{name}"}],
        garden={"name": f"</title><script>{name}"},
        want=[{"crop": name, "beds": [name.strip()]}],
        history=[{"bed": name.strip(), "year": 2026, "crop": name}],
    )
    drawn = plan_of(document, link=lambda each: f"/bed/{each}")

    known = {"svg", "title", "desc", "rect", "defs", "pattern", "path", "g", "a", "polygon"}
    known |= {"line", "circle", "text"}
    for each in drawn.root.iter():
        assert each.tag.split("}")[1] in known
        assert not [key for key in each.attrib if key.lower().startswith("on")]
    check_readable(drawn)


@pytest.mark.parametrize("prefix", ["", "1a", 'a"b', "a b", "ä", "a)"])
def test_a_prefix_that_cannot_begin_an_id_is_refused(prefix, kestrel_bend):
    with pytest.raises(ValueError, match="cannot begin an id"):
        plan_of(kestrel_bend, id_prefix=prefix)


def test_a_bed_without_a_state_is_refused(kestrel_bend):
    with pytest.raises(ValueError, match="bed 'W2' has no state"):
        plan_of(kestrel_bend, states={"W1": BedState.EMPTY})


def test_a_plan_too_narrow_to_read_is_refused(kestrel_bend):
    with pytest.raises(ValueError, match="too narrow"):
        plan_of(kestrel_bend, width_px=200)


def test_the_face_has_every_sign_of_the_words():
    assert lacking("".join(DRAWING_WORDS.values())) == ""


# Beds whose place is not stated -------------------------------------------------------------------


def test_beds_without_a_corner_stand_below_the_others_to_scale():
    document = garden_of(
        bed("1", corner=("0 ft", "0 ft")), bed("2"), bed("3", "10 ft", "30 in", axis="E-W")
    )
    drawn = plan_of(document)

    check_true(drawn, document)
    check_readable(drawn)
    assert "Not to place: 2 beds whose corner is not stated. Their sizes are to scale." in (
        drawn.words()
    )
    lowest = max(y for _, y in drawn.outline("1"))
    assert min(y for name in "23" for _, y in drawn.outline(name)) > lowest


def test_a_garden_without_corners_says_so_and_measures_no_whole():
    document = garden_of(bed("1"), bed("2"))
    drawn = plan_of(document)

    assert drawn.words()[0].startswith("No bed has its corner stated")
    assert drawn.all("dimension") == []


def test_no_arrow_points_north_where_no_direction_is_known():
    lying = {"id": "1", "length": "50 ft", "width": "4 ft"}

    assert plan_of(garden_of(lying)).all("north") == []
    both = plan_of(garden_of(lying, bed("2")))
    assert len(both.all("north")) == 1
    assert "Direction not stated, drawn from south to north: 1." in both.words()


def test_a_bed_too_small_to_write_in_has_its_name_beside_it_with_a_line():
    document = garden_of(
        bed("long", "200 ft", corner=("0 ft", "0 ft")),
        bed("tiny", "2 ft", "1 ft", corner=("40 ft", "90 ft")),
    )
    drawn = plan_of(document)
    tiny = drawn.beds()["tiny"]

    check_readable(drawn)
    assert [each.words for each in drawn.texts if each.bed == "tiny"] == ["tiny"]
    assert any(each.tag.endswith("line") for each in tiny)


def test_names_that_find_no_place_at_all_are_told_below():
    beds = [
        bed(f"narrow bed {x} {y}", "3 ft", "3 ft", corner=(f"{x * 3.5} ft", f"{y * 3.5} ft"))
        for x in range(20)
        for y in range(20)
    ]
    drawn = plan_of(garden_of(*beds), width_px=390)

    check_readable(drawn)
    assert any(each.startswith("Too small to write in:") for each in drawn.words())


@given(
    st.lists(
        st.tuples(
            st.floats(0.5, 60),
            st.floats(0.2, 6),
            st.floats(0, 179.9),
            st.tuples(st.floats(-80, 80), st.floats(-80, 80)) | st.none(),
            st.booleans(),
            st.text(_SIGNS, min_size=1, max_size=12),
        ),
        min_size=1,
        max_size=14,
    ),
    st.sampled_from([260, 390, 720, 1100]),
    st.sampled_from(list(UnitSystem)),
)
def test_any_garden_is_drawn_true_and_readable(beds, width, system):
    document = garden_of(
        *(
            bed(
                f"{at}{name}"[:40],
                f"{length:.6f} m",
                f"{short:.6f} m",
                f"{axis:.6f} deg",
                corner and (f"{corner[0]:.6f} m", f"{corner[1]:.6f} m"),
                **({"kind": "raised", "fill_depth": "11 in"} if raised else {}),
            )
            for at, (length, short, axis, corner, raised, name) in enumerate(beds)
        )
    )
    drawn = plan_of(document, width_px=width, system=system)

    check_true_of_odd_names(drawn, document)
    width_px, height = drawn.size
    for text in drawn.texts:
        for x, y in text.corners:
            assert -0.01 <= x <= width_px + 0.01
            assert -0.01 <= y <= height + 0.01
    for each in drawn.all("bed"):
        for x, y in drawn.outline(each.get("data-bed")):
            assert -0.01 <= x <= width_px + 0.01
            assert -0.01 <= y <= height + 0.01
    checked = Checked()
    check_layout(document.garden, checked)
    if not checked.faults:  # beds over one another would have words over one another
        check_readable(drawn)


def check_true_of_odd_names(drawn, document) -> None:
    """As check_true, for names that the drawing had to clean."""
    groups = drawn.all("bed")
    assert len(groups) == len(document.garden.bed)
    found = sorted(abs(area(drawn.outline(each.get("data-bed")))) for each in groups)
    wanted = sorted(each.area_m2 * drawn.scale**2 for each in document.garden.bed)
    assert found == pytest.approx(wanted, rel=1e-3, abs=0.5)
