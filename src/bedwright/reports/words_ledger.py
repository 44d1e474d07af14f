"""The ledger's, the heap's and the manure dates' codes in words."""

from __future__ import annotations

from bedwright.language import Words

LEDGER_FINDINGS = Words({
    "ledger_phosphorus_rising": "The present habit brings more phosphorus than the harvests carry "
    "off: the Olsen test rises by {change} a year. Least certain: {uncertain}.",
    "ledger_phosphorus_falling": "The harvests carry off more phosphorus than is brought: the Olsen "
    "test changes by {change} a year. Least certain: {uncertain}.",
    "ledger_phosphorus_steady": "What is brought and what the harvests carry off are alike: the Olsen "
    "test stays where it is.",
    "ledger_phosphorus_either": "Whether phosphorus rises or falls here can't be told: the Olsen test "
    "changes by {change} a year. Least certain: {uncertain}.",
    "ledger_share_bounded": "This bed's own record sets a bound: of the phosphorus brought since the "
    "first season told, the Olsen test finds no more than {share} (tables: {table}).",
    "ledger_level_reached": "If the habit goes on, Olsen phosphorus ({now} now) passes {level}: "
    "most likely {middle}, earliest {first}, latest {last}. Least certain: {uncertain}.",
    "ledger_level_falls_below": "If the habit goes on, Olsen phosphorus ({now} now) falls below "
    "{level}: most likely {middle}, earliest {first}, latest {last}. Least certain: {uncertain}.",
    "ledger_level_may_be_reached": "If the habit goes on, Olsen phosphorus ({now} now) most likely stays "
    "below {level}; it could pass it from {first}. Least certain: {uncertain}.",
    "ledger_level_may_fall_below": "If the habit goes on, Olsen phosphorus ({now} now) most likely stays "
    "above {level}; it could fall below it from {first}. Least certain: {uncertain}.",
    "ledger_level_may_be_reached_salt": "If the habit goes on, salt (ECe {now} now) most likely stays "
    "below the {level} that {crop} bears; it could pass it from {first}. Least certain: {uncertain}.",
    "ledger_level_may_fall_below_salt": "Salt (ECe {now} now) lies above the {level} that {crop} bears, "
    "and under this habit most likely stays so; it could fall below it from {first}. Least certain: "
    "{uncertain}.",
    "ledger_level_kept": "Olsen phosphorus ({now} now) stays {stands} {level} for the next {years} years under "
    "the present habit.",
    "ledger_level_reached_salt": "If the habit goes on, salt (ECe {now} now) passes the {level} that "
    "{crop} bears: most likely {middle}, earliest {first}, latest {last}. Least certain: {uncertain}.",
    "ledger_level_falls_below_salt": "Salt (ECe {now} now) lies above the {level} that {crop} bears; "
    "under this habit it falls below that: most likely {middle}, earliest {first}, latest {last}. "
    "Least certain: {uncertain}.",
    "ledger_level_kept_salt": "Salt (ECe {now} now) stays {stands} the {level} that {crop} bears for the next {years} "
    "years under the present habit.",
    "ledger_salt_settles": "Under this water and habit the bed's salt settles at ECe {settles}. Least "
    "certain: {uncertain}.",
    "ledger_steady_depth": "Phosphorus would hold steady with {depth} of {material} a year, the other "
    "materials as they were.",
    "ledger_no_compost_holds": "The other materials alone bring more phosphorus than the harvests "
    "carry off: no depth of {material} would hold it steady.",
    "ledger_olsen_not_measured": "There is no Olsen test: the change is told, but not where it starts.",
    "ledger_mass_not_known": "{material} of {year} is not counted: its volume is stated but no density "
    "is known.",
    "ledger_removal_not_known": "What {crop} carried off in {year} is not fully known; what is not "
    "known is not counted.",
    "ledger_yield_not_known": "No harvest is stated for {crop} in {year} and no usual one is known: "
    "nothing is counted as carried off.",
    "ledger_yield_assumed": "No harvest is stated for {crop} in {year}: {taken} is taken. Weighing it "
    "would settle it.",
    "ledger_content_not_known": "No source says how much {part} {material} brings: it is not counted.",
    "ledger_water_not_known": "No water report states both salt and the season's depth: the salt "
    "account can't be kept.",
    "ledger_water_each_season": "Every season is taken to bring the water of the one report.",
    "ledger_salt_not_measured": "Salt was not measured here: the salt account has no start.",
    "ledger_matter_not_measured": "Organic matter was not measured here: its account has no start.",
    "ledger_opening_taken": "No report is older than the first season: the salt and organic matter of "
    "{sampled} are taken as its start, so these two accounts show how they move, not where they stood.",
    "ledger_season_not_told": "The document does not tell of {years}: nothing is counted for it.",
    "ledger_residues_stay": "Only the harvest is counted as carried off; tops and roots are taken to "
    "stay on the bed.",
})  # fmt: skip

