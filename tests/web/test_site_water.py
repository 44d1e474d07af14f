"""The pages of water: the day, the week, a bed's balance, salt, readings, tap and lines."""

import re
import tomllib
from datetime import date
from itertools import pairwise
from urllib.parse import urlencode

import pytest
from django.urls import reverse
from forms_sent import form_of, sent_of
from pages_read import words_of

from bedwright.season import season_plan
from bedwright.web import jobs, kinds_of_work
from bedwright.web.documents import save_revision
from bedwright.web.models import Job
from bedwright.web.plan_store import keep_plan
from bedwright.web.standing import standing_of, tables
from bedwright.web.watering.kept import keep_water_of, water_of

pytestmark = pytest.mark.django_db

# Peppers and carrots on a well that is rich in nitrate, garlic on the house's supply.
TEXT = """format = 2

[garden]
name = "Three Beds"
latitude = "46.1 N"
longitude = "119.2 W"
elevation = "590 ft"
time_zone = "America/Los_Angeles"

[watering]
method = "drip"
flow = "5 gal/min"
hours = [["04:00", "10:00"]]
price = "3 USD/1000 gal"

[[water_zone]]
id = "well"
lines = 2
emitter_flow = "0.25 gal/h"
emitter_spacing = "8 in"

[[water_zone]]
id = "house"
lines = 2
emitter_flow = "0.5 gal/h"
emitter_spacing = "12 in"
drinking_supply = true

[[gauge]]
on = 2026-11-20
rain = "0.1 in"

[weather.monthly]
t_max = [
  "4.5 C", "8.5 C", "14.0 C", "19.0 C", "24.5 C", "29.5 C",
  "34.0 C", "33.5 C", "28.0 C", "19.5 C", "10.5 C", "4.5 C",
]
t_min = [
  "-3.5 C", "-2.0 C", "0.8 C", "4.2 C", "8.4 C", "12.2 C",
  "15.4 C", "14.6 C", "10.0 C", "4.2 C", "-0.2 C", "-3.2 C",
]
rain = [
  "26 mm", "20 mm", "18 mm", "16 mm", "18 mm", "14 mm",
  "5 mm", "6 mm", "10 mm", "17 mm", "26 mm", "27 mm",
]
wet_days = [9, 7, 7, 6, 6, 4, 2, 2, 3, 5, 9, 10]
years = 12
seed = 1

[[bed]]
id = "A"
length = "30 ft"
width = "4 ft"
texture = "silt loam"
water_zone = "well"

[[bed]]
id = "B"
length = "20 ft"
width = "4 ft"
texture = "sandy loam"
water_zone = "well"

[[bed]]
id = "C"
length = "12 ft"
width = "4 ft"
texture = "silt loam"
water_zone = "house"

[[water_report]]
id = "well 2026"
sampled = 2026-05-04
water_zones = ["well"]
results = [
  { analyte = "EC", value = "1.1 dS/m" },
  { analyte = "NO3-N", value = "14 mg/l" },
]

[[want]]
crop = "sweet pepper"
beds = ["A"]
set_out = 2027-05-15

[[want]]
crop = "carrot"
beds = ["B"]
set_out = 2027-04-20

[[want]]
crop = "garlic"
beds = ["C"]
set_out = 2026-10-08
"""
JULY = {"on": "2027-07-15"}  # a Thursday, with peppers in fruit and carrots near harvest
PAGES = ("water", "water-week", "water-seasons", "water-salt", "water-readings", "water-lines")


def _made():
    from bedwright.web.documents import make_garden

    return make_garden(TEXT, "Three Beds", None, change="made")


@pytest.fixture(scope="session")
def small_plan(made_once, django_db_setup, django_db_blocker):
    """The season plan of the three beds."""
    from django.db import transaction

    with django_db_blocker.unblock(), transaction.atomic():
        standing = standing_of(_made())
        plan = made_once(
            "three_beds_plan",
            lambda: season_plan(standing.document, tables(), standing.as_of, ahead=False),
        )
        transaction.set_rollback(True)
    return plan


@pytest.fixture
def garden(db):
    """The three beds without their plan."""
    return _made()


