"""The calendar of a season: true to RFC 5545, true to the plan, and updated event by event."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
import rfc5545
import vobject
from hypothesis import given
from hypothesis import strategies as st

from bedwright.garden.load import load_text
from bedwright.language import using
from bedwright.planning.work.model import Act
from bedwright.reference import Library
from bedwright.reports.calendar.calendar_file import (
    calendar_text,
    garden_identity,
    season_calendar,
)
from bedwright.reports.calendar.earlier import CalendarError, Earlier, read_earlier
from bedwright.reports.calendar.model import SeasonEvent
from bedwright.reports.calendar.writing import Head, written
from bedwright.season import SeasonPlan, season_plan

AS_OF = date(2027, 2, 1)
ONE_DAY = timedelta(days=1)
BED = 'length = "20 ft"\nwidth = "4 ft"\ntexture = "silt loam"\n'
STOCK = '[[stock]]\nmaterial = "{}"\npackage = "50 lb"\n'
GARDEN = (
    'format = 2\n[garden]\nname = "Small; or, not"\n'
    f'[[bed]]\nid = "A"\n{BED}[[bed]]\nid = "B"\n{BED}'
    + "".join(STOCK.format(each) for each in ("blood meal", "steamed bone meal", "gypsum"))
    + '[[standing]]\nbed = "A"\ncrop = "lettuce"\n'
    '[[want]]\ncrop = "tomato"\nbeds = ["A"]\nset_out = 2027-05-10\n'
    "{carrots}[work]\nhours_per_week = {hours}\n"
)
CARROTS = '[[want]]\ncrop = "carrot"\nbeds = ["B"]\nset_out = 2027-04-20\n'


def plan_of(carrots: str = CARROTS, hours: float = 9, as_of: date = AS_OF, acts=()) -> SeasonPlan:
    text = GARDEN.format(carrots=carrots, hours=hours)
    library = Library()
    document = load_text(text, "garden.toml", Path("/nonexistent"), library, as_of)
    return season_plan(document, library, as_of, ahead=False, acts=acts)


@pytest.fixture(scope="module")
def plan() -> SeasonPlan:
    return plan_of()


@pytest.fixture(scope="module")
def less() -> SeasonPlan:
    """The same garden without its carrots, planned a day later."""
    return plan_of(carrots="", as_of=AS_OF + ONE_DAY)


@pytest.fixture(scope="module")
def text(plan: SeasonPlan) -> str:
    return calendar_text(plan)


def events(text: str) -> dict[str, rfc5545.Part]:
    """The events of a calendar by their own key."""
    calendar = rfc5545.read(text.encode("utf-8"))
    return {each.text("X-BEDWRIGHT-ID"): each for each in calendar.parts}


# The file ---------------------------------------------------------------------------------------


def test_the_file_keeps_to_the_rfc_and_its_days_to_the_plan(plan: SeasonPlan, text: str):
    found = events(text)

    for assigned in plan.work.assigned:
        if assigned.done:
            continue
        task, event = plan.work.task(assigned.task), found[f"task/{assigned.task}"]
        last = event.day("DTEND") - ONE_DAY
        assert event.day("DTSTART") == assigned.day
        assert assigned.day <= last <= max(assigned.day, assigned.week + timedelta(days=6))
        assert last <= max(task.latest, assigned.day)
        assert event.raw("DTSTAMP") == "20270201T000000Z"
        assert event.raw("SEQUENCE") == "0"
        if task.bed is not None:
            assert event.text("LOCATION") == f"Bed {task.bed}"
    tasks = [each for each in plan.work.assigned if not each.done]
    assert sum(key.startswith("task/") for key in found) == len(tasks) > 20


def test_another_library_reads_the_same(text: str):
    calendar = vobject.readOne(text)

    found = events(text)
    assert len(calendar.vevent_list) == len(found)
    assert calendar.x_wr_calname.value.replace("\\", "") == "Small; or, not: season"
    for each in calendar.vevent_list:
        ours = found[each.x_bedwright_id.value]
        assert each.summary.value == ours.text("SUMMARY")
        assert each.dtstart.value == ours.day("DTSTART")
        assert each.dtend.value == ours.day("DTEND")
        if hasattr(each, "description"):
            assert each.description.value == ours.text("DESCRIPTION")


def test_a_task_tells_hours_what_to_bring_and_what_to_mind(text: str):
    event = next(
        each for key, each in events(text).items() if key.startswith("task/A/tomato/spread")
    )

    assert event.text("SUMMARY") == "Spread, A (tomato)"
    told = event.text("DESCRIPTION").split("\n")
    assert any("dust mask" in each for each in told)
    assert any(each.startswith("About ") and "h of work" in each for each in told)
    assert any(each.startswith("Bring: ") and "blood meal" in each for each in told)
    assert told.index(next(each for each in told if "dust mask" in each)) == 0


def test_days_of_planting_picking_clearing_and_buying_stand_there(plan: SeasonPlan, text: str):
    found = events(text)

    assert found["planting/A/tomato/1"].day("DTSTART") == date(2027, 5, 10)
    assert found["planting/A/tomato/1"].text("SUMMARY") == "Day to set out: tomato, A"
    assert found["planting/B/carrot/1"].text("SUMMARY") == "Day to sow: carrot, B"
    (turn,) = plan.turnover
    assert found["clear/A/0/lettuce/1"].day("DTSTART") == turn.next.last
    assert "the bed is needed for tomato" in found["clear/A/0/lettuce/1"].text("DESCRIPTION")
    first = plan.harvest.of("carrot").plantings[0].pickings[0].first
    assert found["picking/B/carrot/1"].day("DTSTART") == first
    bought = {key: each for key, each in found.items() if key.startswith("buy/")}
    assert len(bought) == len(plan.purchases.steps)
    for buy, step in plan.purchases.steps:
        days = {each.day("DTSTART") for key, each in bought.items() if f"/{buy.item.kind}/" in key}
        assert max(step.order_by, AS_OF) in days


def test_the_same_plan_gives_the_same_bytes(plan: SeasonPlan, text: str):
    assert calendar_text(plan) == text


def test_spanish_speaks_and_keeps_the_ids(plan: SeasonPlan, text: str):
    with using("es"):
        spanish = calendar_text(plan)

    ours, theirs = events(text), events(spanish)
    assert {key: each.raw("UID") for key, each in ours.items()} == {
        key: each.raw("UID") for key, each in theirs.items()
    }
    assert "Día de trasplantar: tomate" in spanish
    assert theirs["planting/A/tomato/1"].text("SUMMARY") != ours["planting/A/tomato/1"].text(
        "SUMMARY"
    )


def test_ids_hang_on_the_garden(plan: SeasonPlan, text: str):
    other = season_calendar(plan, identity=garden_identity("Another")).text

    assert not {each.raw("UID") for each in events(text).values()} & {
        each.raw("UID") for each in events(other).values()
    }


def test_a_plan_of_one_bed_alone_has_no_calendar(plan: SeasonPlan):
    only = replace(plan, beds=plan.beds[:1], second=())
    with pytest.raises(LookupError, match="one bed alone"):
        calendar_text(only)


# Updates ----------------------------------------------------------------------------------------


def test_an_unchanged_plan_changes_no_event(plan: SeasonPlan, text: str):
    again = season_calendar(plan, text)

    assert (again.new, again.changed, again.dropped) == (0, 0, 0)
    assert again.text == text


def test_what_changed_rises_and_the_rest_stays(plan: SeasonPlan, text: str):
    busy = season_calendar(plan_of(hours=2), text)

    before, after = events(text), events(busy.text)
    assert busy.changed > 0
    for key in before.keys() & after.keys():
        same = all(
            before[key].raw(name) == after[key].raw(name)
            for name in ("DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "STATUS")
        )
        assert int(after[key].raw("SEQUENCE")) == (0 if same else 1)


def test_what_is_dropped_is_called_off_once_and_comes_back_higher(
    plan: SeasonPlan, less: SeasonPlan, text: str
):
    dropped = season_calendar(less, text)
    after = events(dropped.text)
    gone = {key for key in after if "/carrot/" in key}

    assert gone and dropped.dropped >= len(gone)
    for key in gone:
        assert after[key].raw("STATUS") == "CANCELLED"
        assert after[key].raw("SEQUENCE") == "1"
        assert after[key].raw("DTSTAMP") == "20270202T000000Z"
    assert season_calendar(less, dropped.text).text == dropped.text

    back = season_calendar(plan, dropped.text)
    found = events(back.text)
    assert set(found) >= set(events(text))
    for key in gone:
        assert (found[key].raw("STATUS"), found[key].raw("SEQUENCE")) == ("CONFIRMED", "2")


def test_what_lies_in_the_past_is_left_as_it_was(text: str):
    late = date(2027, 8, 1)
    after = events(season_calendar(plan_of(as_of=late), text).text)

    for key, before in events(text).items():
        if before.day("DTEND") <= late and not key.startswith("buy/"):
            assert after[key].raw("STATUS") == "CONFIRMED", key
            assert after[key].raw("SEQUENCE") == "0", key


def test_what_is_written_down_as_done_stands_on_its_day(text: str):
    as_of = date(2027, 4, 26)
    acts = (Act("sow", date(2027, 4, 21), "B", "carrot"),)
    event = events(season_calendar(plan_of(as_of=as_of, acts=acts), text).text)[
        "task/B/carrot/sow/1"
    ]

    assert event.text("SUMMARY") == "Done: Sow, B (carrot)"
    assert event.day("DTSTART") == date(2027, 4, 21)
    assert event.raw("SEQUENCE") == "1"


def test_what_somebody_wrote_into_the_file_stays(plan: SeasonPlan, less: SeasonPlan, text: str):
    own = (
        "BEGIN:VEVENT\r\nUID:mine\r\nDTSTAMP:20270101T000000Z\r\nDTSTART;VALUE=DATE:20270701\r\n"
        "SUMMARY:Aunt comes\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
    )
    made = calendar_text(less, text.replace("END:VCALENDAR\r\n", own))

    assert own.removesuffix("END:VCALENDAR\r\n") not in text
    assert "SUMMARY:Aunt comes" in made
    assert made.count("CANCELLED") == calendar_text(less, text).count("CANCELLED")


def _of_another(text: str) -> str:
    ours = str(garden_identity("Small; or, not"))
    return text.replace(ours, str(garden_identity("Another")))


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda _: "", "not a calendar"),
        (lambda _: "hours = 9\n", "not a calendar"),
        (lambda text: text[: len(text) // 2], "not a calendar"),
        (lambda text: text + text, "not a calendar"),
        (lambda _: "BEGIN:VEVENT\r\nEND:VEVENT\r\n", "not a calendar"),
        (lambda text: text.replace("bedwright", "another"), "did not write"),
        (_of_another, "another garden"),
        (lambda text: text.replace("DTSTART;VALUE=DATE:2", "DTSTART;VALUE=DATE:x"), "damaged"),
    ],
)
def test_a_file_that_is_no_calendar_of_this_garden_is_refused(
    plan: SeasonPlan, text: str, spoil: Callable[[str], str], said: str
):
    with pytest.raises(CalendarError, match=said):
        calendar_text(plan, spoil(text))


# Any events at all -------------------------------------------------------------------------------

WORDS = st.text(st.characters(codec="utf-8"), max_size=90)
DAYS = st.dates(date(2027, 1, 1), date(2027, 12, 31))
EVENTS = st.dictionaries(
    st.sampled_from([f"task/A/{each}/1" for each in ("sow", "weed", "pick", "clear")]),
    st.tuples(DAYS, st.integers(0, 9), WORDS, st.lists(WORDS, max_size=3)),
)


def _made(events_of: dict, as_of: date, earlier: str | None) -> str:
    head = Head("Any; garden, at all\\", "as planned", garden_identity("Any"), as_of)
    found = [
        SeasonEvent(key, "work", first, first + timedelta(days=more), summary, tuple(lines), "A;1")
        for key, (first, more, summary, lines) in events_of.items()
    ]
    held = Earlier({}) if earlier is None else read_earlier(earlier, head.identity)
    return written(head, found, held).text


@given(st.lists(st.tuples(EVENTS, DAYS), min_size=2, max_size=4))
def test_whatever_comes_the_file_keeps_to_the_rfc_and_sequences_only_rise(rounds):
    text, before = None, {}
    for events_of, as_of in rounds:
        text = _made(events_of, as_of, text)
        found = events(text)
        vobject.readOne(text)
        assert set(found) == set(before) | set(events_of)
        for key, event in found.items():
            content = [line for line in event.lines if line[0] not in ("DTSTAMP", "SEQUENCE")]
            if key in before:
                was = before[key]
                same = content == [
                    line for line in was.lines if line[0] not in ("DTSTAMP", "SEQUENCE")
                ]
                rise = int(event.raw("SEQUENCE")) - int(was.raw("SEQUENCE"))
                assert rise == (0 if same else 1)
                assert same is False or event.raw("DTSTAMP") == was.raw("DTSTAMP")
            if key in events_of:
                assert event.raw("STATUS") == "CONFIRMED"
                assert event.day("DTSTART") == events_of[key][0]
            else:
                over = event.day("DTEND") <= as_of
                assert event.raw("STATUS") == "CANCELLED" or over
        assert _made(events_of, as_of, text) == text
        before = found
