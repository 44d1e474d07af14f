"""One blend for all beds: it breaks nothing, nothing beats it, and more freedom never costs."""

import dataclasses
import itertools
import math

import numpy as np
import pytest
from garden_checker import faults_of
from garden_search import EDGE, Garden, Search, can_be_met, garden_of, gardens
from hypothesis import Phase, assume, example, given, settings
from hypothesis import strategies as st

from bedwright.feeding.blend import Candidates, Demand, blend
from bedwright.feeding.materials import material, supply
from bedwright.feeding.shared import WholeBlend, whole_blend
from bedwright.feeding.whole import Group, Package, Shed
from bedwright.reference import Library

LIBRARY = Library()
GAP = 1e-6
SENSE = 1e-5  # share of money within which two plans cost the same, gaps of both counted
PINCH = 1.01  # by so much P2O5 may rise where pinches are put together (feeding/tidy.py)
MONEY, PHOSPHORUS, CARRIED = "money", "phosphorus", "carried"
# A seed is as short as a failing garden gets: shrinking it only draws another garden.
_CASES = settings(
    max_examples=settings().max_examples // 2,
    phases=(Phase.explicit, Phase.generate),
    report_multiple_bugs=False,
)


def _contents() -> tuple[tuple[float, ...], ...]:
    """N, P2O5, K2O, salts and lime value in a kilogram of the tables' materials."""
    found = []
    for row in LIBRARY.rows("materials"):
        brings = supply(LIBRARY, material(LIBRARY, row["material"]), 6.9)
        salts = 0.0 if brings.salts is None else brings.salts.value
        fed = (brings.n_total.value, brings.p2o5_total.value, brings.k2o_total.value)
        if row["kind"] in ("meal", "mineral", "compost") and max(fed) > 0:
            found.append((*fed, salts, brings.reaction.value))
    return tuple(found)


CONTENTS = _contents()


def solve(garden: Garden, *aims: str, gap: float = GAP, **rest) -> WholeBlend | None:
    return whole_blend(
        garden.groups, garden.shed, garden.p2o5, aims=aims or (MONEY,), gap=gap, **rest
    )


def faults(garden: Garden, found: WholeBlend, **rest) -> list[str]:
    return faults_of(garden.groups, garden.shed, garden.p2o5, found, **rest)


def least_money(garden: Garden) -> float:
    """Money of the cheapest plan; infinite where no plan is possible."""
    found = solve(garden)
    return math.inf if found is None else found.money


def not_above(one: float, other: float) -> bool:
    return one <= other * (1 + SENSE) + 1e-6


# Nothing is broken.


@given(garden=gardens(materials=8))
@_CASES
def test_no_garden_of_invented_bags_is_given_a_blend_that_breaks_anything(garden: Garden):
    found = solve(garden, MONEY, PHOSPHORUS, CARRIED, gap=0.01)

    assert found is None or faults(garden, found) == []


@given(garden=gardens(materials=8, contents=CONTENTS))
@_CASES
def test_no_garden_of_the_tables_materials_is_given_a_blend_that_breaks_anything(garden: Garden):
    found = solve(garden, MONEY, PHOSPHORUS, CARRIED, gap=0.01)

    assert found is None or faults(garden, found) == []


@given(garden=gardens(), aims=st.permutations([MONEY, PHOSPHORUS, CARRIED]), n=st.integers(1, 3))
@_CASES
def test_no_order_of_the_aims_breaks_anything(garden: Garden, aims: list[str], n: int):
    found = solve(garden, *aims[:n], gap=0.01)

    # Where money is no aim, it is nobody's task to leave bags at the shop.
    assert found is None or faults(garden, found, tight=MONEY in aims[:n]) == []


@given(garden=gardens(materials=8))
@example(garden=garden_of(7, materials=8))
@example(garden=garden_of(29, materials=8, contents=CONTENTS))
@_CASES
def test_of_what_is_sold_by_weight_no_more_is_bought_than_is_spread(garden: Garden):
    found = solve(garden, MONEY, PHOSPHORUS, CARRIED, gap=0.01)

    assert found is None or faults(garden, found, to_the_gram=True) == []