@pytest.fixture
def watered(garden, small_plan):
    """The three beds with their plan, noted as the worker notes it."""
    standing = standing_of(garden)
    keep_plan(standing.key, small_plan)
    keep_water_of(standing)
    return garden


def read(client, name: str, *at, **asked) -> str:
    answer = client.get(f"{reverse(name, args=at)}?{urlencode(asked)}")
    assert answer.status_code == 200
    return words_of(answer)


def minutes(said: str, zone: str) -> int:
    """The minutes that the page of the day gives a zone."""
    found = re.search(rf"{zone}: (?:(\d+) minutes|no run)", said)
    return int(found[1] or 0)


def state(garden, more: str) -> None:
    """Add to the document."""
    garden.refresh_from_db()
    save_revision(garden, garden.standing.text + more, read_from=garden.standing.pk, change="more",
                  user=None)  # fmt: skip


def document(garden) -> dict:
    garden.refresh_from_db()
    return tomllib.loads(garden.standing.text)


# The day ------------------------------------------------------------------------------------------


def test_a_zone_runs_as_long_as_its_longest_bed_needs_and_says_why(client, watered):
    said = read(client, "water", **JULY)
    rows = dict(re.findall(r"\b([AB]) (?:sweet pepper|carrot) (\d+) min", said))

    assert "It is a day of its runs." in said and "04:00 to " in said
    assert minutes(said, "well") == max(map(int, rows.values()))
    assert len(rows) == 2 and "Its beds need different minutes" in said
    assert "what runs on drains" in said and "After 0.50 in of rain leave it off" in said


def test_a_mild_day_a_hot_day_and_rain_give_minutes_of_their_own(client, watered):
    mild = read(client, "water", **JULY, high="79")
    hot = read(client, "water", **JULY, high="104")
    wet = read(client, "water", **JULY, rain="2")

    assert 0 < minutes(mild, "well") < minutes(hot, "well")
    assert "Heat: in such heat it runs every day." in hot
    assert minutes(wet, "well") == 0 and "the rain has done it" in wet
    assert "nothing of it is written down" in hot
    assert document(watered)["gauge"] == tomllib.loads(TEXT)["gauge"]


def test_backflow_and_nitrate_are_said_on_the_page(client, watered):
    said = read(client, "water", on="2027-05-20")

    assert "House hangs on a drinking supply: fit a backflow preventer" in said
    assert said.index("backflow preventer") < said.index("House hangs") + 80
    assert "above the drinking limit" in said


def test_the_soil_is_filled_before_planting_and_seed_kept_wet_until_it_is_up(client, watered):
    before = read(client, "water", on="2027-04-12")
    after = read(client, "water", on="2027-04-24")

    assert "B, carrot, April 20: fill the soil with" in before
    assert "keep the rows wet" in before
    assert "fill the soil" not in after.split("A, sweet pepper")[0]
    assert "B, carrot: until it is up" in after


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"on": "someday"}, "is not a date"),
        ({"on": "9999-12-31"}, "between 1900 and 2100"),
        ({"high": "250"}, "from 14 F to 122 F"),
        ({"rain": "50"}, "12 in at most"),
        ({"rain": "some"}, "some"),
    ],
)
def test_what_can_not_be_is_told_at_its_field(client, watered, asked, said):
    answer = client.get(f"{reverse('water')}?{urlencode(asked)}")

    assert answer.status_code == 422
    assert said in words_of(answer)


def test_the_working_of_minutes_opens_by_the_day_asked_for(client, watered):
    page = client.get(f"{reverse('water')}?{urlencode({**JULY, 'high': '104'})}").content.decode()
    address = re.search(r'class="door" href="([^"]+)"', page)[1].replace("&amp;", "&")

    assert "liter" in words_of(client.get(address))
    assert client.get(reverse("water-working", args=["C"]) + "?on=2027-09-01").status_code == 404


def test_the_first_page_tells_the_days_zones_shortly(client, watered):
    said = read(client, "today")  # in November garlic alone stands

    assert "house: no run" in said and "the rain has done it" in said
    assert reverse("water") in client.get(reverse("today")).content.decode()


# The week and the season --------------------------------------------------------------------------


