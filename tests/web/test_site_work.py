"""The pages of the work: a week with its marks, the weeks of the season; done work stays done."""

import re
from datetime import date

import pytest
from django.urls import reverse
from pages_read import words_of
from small_site import AS_OF, replan, small_garden, small_text

from bedwright.web.models import Entry, Job
from bedwright.web.standing import standing_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def small(monkeypatch):
    monkeypatch.setenv("BEDWRIGHT_AS_OF", AS_OF)
    return small_garden()


def page_of(client, name: str, *args: str, **asked: str):
    answer = client.get(reverse(name, args=args), asked)
    assert answer.status_code == 200
    return answer


def ticks(answer) -> list[str]:
    """The tasks that a page offers to tick."""
    return re.findall(r'type="checkbox" name="task" value="([^"]+)"', answer.content.decode())


def key(answer) -> str:
    return re.search(r'name="page" value="([^"]+)"', answer.content.decode())[1]


def send(client, answer, *tasks: str, day: str = AS_OF, **more: str):
    fields = {"page": key(answer), "on": AS_OF, "day": day, "task": tasks, **more}
    return client.post(reverse("week-done"), fields, follow=True)


def done_by_plan(small) -> dict[str, date]:
    work = standing_of(small).plan().work
    return {each.task: each.day for each in work.assigned if each.done}


def test_the_week_tells_its_tasks_in_order_with_hours_and_what_to_bring(client, small):
    week = page_of(client, "week", on=AS_OF)
    said = words_of(week)

    assert "Week of May 3, 2027" in said
    assert re.search(r"About [\d.]+ h of work \([\d.]+ to [\d.]+\); 12.0 h there are", said)
    assert said.index("Clear, A (tomato)") < said.index("Spread , A (tomato)")
    assert "Bring: " in said
    assert 'href="/bed/A/turnover/"' in week.content.decode()  # beside clearing


def test_cautions_stand_at_their_task_before_what_to_bring(client, small):
    raw = page_of(client, "week", on=AS_OF).content.decode()
    spread = raw[raw.index("/spread/") :]

    assert "caution" in spread
    assert spread.index("caution") < spread.index("Bring:")


def test_a_task_that_is_marked_is_written_in_the_journal_and_leaves_the_list(client, small):
    week = page_of(client, "week", on=AS_OF)
    assert "A/tomato/clear/1" in ticks(week)
    after = send(client, week, "A/tomato/clear/1")

    assert "1 task is written down as done." in words_of(after)
    assert "A/tomato/clear/1" not in ticks(after)  # before the weeks are laid anew
    (entry,) = Entry.objects.all()
    assert entry.plain() | {"id": ""} == {
        "id": "", "kind": "did", "on": AS_OF, "bed": "A", "what": "worked", "task": "clear",
        "crop": "tomato",
    }  # fmt: skip
    assert reverse("journal-entry", args=[entry.pk]) in after.content.decode()
    assert "Done: clear, tomato" in words_of(page_of(client, "journal"))
    assert "Cleared" in words_of(page_of(client, "bed_record"))


def test_marked_work_stays_done_when_the_weeks_are_laid_anew(client, small):
    send(client, page_of(client, "week", on=AS_OF), "A/tomato/clear/1", day="2027-05-02")
    stale = page_of(client, "week", on=AS_OF)
    assert "The weeks are being laid anew" in words_of(stale)
    assert Job.objects.filter(kind="work", state=Job.State.WAITING).count() == 1
    replan(small, "work")

    assert "The weeks are being laid anew" not in words_of(page_of(client, "week", on=AS_OF))
    assert done_by_plan(small)["A/tomato/clear/1"] == date(2027, 5, 2)
    assert standing_of(small).plan().acts == standing_of(small).acts


def test_marked_work_stays_done_when_the_whole_plan_is_made_anew(client, small):
    from bedwright.web.documents import save_revision

    send(client, page_of(client, "week", on=AS_OF), "A/tomato/clear/1")
    save_revision(
        small, small_text(hours=11), read_from=small.standing.pk, change="hours", user=None
    )
    last = page_of(client, "week", on=AS_OF)  # the last plan is shown while a new one is made
    assert "Spread" in words_of(last)
    assert "A/tomato/clear/1" not in ticks(last)
    replan(small)

    assert done_by_plan(small)["A/tomato/clear/1"] == date(2027, 5, 3)
    assert "11.0 h there are" in words_of(page_of(client, "week", on=AS_OF))


