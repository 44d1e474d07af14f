"""What a small bed gets, and what it does not get, from a report that a laboratory might send."""

from datetime import date

import pytest
from small_gardens import (
    ACID,
    ALKALINE,
    BED,
    LIBRARY,
    NEUTRAL,
    RAISED,
    RICH,
    SHED,
    bed_of,
    codes,
    credit,
    garden_text,
    plan_of,
    spread,
    struck,
    with_result,
)

from bedwright.feeding.materials import material

OLSEN_P_OF_P2O5 = 2 * 30.974 / (2 * 30.974 + 5 * 15.999)


def test_an_alkaline_raised_bed_full_of_phosphorus_gets_no_compost_and_no_lime():
    wish = 'compost = { material = "plant compost", depth = "2 in" }'

    bed = bed_of(RICH, bed=RAISED, want=wish)

    kinds = {line.material.kind for line in bed.lines}
    assert not kinds & {"compost", "liming", "manure", "ash"}
    assert struck(bed)["yard_compost"] == "phosphorus_stop"
    assert struck(bed)["calcitic_lime"] == "lime_on_alkaline"
    assert {"no_compost_this_year", "compost_wish_refused"} <= codes(bed)


def test_a_bed_full_of_phosphorus_gets_no_bone_meal_nor_superphosphate():
    bed = bed_of(RICH, bed=RAISED)

    assert struck(bed)["bone_meal_steamed"] == "phosphorus_not_called_for"
    assert struck(bed)["triple_superphosphate"] == "phosphorus_not_called_for"


def test_a_bed_over_the_middle_limit_gets_no_more_phosphorus_than_leaves_it():
    results = with_result(ALKALINE, "Phosphorus", "Phosphorus, 70 ppm, Olsen")

    bed = bed_of(results, shed=(*SHED, "fish meal"))

    assert "compost_only_by_removal" in codes(bed)
    (need,) = [each for each in bed.needs if each.nutrient == "p2o5"]
    carried = sum(line.per_area * line.supply.p2o5_total.value for line in bed.lines)
    assert carried <= need.ceiling.value * (1 + 1e-6)


def test_a_sour_bed_is_limed_by_its_buffer_test():
    # 5.9 in the Mehlich buffer: acidity (6.6 - 5.9) / 0.25 = 2.8 meq/100 g or so; the bed without
    # a buffer test would be limed from texture tables instead.
    buffered = bed_of((*ACID, "Mehlich buffer pH, 5.9, Mehlich buffer"))
    bare = bed_of(ACID)

    assert buffered.reaction.lime is not None
    assert "lime_without_buffer_test" not in codes(buffered)
    assert "lime_without_buffer_test" in codes(bare)
    assert buffered.reaction.lime.value != pytest.approx(bare.reaction.lime.value)


def test_more_acidity_in_the_buffer_is_more_lime():
    by_reading = [
        bed_of((*ACID, f"Mehlich buffer pH, {reading}, Mehlich buffer"))
        for reading in ("6.3", "6.0", "5.7")
    ]

    whole = [
        each.values["lime"].value
        for bed in by_reading
        for each in bed.findings
        if each.code == "lime_needed"
    ]
    assert whole == sorted(whole)
    assert whole[0] < whole[-1]


def test_the_lime_on_a_sour_bed_is_what_its_buffer_asks_for():
    bed = bed_of((*ACID, "Mehlich buffer pH, 6.2, Mehlich buffer"))

    wanted = bed.reaction.lime.value
    pure = sum(
        line.per_area * line.supply.reaction.value
        for line in bed.lines
        if line.supply.reaction.value > 0
    )
    assert 0.9 * wanted * (1 - 1e-6) <= pure <= 1.1 * wanted * (1 + 1e-6)


@pytest.mark.parametrize("results", [ALKALINE, RICH, NEUTRAL])
def test_no_lime_goes_on_a_bed_that_is_not_sour(results):
    bed = bed_of(results)

    assert not {"calcitic_lime", "dolomitic_lime"} & set(spread(bed))
    assert bed.reaction.lime is None


WELL = """[[water_report]]
id = "well"
sampled = 2026-07-20
season_depth = "24 in"
results = [ { analyte = "NO3-N", value = "6 mg/l" } ]
"""


def test_nitrate_in_the_water_is_credited_by_its_depth():
    # 6 mg/l in 24 in (0.6096 m) of water: 3.66 g of nitrogen on each square meter.
    wet, dry = bed_of(more=WELL), bed_of()

    assert credit(wet, "irrigation_credit") == pytest.approx(0.006 * 0.6096)
    assert wet.nitrogen.to_supply.value == pytest.approx(
        dry.nitrogen.to_supply.value - 0.006 * 0.6096
    )