def test_no_two_runs_of_the_week_overlap_and_all_lie_in_the_hours_allowed(client, watered):
    answer = client.get(f"{reverse('water-week')}?on=2027-06-10")
    days = answer.context["days"]

    assert days[0][0] == "Monday" and len(days) == 7
    assert {run.zone for _, runs in days for run in runs} == {"well", "house"}
    for _, runs in days:
        assert all("04:00" <= run.start < run.end <= "10:00" for run in runs)
        assert all(one.end <= next_one.start for one, next_one in pairwise(runs))
    assert "One zone runs at a time." in words_of(answer)


def test_what_does_not_fit_is_said_with_how_much_and_what_to_do(client, watered, small_plan):
    standing = standing_of(watered)
    text = TEXT.replace('hours = [["04:00", "10:00"]]', 'hours = [["04:00", "05:00"]]')
    save_revision(watered, text, read_from=standing.revision.pk, change="hours", user=None)
    keep_plan(standing_of(watered).key, small_plan)  # a day is worked by the hours that stand
    said = read(client, "water-week", **JULY)

    assert re.search(r"A run of well is \d+ minutes longer than the longest spell", said)
    assert "Allow more hours, split a zone" in said


def test_a_beds_balance_has_its_chart_with_the_figures_behind_it(client, watered):
    answer = client.get(reverse("bed-water", args=["A"]))
    told = answer.context["plantings"][0]
    spec = client.get(reverse("water-chart", args=["A", told.want, "balance"]) + "?width=350")

    rows = spec.json()["datasets"]["table"]
    assert len(rows) == len(told.days) == 138
    assert all(row["water"] <= row["full"] + 1e-9 for row in rows)
    for at, name in enumerate(("water", "full", "dry")):
        shown = [float(cells[at]) for _, cells in told.days]
        assert [row[name] for row in rows] == pytest.approx(shown, abs=0.006)
    assert any(row["run"] > 0 for row in rows)
    said = words_of(answer)
    assert "Sweet pepper, May 15" in said and "Runs a week" in said
    for part in ("Through the crop", "Evaporates from the ground", "Drains"):
        assert part in said
    assert sum(int(part.share.split()[0]) for part in told.parts if part.share) in (99, 100, 101)
    assert re.search(r"It costs \d+\.\d\d USD", said)


def test_a_bed_links_to_its_water_and_charts_that_are_none_are_not_found(client, watered):
    assert (
        reverse("bed-water", args=["A"]) in client.get(reverse("bed", args=["A"])).content.decode()
    )
    assert client.get(reverse("bed-water", args=["Z"])).status_code == 404
    assert client.get(reverse("water-chart", args=["A", 9, "balance"])).status_code == 404
    assert client.get(reverse("water-chart", args=["A", 0, "other"])).status_code == 404


def test_salt_is_told_with_and_without_leaching_where_the_water_is_known(client, watered):
    answer = client.get(reverse("water-salt"))
    beds = {each.bed: each for each in answer.context["beds"]}

    assert set(beds) == {"A", "B"}  # nothing is known of the house's water
    last = beds["A"].years[-1]
    assert last[0] == 10 and float(last[1]) < float(last[2])
    spec = client.get(reverse("water-chart", args=["A", beds["A"].want, "salt"]))
    assert len(spec.json()["datasets"]["table"]) == 11
    assert "Leaching takes" in words_of(answer)


# Readings -----------------------------------------------------------------------------------------


def test_rain_that_is_written_down_changes_the_day_at_once_though_the_plan_is_not_made_anew(
    client, watered
):
    before = water_of(standing_of(watered), standing_of(watered).as_of)
    page = client.get(reverse("water-gauge", args=["new"]))
    sent = sent_of(page.content.decode()) | {"rain": "0.6", "t_max": "50"}
    answer = client.post(reverse("water-gauge", args=["new"]), sent, follow=True)

    stated = document(watered)["gauge"]
    assert [str(each["on"]) for each in stated] == ["2026-11-20", "2026-11-25"]
    assert stated[1]["rain"] == "0.6 in" and stated[1]["t_max"] == "50 F"
    assert "rain 0.6 in, high 50 F" in words_of(answer)
    standing = standing_of(watered)
    assert standing.plan() is None
    after = water_of(standing, standing.as_of)
    assert after.today.zones[0].beds[0].rain_m > before.today.zones[0].beds[0].rain_m
    assert "house" in read(client, "water")