# Nothing beats it.


@given(garden=gardens())
@_CASES
def test_no_numbers_of_bags_and_choices_of_materials_are_cheaper_than_the_blend(garden: Garden):
    found = solve(garden)

    least, edge = Search(garden, EDGE).money(), Search(garden, -EDGE).money()
    if found is None:
        assert edge is None
    else:
        assert least is not None
        assert not_above(least, found.money)
        assert edge is None or not_above(found.money, edge)


@given(garden=gardens(), gap=st.sampled_from([0.01, 0.05, 0.3]))
@_CASES
def test_the_proof_of_the_money_is_a_proof(garden: Garden, gap: float):
    found = solve(garden, gap=gap)
    assume(found is not None)
    edge = Search(garden, -EDGE).money()
    assume(edge is not None)

    assert found.gap <= gap + SENSE
    assert not_above(found.bound, edge + 1e-4)  # ties are broken by a hair of money for mass
    assert not_above(found.money, edge / (1 - gap))


@given(garden=gardens())
@example(garden=garden_of(113))
@example(garden=garden_of(189))
@_CASES
def test_no_blend_within_a_hundredth_of_the_money_brings_less_phosphorus(garden: Garden):
    found = solve(garden, MONEY, PHOSPHORUS)
    assume(found is not None)
    loose, strict = Search(garden, EDGE), Search(garden, -EDGE)
    least, edge = loose.money(), strict.money()

    assert edge is None or not_above(found.money, max(edge * 1.01, edge + 0.01))
    edge = strict.phosphate(least * 1.01 * (1 - 1e-9))
    assert edge is None or found.phosphorus <= edge * PINCH + EDGE
    assert found.phosphorus >= loose.phosphate(least * 1.02 + 0.02) - EDGE


@given(garden=gardens())
@example(garden=garden_of(113))
@example(garden=garden_of(3313))  # a bag sold by weight, of which 1.4 are wanted
@example(garden=garden_of(3976))
@_CASES
def test_no_blend_as_cheap_and_as_low_in_phosphorus_carries_fewer_bags(garden: Garden):
    found = solve(garden, MONEY, PHOSPHORUS, CARRIED)
    assume(found is not None)
    loose, strict = Search(garden, EDGE), Search(garden, -EDGE)
    least = loose.money()
    lowest = loose.phosphate(least * 1.02 + 0.02)

    # The aim before holds its P2O5 within one per cent, and so no tighter than this.
    fewest = strict.carried(least * 1.01 * (1 - 1e-9), lowest * 1.01 * (1 - EDGE))
    assert fewest is None or found.carried <= fewest
    edge = strict.phosphate(least * 1.01 * (1 - 1e-9))
    assert edge is None or found.phosphorus <= edge * 1.01 * PINCH + EDGE


@given(garden=gardens())
@_CASES
def test_least_phosphorus_and_fewest_bags_are_what_they_are_called(garden: Garden):
    low, few = solve(garden, PHOSPHORUS, MONEY), solve(garden, CARRIED, MONEY)
    assume(low is not None)
    search = Search(garden, -EDGE)
    least, fewest = search.phosphate(math.inf), search.carried(math.inf, math.inf)

    # Each keeps its first aim within one per cent while the money is made less.
    assert least is None or low.phosphorus <= least * 1.01 * PINCH + 10 * EDGE
    assert fewest is None or few.carried <= fewest


@given(garden=gardens())
@_CASES
def test_a_budget_holds_and_one_that_just_reaches_reaches(garden: Garden):
    found = solve(garden)
    assume(found is not None and found.money > 1)

    just = solve(garden, MONEY, PHOSPHORUS, CARRIED, budget=found.money * (1 + 1e-6))
    short = solve(garden, budget=found.money * 0.999)

    assert just is not None
    assert just.money <= found.money * (1 + 2e-6)
    assert short is None