def test_nitrate_as_the_ion_is_credited_as_its_nitrogen():
    ion = bed_of(more=WELL.replace("NO3-N", "NO3").replace("6 mg/l", "26.56 mg/l"))

    assert credit(ion, "irrigation_credit") == pytest.approx(0.006 * 0.6096, rel=1e-3)


def test_water_whose_depth_is_not_stated_is_not_credited_and_that_is_said():
    bed = bed_of(more=WELL.replace('season_depth = "24 in"\n', ""))

    assert credit(bed, "irrigation_credit") is None
    assert "water_depth_not_stated" in codes(bed)


def test_water_of_another_zone_waters_another_bed():
    elsewhere = WELL.replace('id = "well"', 'id = "well"\nwater_zones = ["drip"]')
    zoned = BED + 'water_zone = "overhead"\n'
    fence = '[[bed]]\nid = "B"\nlength = "9 ft"\nwidth = "4 ft"\nwater_zone = "drip"\n'

    bed = bed_of(bed=zoned, more=elsewhere + fence)

    assert credit(bed, "irrigation_credit") is None


def test_organic_growing_leaves_urea_and_superphosphate_in_the_shed():
    bed = bed_of(limits="organic_only = true")

    assert struck(bed)["urea"] == "not_organic"
    assert struck(bed)["triple_superphosphate"] == "not_organic"
    assert "urea" not in spread(bed)
    assert "urea" in spread(bed_of())


def test_phosphate_printed_as_p2o5_is_read_as_the_phosphorus_in_it():
    oxide = with_result(ALKALINE, "Phosphorus", "P2O5, 41 ppm, Olsen")
    element = with_result(
        ALKALINE, "Phosphorus", f"Phosphorus, {41 * OLSEN_P_OF_P2O5:.4f} ppm, Olsen"
    )

    one, other = bed_of(oxide), bed_of(element)

    assert one.read["phosphorus"].value == pytest.approx(41 * OLSEN_P_OF_P2O5, rel=1e-4)
    assert spread(one) == pytest.approx(spread(other), rel=1e-4)


def test_the_same_figure_as_p_and_as_p2o5_is_not_the_same_soil():
    as_p = bed_of(with_result(ALKALINE, "Phosphorus", "Phosphorus, 22 ppm, Olsen"))
    as_p2o5 = bed_of(with_result(ALKALINE, "Phosphorus", "P2O5, 22 ppm, Olsen"))

    assert as_p.read["phosphorus"].supply != as_p2o5.read["phosphorus"].supply


def test_a_bed_without_a_report_gets_label_rates_and_the_names_of_the_tests():
    (bed,) = plan_of(garden_text(None)).beds

    tests = [test for test, _ in bed.missing]
    assert tests == ["ph", "phosphorus", "potassium", "nitrate_n", "ec", "organic_matter"]
    rates = [
        (each.amount.least, each.amount.most)
        for each in bed.labels
        if each.material.key == "blood_meal" and each.assumes == "upper_single_use"
    ]
    # Blood meal: 1 to 4 lb per 100 ft2, on a bed of 200 ft2.
    pound = 0.45359237
    assert rates == [pytest.approx((2 * pound, 8 * pound))]


def test_a_bed_with_a_report_gets_no_label_rates():
    (bed,) = plan_of(garden_text(NEUTRAL)).beds

    assert bed.labels == ()
    assert bed.missing == ()


@pytest.mark.parametrize(
    ("analyte", "code"),
    [
        ("pH", "ph_not_tested"),
        ("Organic matter", "organic_matter_not_tested"),
        ("NO3-N", "nitrate_not_tested"),
        ("Phosphorus", "nutrient_not_tested"),
        ("Potassium", "nutrient_not_tested"),
        ("EC", "salt_not_tested"),
    ],
)
def test_a_test_that_is_missing_is_said_and_not_taken_for_zero(analyte: str, code: str):
    whole, part = bed_of(), bed_of(with_result(NEUTRAL, analyte, None))

    assert code not in codes(whole)
    (said,) = [each for each in part.findings if each.code == code]
    assert said.weight == "assumed"


def test_phosphorus_that_was_not_measured_is_not_fed_as_if_it_were_zero():
    unknown = bed_of(with_result(NEUTRAL, "Phosphorus", None))
    none = bed_of(with_result(NEUTRAL, "Phosphorus", "Phosphorus, 0 ppm, Bray P1"))

    def need(bed):
        return next(each.amount.value for each in bed.needs if each.nutrient == "p2o5")

    assert 0 < need(unknown) < need(none)


