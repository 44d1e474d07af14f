"""A standing crop in a bed that is needed: what is left, its ways out, until when, at what cost."""

from datetime import date, timedelta

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.crops.growing import STOCK, growing
from bedwright.garden.model_standing import Standing
from bedwright.planning.turnover.case import Case
from bedwright.planning.turnover.facts import dangers_of, root_ball
from bedwright.planning.turnover.feed import feed_ways
from bedwright.planning.turnover.model import Left, Next, Turnover
from bedwright.planning.turnover.ways import ways_of
from bedwright.reference import Library
from bedwright.reports.plan_json import plan_dict
from bedwright.reports.plan_schema import plan_schema
from bedwright.reports.turnover_said import bed_turnover_lines, sheet_words
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.reports.words_spreading import SHEET_WORDS
from bedwright.reports.words_turnover import ANIMALS, DANGERS
from bedwright.sheets.content import sheet_content
from bedwright.units import UnitSystem
from bedwright.working import Figure
from planning.small_gardens import AS_OF, garden_text, plan_of

LIBRARY = Library()
CROPS = [row["crop"] for row in LIBRARY.rows("crops")]
MONTHLY = """
[weather.monthly]
t_max = ["4 C","8 C","14 C","19 C","24 C","29 C","34 C","33 C","28 C","19 C","10 C","4 C"]
t_min = ["-4 C","-2 C","1 C","4 C","8 C","12 C","15 C","14 C","10 C","4 C","0 C","-3 C"]
t_max_sd = ["5 C","5 C","4 C","5 C","5 C","5 C","4 C","4 C","5 C","5 C","5 C","5 C"]
t_min_sd = ["5 C","4 C","4 C","4 C","3 C","3 C","3 C","3 C","3 C","4 C","4 C","5 C"]
rain = ["2 cm","2 cm","2 cm","2 cm","2 cm","1 cm","1 cm","1 cm","1 cm","2 cm","3 cm","3 cm"]
wet_days = [9, 7, 7, 6, 6, 4, 2, 2, 3, 5, 9, 10]
years = 20
seed = 1
"""
PRICES = (
    '[[crop]]\ncrop = "kale"\nprice = "4 USD"\nper = "1 lb"\n'
    '[[crop]]\ncrop = "tomato"\nprice = "{tomato} USD"\nper = "1 lb"\n'
)


def standing(crop: str, more: str = "", animals: str = '"ducks", "goats"') -> str:
    return f'[animals]\nkinds = [{animals}]\n[[standing]]\nbed = "A"\ncrop = "{crop}"\n{more}\n'


def turnover_of(
    out: str, stated: str = "", *, as_of: date = AS_OF, more: str = "", **rest
) -> Turnover:
    """What is said of a standing crop where the garden's one bed is needed, usually for tomato."""
    (found,) = plan_of(garden_text(more=more + standing(out, stated), **rest), as_of).turnover
    return found


def kinds(found: Turnover) -> list[str]:
    return [f"{each.kind} {each.stock}".strip() for each in found.ways]


def why_not(found: Turnover, kind: str, stock: str = "") -> str:
    (way,) = [each for each in found.refused if (each.kind, each.stock) == (kind, stock)]
    return way.reasons[0].code


def said(found: Turnover) -> set[str]:
    return {each.code for each in found.findings}


def test_what_a_standing_crop_still_gives_goes_by_the_growers_own_picking():
    found = turnover_of("kale", 'since = 2026-10-20\npick_per_week = "7 lb"')
    weeks = (found.left.last - found.left.first).days / 7

    assert found.left.per_week.origin == "stated"
    assert found.left.total.value == pytest.approx(weeks * 7 * 0.45359237)


def test_without_it_the_table_tells_and_the_plan_says_so():
    found = turnover_of("kale", "since = 2026-10-20")
    table = LIBRARY.fact("crop_facts", "kale", "yield", "kg/m2").value
    area = 50 * 4 * 0.3048**2

    span = (found.left.last - found.left.first).days / 7
    assert found.left.per_week.value * span == pytest.approx(table * area)
    assert "turnover_by_table" in said(found)


def test_a_part_of_a_bed_gives_its_part():
    whole = turnover_of("kale", "since = 2026-10-20")
    bed = 'length = "50 ft"\nwidth = "4 ft"\ntexture = "loam"\nparts = 2\n'
    half = turnover_of("kale", "since = 2026-10-20\npart = 1", bed=bed)

    assert half.left.per_week.value == pytest.approx(whole.left.per_week.value / 2)


def test_a_crop_taken_at_once_has_no_picking_by_the_week():
    found = turnover_of("cabbage", "since = 2026-08-20")

    assert found.left.per_week is None
    assert found.left.total == found.left.at_once
    assert found.left.hold.most == 14


