"""Ledgers close, whatever is spread and picked; decay series give back what went in."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from bedwright.feeding.ledger import (
    account,
    organic_matter_account,
    organic_release,
    shares_of_original,
)
from bedwright.feeding.outlook import (
    direction,
    ends_of,
    least_certain,
    reach,
    soil_test_change,
    steady_depth,
    years_until,
)
from bedwright.feeding.salt_ledger import (
    leached_share,
    salt_account,
    salt_years_until,
    settled_ec_e,
    share_passing,
)
from bedwright.soil.salinity import leaching_requirement
from bedwright.units import to_si

BEDS, SEASONS = 3, 6
AMOUNT = st.floats(0, 50)
GRID = arrays(float, (BEDS, SEASONS), elements=AMOUNT)
OPENING = arrays(float, (BEDS,), elements=AMOUNT)
SHARES = arrays(float, (BEDS, SEASONS), elements=st.floats(0, 1))


@given(OPENING, GRID, GRID, GRID)
def test_every_account_closes(opening, brought, watered, picked):
    kept = account(opening, {"materials": brought, "water": watered}, {"harvest": picked})

    assert kept.gap <= 1e-9
    whole = opening + brought.sum(axis=1) + watered.sum(axis=1) - picked.sum(axis=1)
    assert kept.closing[:, -1] == pytest.approx(whole, abs=1e-9)


@given(OPENING, GRID, GRID, SHARES, OPENING)
def test_the_salt_account_closes_and_never_goes_below_nothing(
    opening, spread, water, leached, settles
):
    kept = salt_account(opening, spread, water + settles[:, None], leached, settles)

    assert kept.gap <= 1e-9
    assert (kept.closing >= -1e-9).all()


@given(OPENING, GRID, SHARES, st.floats(0, 1))
def test_the_organic_matter_account_closes(opening, spread, kept_share, decayed):
    kept = organic_matter_account(opening, spread, spread * kept_share, decayed)

    assert kept.gap <= 1e-9


@given(
    arrays(float, (2, BEDS, SEASONS), elements=AMOUNT),
    arrays(float, (2, 4), elements=st.floats(0, 0.25)),
)
def test_organic_nitrogen_is_released_or_left(spread, shares):
    found = organic_release(spread, shares)

    whole = np.cumsum(spread.sum(axis=0), axis=1)
    assert np.cumsum(found.released, axis=1) + found.left == pytest.approx(whole, abs=1e-9)
    assert (found.left >= -1e-9).all()


def test_an_account_of_one_unknown_bed_leaves_the_others_whole():
    opening = np.array([np.nan, 1.0])
    kept = account(opening, {"materials": np.ones((2, 3))}, {"harvest": np.zeros((2, 3))})

    assert np.isnan(kept.closing[0]).all()
    assert kept.closing[1] == pytest.approx([2.0, 3.0, 4.0])


def test_a_negative_item_is_refused():
    with pytest.raises(ValueError, match=r"harvest is .* must not be less than 0"):
        account(np.zeros(1), {}, {"harvest": np.array([[-1.0]])})


def test_three_years_of_cow_manure_release_what_cornell_prints():
    """T26: 10 ton/ac of manure with 5 lb organic N a ton; 35, 12 and 5 % of the original.

    Cornell University, CSS 412, module 2, p. 6: the factors; 17.5 + 6.0 + 2.5 = 26.0 lb/ac.
    """
    yearly = to_si(50, "lb/ac", "mass_per_area")
    found = organic_release(np.full((1, 1, 3), yearly), np.array([[0.35, 0.12, 0.05]]))

    pound = to_si(1, "lb/ac", "mass_per_area")
    assert found.released[0] / pound == pytest.approx([17.5, 23.5, 26.0], abs=1e-9)
    assert found.carried_over[0] / pound == pytest.approx([0.0, 6.0, 8.5], abs=1e-9)


def test_a_series_of_what_remains_becomes_one_of_the_original():
    """0.40 of all, then 0.25 of the 0.60 left, then 0.06 of the 0.45 left."""
    found = shares_of_original(np.array([0.40, 0.25, 0.06]), "remaining")

    assert found == pytest.approx([0.40, 0.15, 0.027])


def test_a_series_of_the_original_stays_as_it_is():
    assert shares_of_original(np.array([0.35, 0.12]), "original") == pytest.approx([0.35, 0.12])


CHANGE = st.one_of(st.just(0.0), st.floats(0.01, 20), st.floats(-20, -0.01))


@given(st.floats(0, 100), CHANGE, st.floats(0, 100))
def test_a_level_is_reached_when_the_years_have_passed(now, change, level):
    years = years_until(np.array([now]), np.array([change]), level)[0]

    if np.isfinite(years):
        assert now + years * change == pytest.approx(level, abs=1e-6)
    else:
        assert change == 0 or (level - now) * change < 0


@given(st.floats(0, 10), st.floats(0, 10), st.floats(0.05, 0.95), st.floats(0.1, 20))
def test_the_year_of_a_salt_level_is_the_one_that_stepping_finds(now, added, leached, level):
    years = float(salt_years_until(np.array(now), np.array(added), np.array(leached), level))
    stock, passed = now, None
    for year in range(1, 400):
        before, stock = stock, (stock + added) * (1 - leached)
        if (before - level) * (stock - level) < 0:
            passed = year
            break
    if passed is not None:
        assert passed - 1 - 1e-6 <= years <= passed + 1e-6


def test_a_range_that_holds_both_signs_has_no_direction():
    assert direction((-1.0, 1.0, 2.0)) == "either"
    assert direction((0.5, 1.0, 2.0)) == "rising"
    assert direction((-3.0, -2.0, -1.0)) == "falling"
    assert direction((0.0, 0.0, 0.0)) == "steady"


def test_a_ceiling_is_reached_in_a_range_of_years():
    found = reach((30.0, 30.0, 30.0), (1.0, 2.0, 5.0), 50.0)

    assert (found.earliest, found.typical, found.latest) == pytest.approx((4.0, 10.0, 20.0))


def test_the_widest_term_is_named_first():
    terms = {"share": (0.05, 0.08, 0.2), "brought": (0.9, 1.0, 1.1)}

    def change(share: float, brought: float) -> float:
        return share * brought

    assert [name for name, _ in least_certain(change, terms)] == ["share", "brought"]
    assert ends_of(change, terms) == pytest.approx((0.045, 0.08, 0.22))


def test_an_inch_of_compost_is_sixty_years_of_onions():
    """T31: 26.9 lb P2O5/1000 ft2 in an inch of compost, 20 lb/ac in an onion crop: 58.6 crops.

    New England Vegetable Management Guide, Table 4 (removal); CalRecycle averages (compost).
    """
    removal = to_si(20, "lb/ac", "mass_per_area")
    inch = to_si(1, "in", "depth")
    content_by_depth = to_si(26.9, "lb/1000 ft2", "mass_per_area") / inch  # kg/m3
    depth = steady_depth(removal, 0.0, content_by_depth / 600, 600)

    assert inch / depth == pytest.approx(58.6, abs=0.05)


def test_twenty_pounds_of_phosphate_lift_bray_a_part_in_a_million():
    """Tri-State bulletin E-2567: 20 lb P2O5/ac a ppm; at 23 % of it found in the furrow slice."""
    phosphorus = to_si(20, "lb/ac", "mass_per_area") * 0.4364
    rise = soil_test_change(phosphorus, 0.23, 1330, to_si(6.7, "in", "depth"))

    assert rise == pytest.approx(1.0, abs=0.02)


@pytest.mark.parametrize(("inches", "left"), [(6, 50), (12, 25), (24, 6.25)])
def test_six_inches_of_water_halve_the_salt_of_a_foot(inches: float, left: float):
    """The reclamation rule says 50, 20 and 10 % left: ours agrees at 6 in, is near it beyond."""
    share = leached_share(to_si(inches, "in", "depth"), to_si(12, "in", "depth"), 0.5)

    assert 100 * (1 - share) == pytest.approx(left)


@given(st.floats(0.1, 3), st.floats(0.03, 0.9))
def test_salt_settles_where_the_leaching_requirement_says(ec_water, fraction):
    ec_e = settled_ec_e(ec_water, fraction, 5)

    assert leaching_requirement(ec_water, ec_e).value == pytest.approx(fraction)


def test_below_the_roots_only_the_leaching_fraction_passes():
    quarters = (0.4, 0.3, 0.2, 0.1)

    assert share_passing(0.15, 0.6, 0.6, quarters) == pytest.approx(0.15)
    assert share_passing(0.15, 0.3, 0.6, quarters) == pytest.approx(0.15 + 0.85 * 0.3)