def test_nothing_that_moves_the_ph_goes_on_a_bed_whose_ph_is_unknown():
    bed = bed_of(with_result(ACID, "pH", None))

    assert struck(bed)["calcitic_lime"] == "lime_without_ph"
    assert bed.reaction.lime is None


def history(material_name: str, amount: str, on: str, crop: str = "", year: int = 2026) -> str:
    grown = f'crop = "{crop}"\n' if crop else ""
    return (
        f'[[history]]\nbed = "A"\nyear = {year}\n{grown}'
        f'applied = [ {{ material = "{material_name}", amount = "{amount}", on = {on} }} ]\n'
    )


def test_compost_spread_after_the_sample_adds_to_what_the_soil_gives():
    bare = bed_of()
    after = bed_of(more=history("plant compost", "1 in", "2026-11-10"))

    carried = credit(after, "fresh_yard_compost")
    assert carried > 0
    assert "spread_since_sample" in codes(after)
    assert after.nitrogen.to_supply.value == pytest.approx(
        max(0.0, bare.nitrogen.to_supply.value - carried)
    )


@pytest.mark.parametrize("amount", ["0.25 in", "1 in", "4 in"])
def test_compost_spread_before_the_sample_is_counted_once(amount: str):
    bed = bed_of(more=history("plant compost", amount, "2026-04-10"))

    matter, carried = credit(bed, "organic_matter_credit"), credit(bed, "carry_over_yard_compost")
    assert (matter is None) != (carried is None)
    assert {"matter_instead_of_carry_over", "carry_over_instead_of_matter"} & codes(bed)


def test_of_organic_matter_and_earlier_compost_the_larger_counts():
    little = bed_of(more=history("plant compost", "0.1 in", "2026-04-10"))
    much = bed_of(more=history("dairy manure compost", "4 in", "2026-04-10"))

    assert credit(little, "organic_matter_credit") == credit(bed_of(), "organic_matter_credit")
    assert credit(much, "carry_over_dairy_manure_compost") > credit(
        bed_of(), "organic_matter_credit"
    )


@pytest.mark.parametrize("crop", ["snap bean", "pea", "pole bean"])
def test_a_legume_picked_last_year_leaves_no_nitrogen_credit(crop: str):
    past = f'[[history]]\nbed = "A"\nyear = 2026\ncrop = "{crop}"\n'

    bed = bed_of(more=past)

    assert bed.nitrogen.to_supply.value == bed_of().nitrogen.to_supply.value


@pytest.mark.parametrize("key", ["borax", "soluble borate"])
def test_boron_is_never_spread_without_a_boron_test(key: str):
    bed = bed_of(ACID, shed=(*SHED, key))

    assert struck(bed)[key.replace(" ", "_")] == "boron_not_tested"
    assert not {"borax", "soluble_borate"} & set(spread(bed))


def test_boron_is_spread_by_the_scale_where_a_test_calls_for_it():
    bed = bed_of((*NEUTRAL, "Boron, 0.1 ppm, hot water"))

    (line,) = [each for each in bed.lines if each.material.key == "borax"]
    boron = line.per_area * line.supply.other("b")
    (need,) = [each for each in bed.needs if each.nutrient == "b"]
    assert 0.9 * need.amount.value * (1 - 1e-6) <= boron
    assert boron <= max(need.ceiling.value, 1.1 * need.amount.value) * (1 + 1e-6)
    assert line.material.measure == "weight_only"


def test_enough_boron_in_the_test_keeps_borax_in_the_shed():
    bed = bed_of((*NEUTRAL, "Boron, 1.5 ppm, hot water"))

    assert struck(bed)["borax"] == "boron_not_called_for"


@pytest.mark.parametrize("results", [ACID, NEUTRAL, ALKALINE, None])
@pytest.mark.parametrize(
    "raw", ["broiler litter", "fresh cow manure", "horse manure", "dried steer manure"]
)
def test_raw_manure_is_never_blended(results, raw: str):
    bed = bed_of(results, shed=(raw,))

    key = LIBRARY.resolve("material_names", "material", raw)
    assert key in struck(bed)
    assert spread(bed) == {}


def test_a_bed_of_the_gardeners_own_raw_manure_is_raw_manure_too():
    own = '[[material]]\nmaterial = "duck straw"\nlike = "broiler litter"\nname = "Duck straw"\n'

    bed = bed_of(shed=("duck straw",), more=own)

    assert set(struck(bed).values()) == {"raw_manure_interval"}