def test_spreading_is_written_down_material_by_material_as_planned(client, small):
    week = page_of(client, "week", on=AS_OF)
    work = standing_of(small).plan().work
    send(client, week, "A/tomato/spread/1")
    wrote = [each.plain() for each in Entry.objects.all()]
    planned = [b.key for b in work.task("A/tomato/spread/1").bring if b.kind == "material"]

    assert sorted(each["material"] for each in wrote) == sorted(planned)
    assert all(each["what"] == "spread" and each["plan"] == "as planned" for each in wrote)
    replan(small)  # what was spread changes the plan itself
    done = done_by_plan(small)
    assert "A/tomato/spread/1" in done
    assert not [each for each in done if "side_dress" in each]


def test_a_page_sent_twice_counts_once(client, small):
    week = page_of(client, "week", on=AS_OF)
    for _ in range(2):
        fields = {"page": key(week), "on": AS_OF, "day": AS_OF, "task": ["A/tomato/clear/1"]}
        assert client.post(reverse("week-done"), fields).status_code == 302

    assert Entry.objects.count() == 1


def test_an_entry_taken_back_makes_the_task_open_again(client, small):
    send(client, page_of(client, "week", on=AS_OF), "A/tomato/clear/1", "A/tomato/fork_test/1")
    entry = next(each for each in Entry.objects.all() if each.data["task"] == "fork_test")
    replan(small, "work")
    client.post(reverse("journal-undo", args=[entry.pk]))
    replan(small, "work")

    assert "A/tomato/fork_test/1" in ticks(page_of(client, "week", on=AS_OF))


def test_changing_the_entry_of_a_task_keeps_its_task(client, small):
    send(client, page_of(client, "week", on=AS_OF), "A/tomato/clear/1")
    entry = Entry.objects.get()
    address = reverse("journal-entry", args=[entry.pk])
    raw = client.get(address).content.decode()
    assert 'name="task" value="clear"' in raw
    sent = {"kind": "did", "what": "worked", "bed": "A", "on": "2027-05-01", "revision": 1,
            "task": "clear", "task_crop": "tomato", "hours": "1.5"}  # fmt: skip
    client.post(address, sent)

    entry.refresh_from_db()
    assert entry.data["task"] == "clear"
    assert entry.data["crop"] == "tomato"
    assert entry.on == date(2027, 5, 1)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"task": []}, "Nothing is ticked."),
        ({"day": ""}, "Write the day on which it was done."),
        ({"day": "2031-01-01"}, "is yet to come"),
        ({"task": ["A/tomato/no_such/1"]}, "The plan was made anew meanwhile"),
    ],
)
def test_what_is_wrong_with_the_marks_is_told_and_nothing_is_written(client, small, more, said):
    week = page_of(client, "week", on=AS_OF)
    fields = {"page": key(week), "on": AS_OF, "day": AS_OF, "task": ["A/tomato/clear/1"]} | more
    answer = client.post(reverse("week-done"), fields)

    assert answer.status_code == 422
    assert said in words_of(answer)
    assert not Entry.objects.exists()


def test_weekly_work_is_ticked_in_its_own_week_alone(client, small):
    later = page_of(client, "week", on="2027-07-12")

    assert not [each for each in ticks(later) if "/weed/" in each]
    assert "Weed" in words_of(later)


def test_a_day_that_is_none_is_told_at_its_field(client, small):
    for on in ("someday", "0001-01-01"):
        assert client.get(reverse("week"), {"on": on}).status_code == 422


def test_the_season_lays_hours_against_hours_month_by_month(client, small):
    said = words_of(page_of(client, "season-work"))

    assert said.index("May 2027") < said.index("June 2027") < said.index("July 2027")
    assert "Everything fits into the hours there are." in said
    assert "Set out: tomato (A)" in said
    assert "First harvest: tomato (A)" in said


def test_what_does_not_fit_is_named_with_its_choices(client, monkeypatch):
    monkeypatch.setenv("BEDWRIGHT_AS_OF", AS_OF)
    small_garden(small_text(hours=1))
    season = page_of(client, "season-work")
    week = words_of(page_of(client, "week", on=AS_OF))

    assert "these tasks ask for" in words_of(season)
    assert 'fill="url(#over)"' in season.content.decode()
    assert "What does not fit" in week
    assert "Any one of these makes it fit" in week
    assert "h more in all" in week


def test_while_no_plan_is_made_the_pages_say_so(client, bare):
    assert 'class="work"' in page_of(client, "week").content.decode()
    assert 'class="work"' in page_of(client, "season-work").content.decode()
    # which is loaded anew when the work ends: not where somebody is typing
    assert 'class="work"' not in page_of(client, "journal-write").content.decode()


def test_the_pages_are_in_spanish_too(client, small):
    for name in ("week", "season-work"):
        answer = client.get(reverse(name), headers={"accept-language": "es"})
        said = words_of(answer)
        assert not re.search(r"\b(Bring|Write down|Week of|What begins|task)\b", said), name
