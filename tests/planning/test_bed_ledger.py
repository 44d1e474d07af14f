"""The demo garden's ledger: it closes, and it tells a gardener where the habit leads."""

import numpy as np
import pytest

from bedwright.planning.bed_ledger import BedLedger, bed_ledger
from bedwright.planning.ledger_contents import contents
from bedwright.planning.ledger_entries import PlannedSeason, entries
from bedwright.planning.own import library_of
from bedwright.reports.fill import sentence
from bedwright.reports.ledger_text import ledger_text
from bedwright.units import UnitSystem, to_si
from bedwright.working import Figure

ACCOUNTS = ("phosphate", "potash", "nitrogen", "reaction", "salt", "organic_matter")


@pytest.fixture(scope="module")
def own(kestrel_bend, library):
    return library_of(kestrel_bend, library)


@pytest.fixture(scope="module")
def ledger(kestrel_bend, own) -> BedLedger:
    return bed_ledger(kestrel_bend, own)


@pytest.mark.parametrize("name", ACCOUNTS)
def test_every_account_of_every_bed_closes(ledger: BedLedger, name: str):
    assert getattr(ledger, name).gap <= 1e-9


def test_nitrogen_released_and_waiting_is_what_the_bags_brought(ledger, kestrel_bend, own):
    book = entries(kestrel_bend, own)
    organic = np.einsum("m,mbs->b", contents(book.materials, own).organic_n, book.mass[1])
    found = ledger.organic_nitrogen

    assert organic.max() > 0.1
    assert found.released.sum(axis=1) + found.left[:, -1] == pytest.approx(organic, abs=1e-9)
    incoming = ledger.nitrogen.incoming
    assert incoming["released_fresh"] + incoming["released_earlier"] == pytest.approx(
        found.released, abs=1e-12
    )


def test_one_dressing_is_counted_as_a_hand_would(ledger: BedLedger, kestrel_bend, own):
    """R1 in 2024: 104 lb of tomatoes by the table's content, per square meter of bed."""
    row, column = ledger.row("R1"), ledger.seasons.index(2024)
    content = own.fact("crop_facts", "tomato", "p2o5_removal", "kg/kg")
    assert content is not None
    area = next(bed.area_m2 for bed in kestrel_bend.garden.bed if bed.id == "R1")
    harvest = to_si(104, "lb", "mass") / area

    assert ledger.phosphate.outgoing["harvest"][row, column] == pytest.approx(
        harvest * content.value
    )


def test_the_raised_beds_gain_phosphorus_fastest(ledger: BedLedger):
    change = {bed: ahead.surplus[1] for bed, ahead in zip(ledger.beds, ledger.outlooks, strict=True)
              if ahead is not None}  # fmt: skip

    first = sorted(change, key=lambda bed: -change[bed])[:8]
    assert set(first) == {f"R{at}" for at in range(1, 9)}


def test_a_ceiling_is_reached_in_a_range_of_years_with_the_least_certain_term(ledger: BedLedger):
    ahead = ledger.outlooks[ledger.row("W1")]
    assert ahead is not None
    level = next(each for each in ahead.levels if each.name == "p_removal_only_olsen")
    first, middle, last = level.years

    assert first is not None and middle is not None and last is not None
    assert 2026 < first < middle < last
    assert ahead.least_certain[0][0] == "test_share"
    spreads = [spread for _, spread in ahead.least_certain]
    assert spreads == sorted(spreads, reverse=True)


def test_a_film_of_compost_would_hold_phosphorus(ledger: BedLedger):
    ahead = ledger.outlooks[ledger.row("W1")]
    assert ahead is not None and ahead.steady_depth is not None

    assert 0 < ahead.steady_depth.value < to_si(0.25, "in", "depth")


def test_a_beds_own_record_bounds_what_the_test_can_find(ledger: BedLedger):
    said = {each.code: each for each in ledger.findings["R1"]}
    bounded = said["ledger_share_bounded"].values["share"]

    assert isinstance(bounded, Figure)
    assert bounded.most < 0.08


def test_the_salt_of_an_old_raised_bed_settles_near_what_was_measured(ledger: BedLedger):
    ahead = ledger.outlooks[ledger.row("R1")]
    measured = ledger.soils[ledger.row("R1")].ec_e
    assert ahead is not None and ahead.salt_settles is not None and measured is not None

    assert ahead.salt_settles[0] < measured.value < ahead.salt_settles[2]


def test_what_was_not_measured_is_not_nothing(ledger: BedLedger):
    row = ledger.row("E9")

    assert np.isnan(ledger.salt.closing[row]).all()
    assert np.isnan(ledger.organic_matter.closing[row]).all()
    assert "not known" in ledger_text(ledger, "E9", UnitSystem.US)


def test_a_season_of_which_nothing_is_told_is_said(ledger: BedLedger):
    said = {each.code: each for each in ledger.findings["E9"]}

    assert said["ledger_season_not_told"].values["years"] == "2024"


def test_the_plan_is_counted_after_the_history_but_is_no_habit(kestrel_bend, own, ledger):
    goal = Figure("yield_goal", 5.0, "kg/m2", "stated")
    season = PlannedSeason("W1", 2027, "pepper_sweet", goal, (("yard_compost", 5.0),))
    with_plan = bed_ledger(kestrel_bend, own, [season])
    row = with_plan.row("W1")
    content = own.fact("material_facts", "yard_compost", "p2o5_total", "kg/kg")
    assert content is not None

    assert with_plan.seasons[-1] == 2027
    assert with_plan.planned[row, -1]
    assert with_plan.phosphate.incoming["materials"][row, -1] == pytest.approx(5 * content.value)
    before, after = ledger.outlooks[row], with_plan.outlooks[row]
    assert before is not None and after is not None
    assert before.surplus == pytest.approx(after.surplus)
    assert "2027*" in ledger_text(with_plan, "W1", UnitSystem.US)


@pytest.mark.parametrize("system", UnitSystem)
def test_every_beds_page_keeps_to_eighty_columns_and_has_all_its_words(ledger, system):
    for bed in ledger.beds:
        page = ledger_text(ledger, bed, system)
        assert max(len(line) for line in page.splitlines()) <= 80
        for each in ledger.findings[bed]:
            said = sentence(each, system)
            assert "{" not in said and "_" not in said


def test_a_bed_that_is_not_there_is_answered_with_those_there_are(ledger: BedLedger):
    with pytest.raises(LookupError, match="W1"):
        ledger_text(ledger, "X9", UnitSystem.US)


def test_a_garden_without_history_has_an_empty_ledger(tmp_path, library, as_of):
    from bedwright.garden import load

    path = tmp_path / "garden.toml"
    path.write_text(
        'format = 2\n[garden]\nname = "Invented"\n[[bed]]\nid = "A"\nlength = "5 m"\n'
        'width = "1 m"\n',
        "utf-8",
    )
    document = load(path, library, as_of)
    found = bed_ledger(document, library_of(document, library))

    assert found.seasons == ()
    assert "no season" in ledger_text(found, "A", UnitSystem.METRIC)


def test_the_metric_garden_has_a_ledger_that_closes(ennery_flat, library):
    found = bed_ledger(ennery_flat, library_of(ennery_flat, library))

    assert all(getattr(found, name).gap <= 1e-9 for name in ACCOUNTS)