def test_a_bed_too_salty_for_its_crop_says_so_first_and_takes_little_salt():
    salty = bed_of(with_result(ALKALINE, "EC", "EC, 6.5 dS/m, saturated paste"), crop="lettuce")
    sweet = bed_of(ALKALINE, crop="lettuce")

    assert "salt_over_limit" in codes(salty)
    assert salty.findings[0].weight == "act"
    assert salty.salt.ceiling.value < sweet.salt.ceiling.value
    spread_salt = sum(
        line.preplant.value / salty.evidence.area.value * line.supply.salts.value
        for line in salty.lines
        if line.supply.salts is not None
    )
    assert spread_salt <= salty.salt.ceiling.value * (1 + 1e-6)


def test_compost_on_a_salty_bed_stops_at_the_salt_and_says_so():
    wish = 'compost = { material = "dairy manure compost", depth = "4 in" }'
    results = with_result(ALKALINE, "EC", "EC, 4.5 dS/m, saturated paste")

    bed = bed_of(results, crop="lettuce", want=wish)

    assert "demands_clash" in codes(bed)
    assert "compost_depth" in bed.blend.shortfall


def test_a_wish_for_compost_is_met_where_nothing_stands_against_it():
    wish = 'compost = { material = "plant compost", depth = "0.5 in" }'

    bed = bed_of(NEUTRAL, want=wish)

    density = material_density("yard_compost")
    assert spread(bed)["yard_compost"] == pytest.approx(0.0127 * density, rel=1e-5)


def material_density(key: str) -> float:
    found = LIBRARY.fact("material_facts", material(LIBRARY, key).key, "bulk_density", "kg/m3")
    return found.value


def test_a_shed_without_a_source_says_what_it_lacks():
    bed = bed_of(NEUTRAL, shed=("urea",))

    missing = {each.values["nutrient"] for each in bed.findings if each.code == "no_source_in_shed"}
    assert missing == {"p2o5", "k2o"}


def test_no_stock_list_is_said_and_common_materials_are_offered():
    bed = bed_of(NEUTRAL, shed=())

    assert "no_stock_list" in codes(bed)
    assert bed.lines


@pytest.mark.parametrize("most", [1, 2, 3])
def test_a_gardener_who_weighs_few_bags_weighs_few(most: int):
    bed = bed_of(ALKALINE, limits=f"most_materials = {most}")

    assert len(bed.lines) <= most


def test_what_is_used_up_and_cannot_be_bought_is_not_offered():
    gone = '[[stock]]\nmaterial = "potassium nitrate"\non_hand = "0 lb"\ncan_buy = false\n'

    bed = bed_of(NEUTRAL, more=gone)

    assert "potassium_nitrate" not in bed.blend.keys


def test_a_dearer_shed_changes_the_choice_and_not_the_need():
    priced = "\n".join(
        f'[[stock]]\nmaterial = "{key}"\npackage = "10 lb"\nprice = "{price} USD"\n'
        for key, price in (("urea", 500), ("blood meal", 5), ("potassium sulfate", 9))
    )

    bed = bed_of(NEUTRAL, shed=(), more=priced)

    assert "urea" not in spread(bed)
    assert "blood_meal" in spread(bed)


def test_an_unstated_texture_and_density_are_named_as_assumed():
    bed = bed_of(bed='length = "50 ft"\nwidth = "4 ft"\n')

    assumed = {each.code for each in bed.findings if each.weight == "assumed"}
    assert {"texture_not_stated", "bulk_density_assumed"} <= assumed


def test_old_nitrate_is_doubted_and_fresh_nitrate_is_not():
    fresh = garden_text().replace("set_out = 2027-05-10", "set_out = 2026-12-01")

    assert "nitrate_sampled_long_ago" in codes(bed_of())
    assert "nitrate_sampled_long_ago" not in codes(plan_of(fresh).beds[0].prescription)


def test_findings_come_with_what_is_to_be_done_first():
    order = ["act", "caution", "doubt", "assumed", "note"]
    for results in (ACID, NEUTRAL, ALKALINE, RICH, None):
        weights = [order.index(each.weight) for each in bed_of(results).findings]
        assert weights == sorted(weights)


def test_nitrate_of_the_soil_is_credited_over_its_depth_and_density():
    # 5 ppm in 12 in of soil at 1400 kg/m3: 5e-6 x 0.3048 x 1400 = 2.13 g of nitrogen per m2.
    bed = bed_of(bed=BED + 'bulk_density = "1.4 kg/l"\n')

    assert credit(bed, "nitrate_credit") == pytest.approx(5e-6 * 0.3048 * 1400)