def test_the_worker_notes_whose_water_a_plan_holds(garden, small_plan, monkeypatch):
    text = TEXT.replace("20 ft", "21 ft")  # no plan of this was ever kept
    save_revision(garden, text, read_from=garden.standing.pk, change="longer", user=None)
    monkeypatch.setattr(kinds_of_work, "season_plan", lambda *_given, **_more: small_plan)
    monkeypatch.setattr(kinds_of_work, "make_ledger", lambda _job, _tell: None)
    job = jobs.ask(garden, "plan", standing_of(garden).key, revision=garden.standing.pk)
    kinds_of_work.make_plan(job, lambda _step: None)
    state(garden, '\n[[soil_moisture]]\nbed = "A"\non = 2026-11-24\nfeel = "wet"\n')
    standing = standing_of(garden)

    assert standing.plan() is None and water_of(standing, standing.as_of) is not None


def test_a_hand_in_the_soil_outranks_the_reckoning_before_planting_too(client, watered):
    sent = form_of(client, "water-soil", "new") | {"bed": "C", "feel": "dry"}
    client.post(reverse("water-soil", args=["new"]), sent)
    said = read(client, "water")

    assert document(watered)["soil_moisture"][0]["feel"] == "dry"
    assert "C was felt or read on November 25" in said
    assert minutes(said, "house") > 0


@pytest.mark.parametrize(
    ("form", "typed", "said"),
    [
        ("water-gauge", {}, "Write down the rain"),
        ("water-gauge", {"on": "2026-11-20", "rain": "1"}, "has been read already"),
        ("water-gauge", {"on": "2027-11-20", "rain": "1"}, "2027-11-20 lies after 2026-11-25"),
        ("water-gauge", {"rain": "much"}, "much"),
        ("water-gauge", {"t_max": "40", "t_min": "50"}, "is above t_max"),
        ("water-gauge", {"rain": "70"}, "is not the rain of a day"),
        ("water-soil", {"feel": "moist"}, "Say which bed it is."),
        ("water-soil", {"bed": "A"}, "Say what your hand found"),
        ("water-soil", {"bed": "A", "feel": "moist", "tension": "20"}, "Give one of them"),
        ("water-soil", {"bed": "A", "available": "140"}, "Give from 0 to 100 %"),
        ("water-zone", {}, "Give it a name"),
        ("water-zone", {"id": "new", "beds": "A", "emitter_flow": "0.5"}, "Emitters without their"),
        ("water-zone", {"id": "new", "lines": "many"}, "from 1 to 20"),
        ("water-zone", {"id": "new"}, "Say which beds it waters."),
        ("water-zone", {"id": "new", "beds": "C"}, "No bed lies in the water zone 'house'"),
    ],
)
def test_a_form_that_is_wrong_says_so_and_saves_nothing(client, garden, form, typed, said):
    answer = client.post(reverse(form, args=["new"]), form_of(client, form, "new") | typed)

    assert answer.status_code == 422
    assert said in words_of(answer)
    garden.refresh_from_db()
    assert garden.standing.text == TEXT


@pytest.mark.parametrize("address", ["water-gauge", "water-zone", "water-tap", "water-cups"])
def test_a_form_saved_unchanged_changes_nothing(client, garden, address):
    at = {"water-tap": [], "water-cups": ["well"]}.get(address, [0])
    cups = 'catch_cups = { time = "2 min", caught = ["30 ml", "32 ml", "28 ml", "30.5 ml"] }'
    text = TEXT.replace('id = "well"\nlines', f'id = "well"\n{cups}\nlines')
    save_revision(garden, text, read_from=garden.standing.pk, change="cups", user=None)
    sent = sent_of(client.get(reverse(address, args=at)).content.decode())
    assert client.post(reverse(address, args=at), sent).status_code == 302

    garden.refresh_from_db()
    assert garden.standing.text == text


