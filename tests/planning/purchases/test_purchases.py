"""What to buy: needs less what is on hand, in whole packages, by the day that needs it."""

import math
import random
from datetime import date, timedelta

import pytest
from buying_gardens import (
    AS_OF,
    CARROT,
    FOOT,
    LIBRARY,
    SHED,
    TOMATO,
    bought_of,
    codes,
    item,
    kinds,
    plan_of,
    supply,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.planning.purchases.model import Item, Lot, Need
from bedwright.planning.purchases.net import bought_lots, bought_packages, shortfalls
from bedwright.planning.purchases.shelf import entries_of, entry_for
from bedwright.reports.purchases_text import purchases_text
from bedwright.units import UnitSystem

BOTH = ("A", "B")
WIRE = Item("twine", "", "twine", "m")
NEEDS = st.lists(st.tuples(st.integers(0, 90), st.floats(0.1, 40)), min_size=1, max_size=8)


def needs_of(pairs: list[tuple[int, float]]) -> list[Need]:
    return [Need(WIRE, AS_OF + timedelta(days=on), amount, "A", "tomato") for on, amount in pairs]


# Two beds by hand, as docs/purchases.md works them ------------------------------------------------


def test_seed_of_two_beds_is_that_worked_by_hand():
    found = bought_of(TOMATO + CARROT, BOTH)
    tomato, carrot = item(found, "seed", "tomato"), item(found, "seed", "carrot")

    # 240 in of row at 27 in (18 to 36): 8 places; 8 x 1.1 = 9 plants
    # 9 / 0.75 = 12 seeds at 405.7 a gram
    assert tomato.needed == pytest.approx(12 / 405.7 / 1000, rel=1e-3)
    assert tomato.needed / tomato.item.each_kg == pytest.approx(12)
    # 4 rows of 20 ft at 1/2 oz to 100 ft
    assert carrot.needed == pytest.approx(80 / 100 * 0.5 * 0.0283495, rel=1e-4)


def test_parts_of_two_beds_are_those_worked_by_hand():
    found = bought_of(TOMATO + CARROT, BOTH)

    # a stake to two plants is one each 54 in at most: 240 / 54 makes 5 gaps, and 6 stakes
    assert item(found, "stake").needed == 6
    # weave of 6 levels, both sides, a tenth to spare: 20 ft x 12 x 1.1
    assert item(found, "twine").needed == pytest.approx(20 * 12 * 1.1 * FOOT)
    # a line along each row, as rows stand 12 in apart or more: one of tomatoes, four of carrots
    beds = {each.bed: each.amount for each in item(found, "drip_line").needs}
    assert beds == pytest.approx({"A": 20 * FOOT, "B": 80 * FOOT})


def test_packets_and_rolls_of_two_beds_are_those_worked_by_hand():
    packets = supply("seed", "tomato", on_hand="5", package="30", price='"4 USD"')
    found = bought_of(TOMATO + CARROT + packets + supply("drip line", package='"100 ft"'), BOTH)
    (seed,), (roll,) = item(found, "seed", "tomato").steps, item(found, "drip_line").steps

    assert (seed.order_by, seed.on, seed.cost) == (date(2027, 3, 1), date(2027, 3, 29), 4.0)
    assert item(found, "seed", "carrot").steps[0].order_by == date(2027, 3, 23)
    # two days before the sowing of April 20 at the latest; laid as early as it may be, two weeks
    assert (roll.lots[0].count, roll.on) == (1, date(2027, 4, 4))


# Consistency --------------------------------------------------------------------------------------


def test_what_is_bought_and_on_hand_covers_every_need_in_whole_packages():
    plan = plan_of(
        TOMATO + CARROT + SHED
        + supply("seed", "tomato", package="25", price='"4 USD"', on_hand="5")
        + supply("drip line", package='"100 ft"', price='"12 USD"')
        + supply("stake", package="10", on_hand="2"),
        BOTH,
    )  # fmt: skip
    found = plan.purchases

    for each in found.buys:
        assert each.bought + (each.on_hand or 0.0) >= each.needed * (1 - 1e-6)
        for lot in (lot for step in each.steps for lot in step.lots):
            assert lot.size is None or lot.count == round(lot.count)
    assert item(found, "seed", "tomato").steps[0].lots[0].count == 1
    assert item(found, "stake").bought == 10


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_in_random_gardens_every_need_is_covered_by_its_day(seed: int):
    dice = random.Random(seed)
    crops = dice.sample(["lettuce", "potato", "pole bean", "onion", "cucumber", "beet"], 3)
    wants = "".join(
        f'[[want]]\ncrop = "{crop}"\nbeds = ["{bed}"]\nset_out = 2027-0{dice.randint(4, 6)}-10\n'
        for crop, bed in zip(crops, "ABC", strict=True)
    )
    parts = "".join(
        supply(kind, package=str(dice.randint(1, 4)), on_hand=str(dice.randint(0, 6)))
        for kind in ("post", "mesh panel", "stake")
    )
    found = bought_of(wants + SHED + parts, ("A", "B", "C"))

    assert found.buys
    for each in found.buys:
        for on, short in shortfalls(each.needs, each.on_hand or 0.0):
            by_then = math.fsum(step.amount for step in each.steps if step.on <= on)
            assert by_then >= short * (1 - 1e-5)


def test_materials_are_the_masses_of_the_prescriptions_in_the_packages_of_the_blend():
    plan = plan_of(TOMATO + CARROT + SHED, BOTH)
    masses: dict[str, float] = {}
    for each in plan.plantings:
        for line in each.prescription.lines:
            whole = line.preplant.value + line.later.value
            masses[line.material.key] = masses.get(line.material.key, 0.0) + whole
    bought = {each.key: each.count * each.package_kg for each in plan.shared.purchases}
    buys = {e.item.key: e for e in plan.purchases.buys if e.item.kind == "material"}

    assert masses
    assert {key: each.needed for key, each in buys.items()} == pytest.approx(masses)
    assert {key: e.bought for key, e in buys.items() if e.steps} == pytest.approx(bought)
    assert math.fsum(e.cost or 0 for e in buys.values()) <= plan.shared.money + 0.01
    first = min(each.on for each in buys["blood_meal"].needs)
    spread = [each for each in plan.work.assigned if "/spread/" in each.task]
    assert first == min(each.day for each in spread)
    assert first <= min(each.nitrogen.spread for each in plan.plantings)


@given(pairs=NEEDS, held=st.floats(0, 60), size=st.floats(0.5, 30))
@settings(max_examples=40)
def test_packages_are_bought_for_the_first_day_that_runs_short(pairs, held: float, size: float):
    needs = needs_of(pairs)
    found = bought_packages(WIRE, needs, held, size, None, lead=timedelta(0))

    for on, short in shortfalls(needs, held):
        by_then = math.fsum(step.amount for step in found.steps if step.on <= on)
        assert by_then >= short * (1 - 1e-6)
        assert by_then - size < short + 1e-6 or by_then == 0


@given(pairs=NEEDS, held=st.floats(0, 60), big=st.floats(5, 30), spare=st.integers(0, 2))
@settings(max_examples=40)
def test_settled_packages_are_all_laid_to_days(pairs, held: float, big: float, spare: int):
    needs = needs_of(pairs)
    whole = max(math.fsum(each.amount for each in needs) - held, 0)
    lots = [Lot(float(math.ceil(whole / big) + spare), big, 3.0)]
    found = bought_lots(WIRE, needs, held, [each for each in lots if each.count])

    assert found.bought == pytest.approx(math.fsum(each.amount for each in lots))
    for on, short in shortfalls(needs, held):
        by_then = math.fsum(step.amount for step in found.steps if step.on <= on)
        assert by_then >= short * (1 - 1e-5) - 1e-6


# Prices and waiting -------------------------------------------------------------------------------


def test_an_unknown_price_is_said_and_is_not_nothing():
    found = bought_of(TOMATO + supply("stake", package="1", price='"2.50 USD"'))

    assert item(found, "twine").cost is None
    assert item(found, "stake").cost == pytest.approx(15)
    assert found.cost == pytest.approx(15)
    assert {each.kind for each in found.unpriced} >= {"seed", "twine"}
    text = purchases_text(found, UnitSystem.US, "USD")
    assert "twine: 264 ft; price not stated" in text
    assert "15.00 USD" in text


def test_without_any_price_nothing_is_summed_up():
    assert "No price is stated" in purchases_text(bought_of(TOMATO), UnitSystem.METRIC, "EUR")


def test_what_is_needed_later_can_wait():
    found = bought_of(TOMATO)
    seed, stakes = item(found, "seed", "tomato").steps[0], item(found, "stake").steps[0]

    assert seed.order_by == seed.on - timedelta(weeks=4)
    assert seed.order_by < AS_OF + timedelta(weeks=8) < stakes.on
    assert (found.waits(seed), found.waits(stakes)) == (False, True)
    text = " ".join(purchases_text(found, UnitSystem.US, "USD").split())
    assert text.index("tomato seed") < text.index("Can wait") < text.index("stakes: 6")


def test_steps_stand_in_the_order_of_their_days():
    found = bought_of(TOMATO + CARROT + SHED, BOTH)
    days = [step.order_by for _, step in found.steps]

    assert days == sorted(days)


# What is on hand ----------------------------------------------------------------------------------


def test_enough_on_hand_is_not_bought():
    found = bought_of(TOMATO + supply("seed", "tomato", on_hand='"1 g"'))
    seed = item(found, "seed", "tomato")

    assert (seed.steps, seed.on_hand) == ((), pytest.approx(0.001))
    text = purchases_text(found, UnitSystem.US, "USD")
    assert "On hand and enough: tomato seed" in text


def test_what_is_not_to_be_bought_is_missing_and_said():
    found = bought_of(TOMATO + supply("stake", on_hand="3", can_buy="false"))
    stakes = item(found, "stake")

    assert (stakes.steps, stakes.missing) == ((), 3)
    assert "Stakes: 3 is needed beyond" in purchases_text(found, UnitSystem.US, "USD")


def test_plants_with_a_package_are_bought_and_not_raised():
    found = bought_of(TOMATO + supply("plants", "tomato", package="6", price='"9 USD"'))
    plants = item(found, "plants", "tomato")

    assert "seed" not in kinds(found)
    assert (plants.needed, plants.bought, plants.cost) == (9, 12, 18)
    assert plants.steps[0].on == date(2027, 5, 10)


def test_plants_on_hand_save_their_seed():
    whole = item(bought_of(TOMATO), "seed", "tomato").needed
    found = bought_of(TOMATO + supply("plants", "tomato", on_hand="6"))

    assert item(found, "seed", "tomato").needed == pytest.approx(whole * 3 / 9)
    assert "purchases_plants_on_hand" in codes(found)


def test_seed_potatoes_are_counted_by_weight_and_by_number():
    want = '[[want]]\ncrop = "potato"\nbeds = ["A"]\nset_out = 2027-04-10\n'
    found = bought_of(want + supply("seed pieces", "potato", on_hand="10"))
    pieces = item(found, "pieces", "potato")

    assert pieces.item.unit == "kg"
    assert pieces.on_hand == pytest.approx(10 * pieces.item.each_kg)


def test_what_cannot_be_converted_is_said_and_not_counted():
    want = '[[want]]\ncrop = "garlic"\nbeds = ["A"]\nset_out = 2027-10-10\n'
    found = bought_of(want + supply("seed pieces", "garlic", on_hand='"2 lb"'))

    assert item(found, "pieces", "garlic").on_hand is None
    assert "purchases_not_converted" in codes(found)


def test_a_cover_crop_is_sown_by_its_area():
    want = '[[want]]\ncrop = "buckwheat"\nbeds = ["A"]\nset_out = 2027-06-01\n'
    rate = LIBRARY.fact("crop_growing", "buckwheat", "seed_rate", "kg/m2")

    needed = item(bought_of(want), "seed", "buckwheat").needed
    assert needed == pytest.approx(rate.value * 80 * FOOT**2)


def test_a_cultivar_has_its_own_seed():
    own = '[[crop]]\ncrop = "red one"\nlike = "tomato"\n'
    found = bought_of(
        own + TOMATO.replace('"tomato"', '"red one"') + supply("seed", "tomato", on_hand='"5 g"')
    )

    assert item(found, "seed", "own:red one").on_hand is None


def test_two_crops_of_one_bed_use_its_parts_in_turn():
    turn = 'turn = "{}"\n'
    first = '[[want]]\ncrop = "pea"\nbeds = ["A"]\nset_out = 2027-03-20\n' + turn.format("spring")
    second = '[[want]]\ncrop = "cucumber"\nbeds = ["A"]\nset_out = 2027-07-10\n' + turn.format(
        "late summer"
    )
    plan = plan_of(first + second)
    by_layout = [each.drip.length_m for each in plan.layouts]

    assert len(by_layout) == 2
    assert item(plan.purchases, "drip_line").needed == pytest.approx(max(by_layout))


def test_lines_that_lie_and_a_trellis_that_stays_are_not_bought():
    zone = '[[water_zone]]\nid = "w"\nlines = 2\n'
    found = bought_of(TOMATO + zone, bed='water_zone = "w"\ntrellis = true\n')

    assert not {"drip_line", "stake"} & kinds(found)
    assert "twine" in kinds(found)
    assert {"purchases_drip_lies", "purchases_trellis_stays"} <= codes(found)


def test_what_was_needed_before_the_day_of_planning_is_taken_as_had():
    onion = '[[want]]\ncrop = "onion"\nbeds = ["A"]\nset_out = 2027-03-20\n'
    found = bought_of(onion)

    assert "seed" not in kinds(found)
    assert "purchases_taken_as_had" in codes(found)


def test_cloth_on_hand_serves_where_its_shade_is_near():
    plan = plan_of(
        TOMATO + supply("shade cloth", shade='"30 %"', on_hand='"100 ft2"')
        + supply("shade cloth", shade='"50 %"', on_hand='"50 ft2"')
    )  # fmt: skip
    entries = entries_of(plan.document, plan.library)

    def cloth(shade: float) -> Item:
        return Item("shade_cloth", "", "shade_cloth", "m2", shade)

    assert entry_for(cloth(0.3), entries) is entries[0]
    assert entry_for(cloth(0.47), entries) is entries[1]
    assert entry_for(cloth(0.4), entries) is None