def test_a_bed_twice_as_large_takes_twice_as_much():
    one, two = bed_of(), bed_of(bed=BED.replace("50 ft", "100 ft"))

    for line, other in zip(one.lines, two.lines, strict=True):
        assert other.material == line.material
        assert other.preplant.value == pytest.approx(2 * line.preplant.value, rel=1e-4)


@pytest.mark.parametrize("results", [ACID, NEUTRAL, ALKALINE, RICH])
@pytest.mark.parametrize("crop", ["tomato", "lettuce", "onion", "potato", "snap bean"])
def test_nothing_is_both_spread_and_left_out(results, crop: str):
    bed = bed_of(results, crop=crop)

    assert not set(spread(bed)) & set(struck(bed))


def test_more_is_not_spread_than_is_left_of_what_cannot_be_bought_unless_that_is_said():
    little = '[[stock]]\nmaterial = "urea"\non_hand = "0.1 lb"\ncan_buy = false\n'
    text = garden_text(NEUTRAL, shed=("potassium sulfate", "triple superphosphate"), more=little)

    plan = plan_of(text)

    bed = plan.beds[0].prescription
    used = spread(bed).get("urea", 0.0) * bed.evidence.area.value
    said = {each.code for each in plan.shared.findings} | codes(bed)
    assert used <= 0.1 * 0.45359237 * (1 + 1e-6) or "stock_runs_out" in said


def test_manure_spread_this_spring_is_counted_in_this_springs_nitrogen():
    past = history("poultry manure pellets", "40 lb", "2027-04-15", year=2027)
    text = garden_text(NEUTRAL, more=past)
    bed = plan_of(text, date(2027, 5, 1)).beds[0].prescription

    assert bed.nitrogen.to_supply.value < bed_of().nitrogen.to_supply.value


def test_manure_spread_before_this_springs_sample_is_counted_once():
    past = history("poultry manure pellets", "40 lb", "2026-10-05", year=2026)
    bed = bed_of(more=past)

    nitrate, fresh = credit(bed, "nitrate_credit"), credit(bed, "fresh_poultry_manure")
    assert (nitrate is None) != (fresh is None)
    assert {"fresh_instead_of_nitrate", "nitrate_instead_of_fresh"} & codes(bed)


def test_two_loads_of_one_compost_in_a_year_are_both_counted():
    one = history("plant compost", "1 in", "2026-04-10")
    two = one + history("plant compost", "1 in", "2026-05-10")
    twice = one + history("plant compost", "1 in", "2026-04-10")
    whole = [sum(x.value for x in bed_of(more=m).nitrogen.credits
                 if x.name.startswith("carry")) for m in (one, two, twice)]  # fmt: skip

    assert whole[1:] == [pytest.approx(2 * whole[0])] * 2 or whole[0] == 0


def test_what_is_spread_in_june_feeds_the_coming_summer_only_in_the_south():
    past = history("poultry manure pellets", "40 lb", "2026-06-05", year=2026)

    def kinds(latitude: str, set_out: str) -> set[str]:
        place = f'latitude = "{latitude}"'
        text = garden_text(NEUTRAL, more=past, place=place).replace("2027-05-10", set_out)
        bed = plan_of(text).beds[0].prescription
        return codes(bed) & {"fresh_instead_of_nitrate", "nitrate_instead_of_fresh"}

    assert kinds("34 S", "2026-12-20")
    assert not kinds("46 N", "2027-05-10")


def test_a_wish_for_compost_is_no_way_in_for_raw_manure():
    wish = 'compost = { material = "broiler litter", depth = "1 in" }'

    bed = bed_of(NEUTRAL, want=wish)

    assert "broiler_litter" not in spread(bed)


def test_calcium_that_was_not_measured_is_not_called_plenty():
    bed = bed_of(NEUTRAL)

    assert "calcium_none_needed" not in codes(bed)


def test_all_that_sweetens_a_sour_bed_together_keeps_to_its_lime():
    shed = ("crab shell meal", "calcitic lime", "potassium sulfate")
    bed = bed_of(with_result(ACID, "Phosphorus", None), shed=shed)

    bases = sum(
        line.per_area * max(0.0, line.supply.reaction.value)
        for line in bed.lines
        if line.material.kind != "compost"
    )
    assert bases <= 1.1 * bed.reaction.lime.value * (1 + 1e-6)


def test_more_sodium_than_the_exchange_holds_is_still_read():
    # 800 ppm of sodium are 3.5 meq/100 g, more than a sand of 3 meq holds: some is loose salt.
    results = (*ALKALINE, "Sodium, 800 ppm, ammonium acetate", "CEC, 3 meq/100 g, ammonium acetate")

    bed = bed_of(results)

    assert "sodic" in codes(bed)