HEAP_FINDINGS = Words({
    "herbicide_bioassay": "Where the {feedstock} was sprayed is not known. Before any of it goes on a "
    "bed, test it: fill three or more pots with potting mix blended with it and three with plain "
    "compost-free potting mix, sow peas or beans in all, and compare them after two to three weeks, "
    "when three sets of leaves are out. Cupped, twisted or fern-like new leaves only in the test pots "
    "mean a persistent herbicide: keep it off everything but grasses and corn. Salt and unfinished "
    "compost hurt seedlings too, so test for these first.",
    "heap_cannot_be_balanced": "These feedstocks can't be brought to a C:N of {ratio} and a moisture of "
    "{moisture}; what stands in the way: {clash}.",
    "heap_clashes_twice": "These feedstocks miss both the C:N of {ratio} and the moisture of "
    "{moisture}: something of another kind is needed.",
    "heap_smaller_than_wanted": "What is on hand makes {made} of the {wanted} wanted.",
    "heap_without_record": "Heap {heap} has no temperature record that the organic rule knows.",
    "heap_heat_met": "Heap {heap} was hot for {run} days running, {needed} are asked, with {turnings} "
    "turnings.",
    "heap_heat_met_with_breaks": "Heap {heap} was hot for {days} days, {needed} are asked, but no more "
    "than {run} of them running. The rule's text does not say that they must follow one another; ask "
    "your certifier.",
    "heap_heat_too_few_days": "Heap {heap} was between 131 and 170 F on {days} days; the rule asks "
    "for {needed}.",
    "heap_heat_too_few_turnings": "Heap {heap} was hot for long enough, but turned {turnings} times in "
    "that time; the rule asks for {turnings_needed}.",
    "heap_heat_no_record": "Heap {heap} has no readings.",
    "heap_too_hot": "Heap {heap} was above 170 F on {days} days: turn it sooner; these days don't count.",
    "heap_counts_as_raw_manure": "Heap {heap} holds manure or animal matter and its record does not "
    "meet the rule: it counts as raw manure, with 90 or 120 days between working in and harvest.",
    "compost_ec_reject": "The compost's salt is {value}: too much for beds in a dry climate.",
    "compost_sodium_caution": "Sodium is {value} of the dry matter, more than usual: spread it thin.",
    "compost_sodium_reject": "Sodium is {value} of the dry matter, more than twice the usual: leave it.",
    "compost_chloride_caution": "Chloride is {value} of the dry matter, more than usual.",
    "compost_chloride_reject": "Chloride is {value} of the dry matter, more than twice the usual.",
    "compost_boron_hot_water_reject": "Hot-water boron is {value}: yields fall with this compost in "
    "the mix.",
    "compost_c_to_n_caution": "C:N is {value}: outside the 10 to 20 of a finished compost.",
    "compost_c_to_n_reject": "C:N is {value}: it ties up nitrogen. Mulch with it, or compost it on.",
    "compost_ph_caution": "The compost's pH is {value}, outside 5.5 to 8.5.",
    "compost_germination_reject": "Only {value} of test seedlings came up well: not finished.",
    "compost_respiration_reject": "The compost still breathes ({value} of carbon a day): not finished.",
    "compost_ammonium_n_caution": "Ammonium is {value}: not finished, let it cure.",
    "compost_ammonium_to_nitrate_caution": "There is {value} times as much ammonium as nitrate: not "
    "finished, let it cure.",
    "compost_not_tested": "The compost report does not tell of {property}.",
    "compost_ph_assumed_for_boron": "The compost's pH is not stated: 6 is taken, where most boron "
    "dissolves.",
})  # fmt: skip

MANURE_FINDINGS = Words({
    "raw_manure_too_late": "{material} was spread raw on {spread}. The first pick, {first_pick}, lies "
    "less than {days} days after it: harvest nothing before {allowed}.",
    "raw_manure_forbidden_from": "No raw manure on this bed from {day} until the last harvest: {days} "
    "days must pass, as what is eaten is {contact}.",
    "first_pick_assumed": "No first pick is stated: {first_pick} is taken, {days} days after setting "
    "out, on purpose early.",
    "first_pick_not_known": "No day of setting out is stated, so the raw-manure interval has no date.",
})  # fmt: skip

TERMS = Words(
    {
        "phosphate_in": "how much phosphate the materials brought",
        "phosphate_out": "how much the harvests carried off",
        "test_share": "the share of a surplus that the test finds, the rest being held by lime and soil",
        "water_salts": "the salt that the water leaves, which hangs on how much of it drains",
        "salts_leached": "how much of the spread salt each season's drainage carries off",
        "not_within_50_years": "not within 50 years",
        "above": "above",
        "below": "below",
        "colder": "colder",
        "warmer": "warmer",
        "touches_soil": "touching the soil",
        "clear_of_soil": "clear of the soil",
        "c_to_n_low": "too little carbon",
        "c_to_n_high": "too much carbon",
        "moisture_low": "too dry",
        "moisture_high": "too wet",
        "boron_hot_water": "boron",
        "ammonium_n": "ammonium (whether it is finished)",
        "c_to_n": "C:N",
        "ec": "salt",
        "n": "nitrogen",
        "p2o5": "phosphate",
        "k2o": "potash",
        "matter": "organic matter",
    }
)