def test_a_crop_picked_out_is_neither_sold_nor_eaten():
    found = turnover_of("snap bean", "since = 2026-05-20")

    assert why_not(found, "sell") == why_not(found, "house") == "turnover_over"


def test_the_bed_is_cleared_before_the_next_crop_s_first_work():
    plan = plan_of(garden_text(more=standing("kale")))
    (found,) = plan.turnover
    clear = next(each for each in plan.work.tasks if each.kind == "clear")

    assert found.next.name == "Tomato"
    assert found.next.start == date(2027, 5, 10)
    assert found.next.clear == clear.latest
    assert found.next.clear <= found.next.last < found.next.start


def test_a_bed_that_nothing_waits_for_may_stand():
    plan = plan_of(garden_text(more='[[bed]]\nid = "B"\nlength = "9 ft"\nwidth = "4 ft"\n'
                               '[[standing]]\nbed = "B"\ncrop = "kale"\n'))  # fmt: skip

    assert plan.turnover == ()


def test_a_day_that_has_gone_by_is_said_first_of_all():
    found = turnover_of("kale", as_of=date(2027, 5, 3))

    assert "turnover_overdue" in said(found)
    assert why_not(found, "dig_in") == "turnover_no_time_to_rot"
    assert "compost" in kinds(found)


def test_green_leaves_are_dug_in_and_dry_stalks_go_to_the_heap():
    leaves, stalks = turnover_of("broccoli"), turnover_of("sweet corn")

    assert leaves.residue.in_a_month.value > 0 > stalks.residue.in_a_month.value
    order = [each for each in kinds(leaves) if each in ("dig_in", "compost")]
    other = [each for each in kinds(stalks) if each in ("dig_in", "compost")]
    assert (order, other) == (["dig_in", "compost"], ["compost", "dig_in"])
    (dug,) = [each for each in stalks.ways if each.kind == "dig_in"]
    assert "turnover_binds" in {each.code for each in dug.reasons}


def test_what_is_dug_in_rots_before_the_next_crop():
    for crop in ("broccoli", "sweet corn", "sorghum-sudangrass"):
        found = turnover_of(crop)
        (dug,) = [each for each in found.ways if each.kind == "dig_in"]

        wait = found.residue.wait.value
        assert found.next.start - dug.by >= timedelta(days=wait)
    assert wait >= 42


def test_fine_seed_waits_longer_than_a_transplant_and_has_no_litter_on_top():
    found = turnover_of("broccoli", crop="carrot")

    assert found.residue.wait.value == 28
    assert why_not(found, "leave_on_top") == "turnover_next_is_sown"


def test_a_diseased_crop_is_burned_or_binned_and_goes_nowhere_else():
    found = turnover_of("kale", 'health = "diseased"')

    assert kinds(found) == ["burn_or_bin", "sell", "house"]
    for kind in ("dig_in", "leave_on_top", "compost", "move"):
        assert "diseased" in why_not(found, kind)
    assert why_not(found, "feed", "ducks") == "turnover_feed_diseased"


def test_clumps_are_divided_peppers_come_indoors_and_grown_cabbages_stay():
    assert "move" in kinds(turnover_of("chives"))
    assert why_not(turnover_of("cabbage", "since = 2026-07-01"), "move") == "turnover_move_grown"
    assert "move" in kinds(turnover_of("cabbage", "since = 2026-11-15"))
    assert why_not(turnover_of("carrot"), "move") == "turnover_move_no"
    pepper = turnover_of("sweet pepper")
    (way,) = [each for each in pepper.ways if each.kind == "move"]
    night = way.reasons[0].values["night"]
    assert (night.unit, round(night.value, 6)) == ("C", 10.0)


def test_perennials_are_picked_year_after_year_and_their_crowns_are_not_dug_in():
    found = turnover_of("chives", "since = 2024-04-10")

    assert "sell" in kinds(found)
    assert why_not(found, "dig_in") == "turnover_grows_again"


def test_a_spray_without_its_label_bars_table_and_trough():
    found = turnover_of("lettuce", "sprayed = 2026-11-20")

    assert why_not(found, "sell") == "turnover_label_harvest_unknown"
    assert why_not(found, "feed", "ducks") == "turnover_label_grazing_unknown"


def test_a_label_s_intervals_are_kept_to_the_day():
    found = turnover_of(
        "lettuce", "sprayed = 2026-11-20\nlabel_harvest_days = 7\nlabel_grazing_days = 365"
    )

    assert {each.start for each in found.ways if each.kind in ("sell", "house")} == {
        date(2026, 11, 27)
    }
    assert why_not(found, "feed", "ducks") == "turnover_label_grazing"
    assert sheet_words(found)[1].startswith("Pick and sell (from November 27 on, by the label)")