def test_a_need_is_met_by_what_is_spread_and_not_by_what_leaks_past_a_switch():
    leaky = garden_of(1022)
    budget = solve(leaky).money * (1 + 1e-6)

    found = solve(leaky, MONEY, PHOSPHORUS, CARRIED, budget=budget)

    assert faults(leaky, found, budget=budget) == []


# More freedom never costs, less never saves.


@given(garden=gardens(bent=True), which=st.integers(0, 9), times=st.sampled_from([1.1, 2.0, 7.0]))
@_CASES
def test_a_dearer_bag_never_makes_the_garden_cheaper(garden: Garden, which: int, times: float):
    bags = list(garden.shed.packages)
    assume(bags)
    at = which % len(bags)
    bags[at] = dataclasses.replace(bags[at], price=bags[at].price * times)
    dearer = garden.but(shed=Shed(garden.shed.on_hand, tuple(bags)))

    assert not_above(least_money(garden), least_money(dearer))


@given(garden=gardens(), which=st.integers(0, 9), mass=st.sampled_from([0.1, 2.0, 50.0]))
@_CASES
def test_a_bag_found_in_the_shed_never_raises_the_money(garden: Garden, which: int, mass: float):
    keys = sorted(garden.shed.on_hand)
    key = keys[which % len(keys)]
    found = {**garden.shed.on_hand, key: garden.shed.on_hand[key] + mass}

    richer = garden.but(shed=Shed(found, garden.shed.packages))

    assert not_above(least_money(richer), least_money(garden))


@given(garden=gardens(bent=True), which=st.integers(0, 9))
@_CASES
def test_striking_a_material_never_saves_money(garden: Garden, which: int):
    keys = sorted(garden.shed.on_hand)
    struck = keys[which % len(keys)]
    groups, phosphate = [], []
    for group, p2o5 in zip(garden.groups, garden.p2o5, strict=True):
        kept = [at for at, key in enumerate(group.candidates.keys) if key != struck]
        groups.append(_only(group, kept))
        phosphate.append(p2o5[kept])

    fewer = Garden(tuple(groups), garden.shed, tuple(phosphate))

    assert not_above(least_money(garden), least_money(fewer))


def _only(group: Group, kept: list[int]) -> Group:
    bags = group.candidates
    arrays = {name: getattr(bags, name)[kept] for name in ("cost", "most", "least", "later")}
    demands = tuple(
        dataclasses.replace(each, preplant=each.preplant[kept], later=each.later[kept])
        for each in group.demands
    )
    keys = tuple(bags.keys[at] for at in kept)
    return dataclasses.replace(group, candidates=Candidates(keys, **arrays), demands=demands)


@given(garden=gardens(), share=st.sampled_from([0.01, 0.1, 0.5]))
@_CASES
def test_asking_less_never_costs_more(garden: Garden, share: float):
    def eased(group: Group) -> Group:
        demands = (
            dataclasses.replace(
                each,
                lower=None if each.lower is None else each.lower * (1 - share),
                upper=None if each.upper is None else each.upper * (1 + share),
            )
            for each in group.demands
        )
        return dataclasses.replace(group, demands=tuple(demands))

    assert not_above(least_money(garden.with_groups(eased)), least_money(garden))


@given(garden=gardens())
@_CASES
def test_one_more_material_a_recipe_never_costs_more(garden: Garden):
    freer = garden.with_groups(
        lambda group: dataclasses.replace(group, most_materials=group.most_materials + 1)
    )

    assert not_above(least_money(freer), least_money(garden))


@given(garden=gardens(groups=2))
@_CASES
def test_giving_each_bed_its_own_recipe_never_costs_more(garden: Garden):
    halves = [dataclasses.replace(each, area_m2=each.area_m2 / 2) for each in garden.groups]
    split = garden.but(groups=(*halves, *halves), p2o5=garden.p2o5 * 2)

    assert not_above(least_money(split), least_money(garden))


@given(garden=gardens())
@_CASES
def test_opening_bags_at_the_shop_never_costs_more(garden: Garden):
    cut = tuple(dataclasses.replace(each, loose=True) for each in garden.shed.packages)

    by_weight = garden.but(shed=Shed(garden.shed.on_hand, cut))

    assert not_above(least_money(by_weight), least_money(garden))


