"""Water within the season plan: the schedule, mulch, crops that share a bed, unrated crops."""

from dataclasses import replace

import numpy as np
import pytest

from bedwright.garden.model_water import Mulch
from bedwright.planning.layout.plantings import grounds_of
from bedwright.planning.nitrogen_run import CASES
from bedwright.planning.watering.garden_water import garden_water
from bedwright.planning.watering.mulch import Cover, under_mulch
from bedwright.planning.watering.phases import Phase, phased_balance
from bedwright.planning.watering.salt_years import ZoneWater, leaching_of
from bedwright.planning.watering.shared_bed import CropDays, shared_days
from bedwright.reports.water_schedule import bed_water_lines, months_told
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.reports.words_spreading import SHEET_WORDS
from bedwright.sheets.content import sheet_content
from bedwright.units import UnitSystem
from bedwright.water.balance import daily_balance
from bedwright.water.beds import BedDays, Ground, Refill, Start
from bedwright.working import Figure

GROUND = Ground(0.020, 0.009, 0.4, wetted_share=0.5)


def bed_days(count=40, basal=0.6, cover=0.3, held=0.06, height=1):
    columns = (0.006, 0.0, basal, 1.2, cover, held)
    return BedDays(*(np.full((count, height), each) for each in columns))


def share(value):
    return Figure("share", value, "-", "computed")


def test_the_sheets_minutes_are_the_schedules(kestrel_plan):
    words = {**DRAWING_WORDS, **SHEET_WORDS}
    for planting in kestrel_plan.beds[:4]:
        stand = kestrel_plan.water_of(planting)
        sheet = sheet_content(
            kestrel_plan, planting.prescription.bed.id, words, UnitSystem.US
        ).water
        due = [each for each in stand.months if each.runs > 0]

        assert len(due) == len(sheet.months) >= 3
        assert sheet.rows[0][1:] == tuple(f"{each.runs} x {round(each.minutes)}" for each in due)


def test_a_zone_runs_for_its_longest_bed_and_as_often_as_any_needs(kestrel_plan):
    water = kestrel_plan.water
    for zone in water.schedule:
        months = [each for stand in water.stands if stand.zone == zone.zone
                  for each in stand.months if each.first.replace(day=1) == zone.first]  # fmt: skip
        assert {each.runs for each in months} == {zone.runs}
        assert max(each.minutes for each in months) == pytest.approx(zone.minutes)
        assert max(each.hot_minutes for each in months) == pytest.approx(zone.hot_minutes)


def test_the_months_runs_bring_what_the_days_need(kestrel_plan):
    stand = kestrel_plan.water.stand_of("W2", "pepper_sweet")
    july = next(each for each in stand.months if each.first.month == 7)
    day = (july.first - stand.stand.start).days

    need = stand.years.need_m[day : day + 31].mean() * 7
    assert july.net_m * july.runs == pytest.approx(need)


def test_the_plan_tells_minutes_by_month_and_what_holds_in_heat(kestrel_plan):
    stand = kestrel_plan.water.stand_of("W2", "pepper_sweet")
    told = " ".join(bed_water_lines(stand, UnitSystem.US))

    july = next(each for each in months_told(stand, UnitSystem.US) if each.month == "July")
    assert f"July: {july.runs} x {july.each}" in told
    assert "104 F" in told and "0.50 in of rain" in told


def test_nitrogen_is_lost_by_what_the_balance_lets_drain(kestrel_plan):
    planting = next(each for each in kestrel_plan.beds if each.prescription.bed.id == "W2")
    course, stand = planting.nitrogen, kestrel_plan.water_of(planting)
    shares = stand.drained.shares(course.starts)
    typical = CASES.index("typical")
    at_hand = course.season.in_soil + course.season.leached

    assert np.allclose(course.season.leached, at_hand * shares)
    assert shares[0].sum() > shares[typical].sum() > shares[2].sum() > 0
    assert np.abs(course.season.residual).max() < 1e-12
    assert {"nitrogen_drained", "drainage_by_balance"} <= {each.code for each in course.findings}
    assert "leaching_not_counted" not in {each.code for each in course.findings}


def test_the_grounds_of_the_plan_serve_the_water_too(kestrel_bend, library, as_of, kestrel_plan):
    document = replace(kestrel_bend, garden=kestrel_bend.garden.model_copy(
        update={"want": kestrel_bend.garden.want[:1]}))  # fmt: skip
    dates = kestrel_plan.dates
    grounds = grounds_of(document, library, dates)
    one = garden_water(document, library, as_of, as_of, dates=dates, grounds=grounds)
    other = garden_water(document, library, as_of, as_of, dates=dates)

    assert one.gross_m3 == other.gross_m3 > 0