def test_the_unsafe_is_named_with_what_is_in_it():
    found = turnover_of("potato")
    (way,) = [each for each in found.refused if each.stock == "ducks"]

    assert [each.code for each in way.reasons] == ["turnover_unsafe", "turnover_danger"]
    told = "\n".join(bed_turnover_lines((found,), UnitSystem.US, None))
    assert "Not safe for ducks: potato." in told


def test_nothing_is_weighed_without_prices_and_with_them_the_dearer_crop_wins():
    where = 'latitude = "46 N"\nlongitude = "119 W"\nelevation = "590 ft"\ncurrency = "USD"\n'
    place = where + MONTHLY
    picked = 'pick_per_week = "20 lb"'
    plain = turnover_of("kale", picked, place=place)
    cheap = turnover_of("kale", picked, place=place, more=PRICES.format(tomato="0.01"))
    dear = turnover_of("kale", picked, place=place, more=PRICES.format(tomato="40"))

    assert plain.next.a_week_late.value > 0
    assert "turnover_not_weighed" in said(plain)
    assert "turnover_waiting_pays" in said(cheap)
    assert "turnover_waiting_costs" in said(dear)


def test_a_stem_at_the_edge_of_a_class_takes_the_larger_ball():
    inch = 0.0254
    for stem, width, depth in ((0.75, 12, 9), (1.75, 22, 22 * 0.65), (2.0, 24, 24 * 0.65)):
        found = root_ball(LIBRARY, stem * inch)
        assert [each.value / inch for each in found] == pytest.approx([width, depth])


def _case(crop: str, stock: tuple[str, ...], **stated) -> Case:
    nothing = Left(None, None, None, None, None, None)
    day = date(2027, 4, 1)
    following = Next("tomato", "Tomato", False, day, day, day, None, None)
    facts = growing(LIBRARY, crop)
    return Case(
        Standing(bed="A", crop=crop, **stated), crop, crop, facts.life, False, nothing, None,
        Figure("wait", 21.0, "day", "table"), following, False, stock, AS_OF, LIBRARY,
    )  # fmt: skip


DEADLY = {"alkaloids", "lectins", "red_cells", "prussic_acid", "poisonous_seed", "sunburn"}


@given(
    crop=st.sampled_from(CROPS),
    stock=st.lists(st.sampled_from(STOCK), unique=True),
    health=st.sampled_from(["healthy", "diseased"]),
    since_spray=st.none() | st.integers(0, 400),
    interval=st.none() | st.integers(0, 730),
)
def test_nothing_unsafe_is_ever_offered_to_an_animal(crop, stock, health, since_spray, interval):
    spray = None if since_spray is None else AS_OF - timedelta(days=since_spray)
    label = None if spray is None else interval
    case = _case(crop, tuple(stock), health=health, sprayed=spray, label_grazing_days=label)

    offered, _ = ways_of(case)
    fed = [each for each in offered if each.kind == "feed"]
    facts = growing(LIBRARY, crop)
    for way in fed:
        assert way.stock in stock
        assert way.stock in facts.residue_fit - facts.residue_unfit
        assert not DEADLY & {danger for danger, _ in dangers_of(LIBRARY, crop, way.stock)}
        assert health == "healthy"
        if spray is not None:
            assert label is not None
            assert (way.start or AS_OF) >= spray + timedelta(days=label)
    ways, refused = feed_ways(case)
    assert {each.stock for each in (*ways, *refused)} == set(stock)


@pytest.mark.parametrize("stock", STOCK)
def test_no_crop_is_called_fit_and_unfit_or_poisonous_at_once(stock: str):
    for crop in CROPS:
        facts = growing(LIBRARY, crop)
        dangers = {danger for danger, _ in dangers_of(LIBRARY, crop, stock)}

        assert not (stock in facts.residue_fit and stock in facts.residue_unfit), crop
        assert not (stock in facts.residue_fit and dangers & DEADLY), crop


def test_the_plan_s_data_satisfy_their_schema_and_the_sheet_tells_what_comes_out():
    more = standing("kale", "since = 2026-10-20") + '[[standing]]\nbed = "A"\ncrop = "potato"\n'
    plan = plan_of(garden_text(more=more))

    data = plan_dict(plan)
    jsonschema.validate(data, plan_schema())
    assert [each["crop"] for each in data["turnover"]] == ["kale", "potato"]
    days = sheet_content(plan, "A", {**SHEET_WORDS, **DRAWING_WORDS}, UnitSystem.US).days
    assert [each.what for each in days[:2]] == ["Kale comes out", "Potato comes out"]
    assert days[0].note.startswith("Pick and sell; then keep for the house; then feed to ducks")


def test_codes_of_the_tables_have_words():
    assert {row["danger"] for row in LIBRARY.rows("turnover_dangers")} == set(DANGERS)
    assert set(STOCK) == set(ANIMALS)
    assert {row["crop"] for row in LIBRARY.rows("turnover_moves")} <= set(CROPS)