@pytest.mark.parametrize(
    ("address", "at", "typed"),
    [
        ("water-gauge", ["new"], {"rain": "0.3"}),
        ("water-tap", [], {"flow": "8"}),
        ("water-cups", ["well"], {f"cup_{n}": "30" for n in range(1, 5)}),
    ],
)
def test_what_somebody_else_changed_meanwhile_is_shown_and_nothing_overwritten(
    client, garden, address, at, typed
):
    sent = sent_of(client.get(reverse(address, args=at)).content.decode()) | typed
    state(garden, '\n[[soil_moisture]]\nbed = "A"\non = 2026-11-24\nfeel = "wet"\n')
    answer = client.post(reverse(address, args=at), sent)

    assert answer.status_code == 422
    said = words_of(answer)
    assert "The garden was changed meanwhile" in said and "soil_moisture" in said
    assert "soil_moisture" in document(garden)
    again = sent_of(answer.content.decode())
    assert client.post(reverse(address, args=at), again).status_code == 302
    assert document(garden)["soil_moisture"][0]["feel"] == "wet"


def test_a_reading_is_corrected_and_taken_out(client, garden):
    sent = form_of(client, "water-gauge", 0) | {"rain": "0.2", "t_min": "-5"}
    client.post(reverse("water-gauge", args=[0]), sent)
    assert document(garden)["gauge"][0]["t_min"] == "-5 F"

    again = form_of(client, "water-gauge", 0)
    client.post(reverse("water-gauge-remove", args=[0]), again)
    assert "gauge" not in document(garden)
    assert "Nothing is read yet." in read(client, "water-readings")


# Tap and lines ------------------------------------------------------------------------------------


def test_cups_tell_the_flow_and_how_even_it_is(client, garden):
    sent = sent_of(client.get(reverse("water-cups", args=["well"])).content.decode())
    caught = {"cup_1": "30", "cup_2": "32", "cup_3": "28", "cup_4": "30"}
    answer = client.post(reverse("water-cups", args=["well"]), sent | caught, follow=True)

    stated = document(garden)["water_zone"][0]["catch_cups"]
    assert stated == {"time": "2 min", "caught": ["30 ml", "32 ml", "28 ml", "30 ml"]}
    # 30 ml in 2 minutes is 0.9 l/h, 0.238 gal/h; the lowest quarter, 28 ml, is 93 % of the mean.
    assert "0.238 gal/h an emitter; the lowest quarter gets 93 % of the mean" in words_of(answer)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"cup_1": "30", "cup_2": "30"}, "four cups or more"),
        ({f"cup_{n}": "0" for n in range(1, 5)}, "All cups were empty"),
        ({"minutes": "", "cup_1": "3"}, "how long the cups stood"),
        ({"cup_1": "lots"}, "lots"),
    ],
)
def test_cups_that_tell_nothing_are_refused(client, garden, typed, said):
    sent = sent_of(client.get(reverse("water-cups", args=["well"])).content.decode())
    answer = client.post(reverse("water-cups", args=["well"]), sent | typed)

    assert answer.status_code == 422
    assert said in words_of(answer)
    assert "catch_cups" not in document(garden)["water_zone"][0]


def test_the_tap_its_hours_and_price_are_stated(client, garden):
    sent = sent_of(client.get(reverse("water-tap")).content.decode())
    sent |= {"hours": "5:00 - 8:00\n19:30 to 21:00", "flow": "7.5", "price": ""}
    said = words_of(client.post(reverse("water-tap"), sent, follow=True))

    stated = document(garden)["watering"]
    assert stated["hours"] == [["5:00", "8:00"], ["19:30", "21:00"]]
    assert stated["flow"] == "7.5 gal/min" and "price" not in stated
    assert "Lines may run 05:00 to 08:00, 19:30 to 21:00" in said

    wrong = client.post(reverse("water-tap"), sent | {"hours": "at dawn", "method": ""})
    assert wrong.status_code == 422
    assert "one spell to a line" in words_of(wrong) and "how the beds are watered" in words_of(
        wrong
    )
    late = client.post(reverse("water-tap"), sent | {"hours": "09:00 - 08:00"})
    assert late.status_code == 422