# Mulch.


def test_straw_over_all_the_ground_halves_evaporation_of_the_wet_surface():
    # FAO-56 chapter 10, p. 197: 5 % less for each 10 % of the ground covered
    straw = Cover("straw", 0, 40, share(0.5), share(1.0), share(1.0), ())
    every = Refill(np.ones((40, 1), dtype=bool), 0.0)
    bare, under = (
        daily_balance(bed_days(), ground, Start(0.0, 0.0), every, timing="early")
        for ground in (GROUND, under_mulch(GROUND, straw))
    )

    assert under.evaporation_m.sum() == pytest.approx(bare.evaporation_m.sum() / 2, rel=1e-9)
    assert under.transpiration_m.sum() == pytest.approx(bare.transpiration_m.sum())


def test_a_mulch_laid_in_the_season_changes_only_the_days_after_it():
    straw = Cover("straw", 15, 40, share(0.5), share(1.0), share(1.0), ())
    days, every = bed_days(), Refill(np.ones((40, 1), dtype=bool), 0.0)
    phases = [Phase(0, GROUND), Phase(15, under_mulch(GROUND, straw))]
    found = phased_balance(days, phases, Start(0.0, 0.0), every, timing="early")
    bare = daily_balance(days, GROUND, Start(0.0, 0.0), every, timing="early")

    assert np.array_equal(found.evaporation_m[:15], bare.evaporation_m[:15])
    assert found.evaporation_m[15:].sum() < 0.6 * bare.evaporation_m[15:].sum()
    assert np.abs(found.residual_m(days)).max() < 1e-9


# Crops that share a bed.


def test_two_crops_on_a_bed_use_water_by_height_and_share_and_then_one_alone():
    # FAO-56 example 46: maize 2 m of Kc 1.20 on 0.3, beans 0.3 m of 0.95 on the rest
    tall, low = bed_days(basal=1.20), bed_days(basal=0.95, cover=0.6)
    tall, low = (replace(each, ceiling=np.full((40, 1), 1.3)) for each in (tall, low))
    found = shared_days(CropDays(tall, np.full(40, 2.0), 40), CropDays(low, np.full(40, 0.3), 25),
                        0.3)  # fmt: skip

    assert found.basal[0, 0] == pytest.approx((0.3 * 2 * 1.2 + 0.7 * 0.3 * 0.95) / (0.6 + 0.21))
    assert found.cover[0, 0] == pytest.approx(0.3 * 0.3 + 0.7 * 0.6)
    assert found.basal[25:, 0] == pytest.approx(1.20)
    assert found.cover[25:, 0] == pytest.approx(0.3)


# Salt of crops that no list rates.


def test_a_crop_without_a_rating_is_leached_as_a_moderately_sensitive_one(library):
    water = ZoneWater(Figure("ec", 1.3, "dS/m", "measured"), None)
    found = leaching_of("garlic", "garlic", water, 90, library)
    rated = leaching_of("beet", "beet", water, 90, library)

    assert found.assumed and not rated.assumed
    assert found.limit.value == pytest.approx(2.15 + 10 / 10.2)
    # FAO-29 (Rhoades): ECw / (5 ECe - ECw)
    assert found.share == pytest.approx(1.3 / (5 * found.limit.value - 1.3))
    assert [each.code for each in found.findings] == ["water_tolerance_assumed"]
    assert leaching_of("garlic", "garlic", ZoneWater(None, None), 90, library).share == 0


def test_a_stated_mulch_saves_water_and_the_wants_own_outranks_the_beds(
    kestrel_bend, library, as_of, kestrel_plan
):
    def watered(**mulches):
        garden = kestrel_bend.garden
        beds = [each.model_copy(update={"mulch": mulches.get("bed")}) for each in garden.bed]
        wants = [garden.want[0].model_copy(update={"mulch": mulches.get("want")})]
        document = replace(
            kestrel_bend, garden=garden.model_copy(update={"bed": beds, "want": wants})
        )
        made = garden_water(document, library, as_of, as_of, dates=kestrel_plan.dates)
        return made.stands[0]

    straw = Mulch.model_validate({"of": "straw", "cover": "100 %"})
    sheet = Mulch.model_validate({"of": "plastic"})
    bare, under, other = watered(), watered(bed=straw), watered(bed=straw, want=sheet)

    assert bare.stand.mulch is None and under.stand.mulch.of == "straw"
    assert other.stand.mulch.of == "plastic"
    assert under.years.evaporation.mean < 0.75 * bare.years.evaporation.mean
    assert other.years.evaporation.mean < under.years.evaporation.mean
    assert other.years.transpiration.mean < 0.95 * bare.years.transpiration.mean