@given(garden=gardens())
@_CASES
def test_one_shed_never_costs_more_than_a_shed_for_each_group(garden: Garden):
    apart, shed = 0.0, garden.shed
    for group, p2o5 in zip(garden.groups, garden.p2o5, strict=True):
        apart += least_money(Garden((group,), shed, (p2o5,)))
        shed = Shed({}, shed.packages)

    assert not_above(least_money(garden), apart)


@given(garden=gardens(), times=st.sampled_from([0.25, 3.0]))
@_CASES
def test_a_garden_and_its_bags_drawn_larger_cost_the_same(garden: Garden, times: float):
    groups = tuple(dataclasses.replace(g, area_m2=g.area_m2 * times) for g in garden.groups)
    bags = tuple(
        dataclasses.replace(each, price=each.price * times)
        if each.loose
        else dataclasses.replace(each, mass_kg=each.mass_kg * times)
        for each in garden.shed.packages
    )
    assume(not any(each.loose for each in bags))
    stock = {key: mass * times for key, mass in garden.shed.on_hand.items()}

    one, other = least_money(garden), least_money(garden.but(groups=groups, shed=Shed(stock, bags)))

    assert one == pytest.approx(other, rel=SENSE, abs=1e-6)


@given(garden=gardens())
@_CASES
def test_the_order_of_beds_and_of_the_shelf_changes_no_money(garden: Garden):
    def turned(group: Group) -> Group:
        return _only(group, list(range(len(group.candidates.keys)))[::-1])

    other = Garden(
        tuple(turned(group) for group in garden.groups[::-1]),
        Shed(garden.shed.on_hand, garden.shed.packages[::-1]),
        tuple(p2o5[::-1] for p2o5 in garden.p2o5[::-1]),
    )

    assert least_money(garden) == pytest.approx(least_money(other), rel=SENSE, abs=1e-6)


@given(garden=gardens())
@_CASES
def test_the_same_garden_gives_the_same_blend_to_the_last_bit(garden: Garden):
    one, other = (solve(garden, MONEY, PHOSPHORUS, CARRIED, gap=0.01) for _ in range(2))

    if one is None or other is None:
        assert one is other
    else:
        assert one.bought == other.bought
        for before, again in zip(
            one.preplant + one.later, other.preplant + other.later, strict=True
        ):
            assert before.tobytes() == again.tobytes()


# What clashes is said, and no more than what clashes.


@given(garden=gardens(bent=False))
@_CASES
def test_a_group_without_a_recipe_is_told_demands_of_which_every_one_is_to_blame(garden: Garden):
    for group in garden.groups:
        found = blend(group.candidates, group.demands, group.most_materials)
        if not found.clash:
            assert can_be_met(group, EDGE)
            continue
        assert not can_be_met(_asked(group, found.clash), -EDGE)
        for size in range(len(found.clash)):
            for some in itertools.combinations(found.clash, size):
                assert can_be_met(_asked(group, some), EDGE), some


def _asked(group: Group, keys: tuple[str, ...]) -> Group:
    kept = tuple(each for each in group.demands if each.key in keys)
    return dataclasses.replace(group, demands=kept)


# Gardens small enough to reckon in the head.


def bed(area: float, *keys: str, most: float = 4.0, counted: int = 3, **n: float) -> Group:
    """A group that needs the stated nutrients [kg/m2] of bags named by what they hold half of."""
    width = len(keys)
    zero = np.zeros(width)
    needs = tuple(
        Demand(each, "need", np.array([0.5 * (key[0] == each) for key in keys]), zero, lower=mass)
        for each, mass in n.items()
    )
    none = np.zeros(width, dtype=bool)
    bags = Candidates(keys, np.ones(width), np.full(width, most), zero, none)
    return Group(area, bags, needs, counted)


def garden(shed: Shed, *groups: Group) -> Garden:
    return Garden(groups, shed, tuple(np.zeros(len(each.candidates.keys)) for each in groups))