def test_a_mulch_is_stated_on_a_bed_on_all_beds_and_taken_off(client, garden):
    on_a = reverse("water-mulch", args=["A"])
    sent = sent_of(client.get(on_a).content.decode())
    sent |= {"of": "straw", "cover": "90", "laid": "2027-06-01", "lifted": "2027-09-01"}
    said = words_of(client.post(on_a, sent, follow=True))
    assert "A: straw, on 90 % of the bed, from June 1, until September 1" in said
    assert document(garden)["bed"][0]["mulch"] == {
        "of": "straw", "cover": "90 %", "laid": date(2027, 6, 1), "lifted": date(2027, 9, 1)
    }  # fmt: skip

    on_all = reverse("water-mulch-of-all")
    every = sent_of(client.get(on_all).content.decode()) | {"of": "hay"}
    assert client.post(on_all, every).status_code == 302
    assert document(garden)["watering"]["mulch"] == {"of": "hay"}

    backward = sent_of(client.get(on_a).content.decode()) | {"lifted": "2027-05-01"}
    answer = client.post(on_a, backward)
    assert answer.status_code == 422 and "not after it is laid" in words_of(answer)
    nameless = sent_of(client.get(on_a).content.decode()) | {"of": ""}
    assert client.post(on_a, nameless).status_code == 422
    bare = {name: each for name, each in nameless.items() if name in ("read_from", "of")}
    assert client.post(on_a, bare).status_code == 302
    assert "mulch" not in document(garden)["bed"][0]
    assert client.get(reverse("water-mulch", args=["nowhere"])).status_code == 404


def test_the_lines_of_a_new_zone_are_written_down(client, garden):
    sent = form_of(client, "water-zone", "new")
    sent |= {"id": "greenhouse", "lines": "3", "flow": "1.5", "drinking_supply": "yes", "beds": "B"}
    said = words_of(client.post(reverse("water-zone", args=["new"]), sent, follow=True))

    zone = document(garden)["water_zone"][-1]
    assert zone == {"id": "greenhouse", "lines": 3, "flow": "1.5 gal/min", "drinking_supply": True}
    assert [bed["water_zone"] for bed in document(garden)["bed"]] == ["well", "greenhouse", "house"]
    assert "The whole zone draws 1.5 gal/min." in said
    renamed = client.post(reverse("water-zone", args=[0]),
                          form_of(client, "water-zone", 0) | {"id": "spring"})  # fmt: skip
    assert renamed.status_code == 422 and "leave it as it is" in words_of(renamed)


# All of them --------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", PAGES)
def test_while_the_plan_is_made_a_page_waits_for_nothing(client, garden, name):
    text = TEXT.replace("30 ft", "31 ft")  # no plan of this was ever kept
    save_revision(garden, text, read_from=garden.standing.pk, change="longer", user=None)
    answer = client.get(reverse(name))

    assert answer.status_code == 200
    assert Job.objects.filter(kind="plan").count() == 1
    assert "zones" not in answer.context or name in {"water-lines", "water-readings"}


@pytest.mark.parametrize("name", PAGES)
def test_every_page_is_in_spanish_too_and_leads_to_the_others(client, watered, name):
    address = f"{reverse(name)}?{urlencode(JULY)}"
    answer = client.get(address, headers={"accept-language": "es"})
    page = answer.content.decode()

    assert 'lang="es"' in page and "Agua" in page
    for english in ("Each bed", "Tap and lines", "Write down", "rests on", "minutes", "the soil"):
        assert english not in page
    for other in PAGES:
        assert f'href="{reverse(other)}"' in page
    # the bar, the fold of all rooms, and the ways of the water pages
    assert page.count('aria-current="page"') == (3 if name == "water" else 1)
    ids = re.findall(r'id="([^"]+)"', page)
    assert len(ids) == len(set(ids))
    for described in re.findall(r'aria-describedby="([^"]+)"', page):
        assert described in ids


def test_a_garden_without_weather_is_told_what_is_missing(client, db):
    from bedwright.web.documents import make_garden

    text = 'format = 2\n[garden]\nname = "x"\n[[bed]]\nid = "A"\nlength = "9 ft"\nwidth = "4 ft"\n'
    standing = standing_of(make_garden(text, "x", None, change="made"))
    keep_plan(standing.key, season_plan(standing.document, tables(), standing.as_of, ahead=False))

    assert "says nothing of its weather" in read(client, "water")