def test_two_beds_share_one_bag_that_each_alone_would_have_to_open():
    shed = Shed({}, (Package("n", 10.0, 30.0),))

    found = solve(garden(shed, bed(10, "n", n=0.2), bed(20, "n", n=0.1)))

    assert (found.bought, found.money) == ((1.0,), 30.0)  # 4 kg and 4 kg of a bag of 10
    assert [float(x[0]) for x in found.preplant] == pytest.approx([0.4, 0.2])


def test_a_tenth_of_a_bag_more_is_a_bag_more():
    shed = Shed({}, (Package("n", 10.0, 30.0),))

    assert solve(garden(shed, bed(10, "n", n=0.5))).bought == (1.0,)
    assert solve(garden(shed, bed(10, "n", n=0.55))).bought == (2.0,)


def test_what_is_in_the_shed_is_spread_before_a_bag_is_bought():
    shed = Shed({"n": 4.0}, (Package("n", 10.0, 30.0),))

    assert solve(garden(shed, bed(10, "n", n=0.2))).bought == (0.0,)
    assert solve(garden(shed, bed(10, "n", n=0.21))).bought == (1.0,)


def test_a_large_bag_is_bought_where_it_is_cheaper_than_the_small_ones_it_spares():
    shed = Shed({}, (Package("n", 10.0, 30.0), Package("n", 25.0, 50.0)))

    assert solve(garden(shed, bed(10, "n", n=0.5))).bought == (1.0, 0.0)
    assert solve(garden(shed, bed(10, "n", n=0.8))).bought == (0.0, 1.0)


def test_what_is_neither_there_nor_to_be_bought_makes_no_blend():
    assert solve(garden(Shed({"n": 3.0}, ()), bed(10, "n", n=0.2))) is None
    assert solve(garden(Shed({"n": 4.0}, ()), bed(10, "n", n=0.2))) is not None


def test_a_label_and_a_number_of_materials_can_leave_no_blend():
    shed = Shed({"n1": 99.0, "n2": 99.0, "k": 99.0}, ())
    wants = {"n": 0.2, "k": 0.1}

    assert solve(garden(shed, bed(10, "n1", "n2", "k", most=0.3, counted=3, **wants))) is not None
    assert solve(garden(shed, bed(10, "n1", "n2", "k", most=0.3, counted=2, **wants))) is None
    assert solve(garden(shed, bed(10, "n1", "n2", "k", most=0.1, counted=3, **wants))) is None


def test_a_budget_to_the_cent_buys_what_costs_it():
    shed = Shed({}, (Package("n", 10.0, 30.0),))
    beds = garden(shed, bed(100, "n", n=0.5))

    assert solve(beds, budget=300.0).money == 300.0
    assert solve(beds, budget=299.99) is None


def test_two_cents_more_are_spent_on_a_bag_that_brings_no_phosphorus():
    shed = Shed({}, (Package("n1", 10.0, 10.0), Package("n2", 10.0, 10.02)))
    beds = garden(shed, bed(10, "n1", "n2", n=0.4))

    found = solve(beds.but(p2o5=(np.array([0.1, 0.0]),)), MONEY, PHOSPHORUS)

    assert (found.bought, found.phosphorus) == ((0.0, 1.0), 0.0)


def test_a_ceiling_of_phosphorus_is_kept_at_the_price_of_the_dearer_bag():
    shed = Shed({}, (Package("n1", 4.0, 10.0), Package("n2", 4.0, 30.0)))
    free = bed(10, "n1", "n2", n=0.4)
    p2o5 = np.array([0.1, 0.0])
    ceiling = Demand("p2o5_ceiling", "limit", p2o5, p2o5, upper=0.04)

    found = solve(garden(shed, dataclasses.replace(free, demands=(*free.demands, ceiling))))

    assert solve(garden(shed, free)).bought == (2.0, 0.0)
    assert found.bought == (1.0, 1.0)  # 8 kg on 10 m2; 4 kg of the first bring 0.04 kg P2O5/m2
