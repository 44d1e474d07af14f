"""The calendar on the site: a secret address, its end, its updates, and the file."""

from __future__ import annotations

import io
import re
import zipfile
from datetime import UTC, datetime

import pytest
from django.urls import reverse

from bedwright.web import jobs
from bedwright.web.models import GardenCalendar, Job

pytestmark = pytest.mark.django_db
BED = 'length = "20 ft"\nwidth = "4 ft"\ntexture = "loam"\n'
CARROT = '[[want]]\ncrop = "carrot"\nbeds = ["B"]\nset_out = 2027-04-20\n'
GARDEN = (
    f'format = 2\n[garden]\nname = "Small"\n[[bed]]\nid = "A"\n{BED}[[bed]]\nid = "B"\n{BED}'
    '[[want]]\ncrop = "lettuce"\nbeds = ["A"]\nset_out = 2027-04-10\n'
)


@pytest.fixture
def small(db):
    """A garden that is planned in a moment."""
    from bedwright.web.documents import make_garden

    return make_garden(GARDEN + CARROT, "Small", None, change="made")


@pytest.fixture(autouse=True)
def _quick_hasher(settings):
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


def make_waiting() -> None:
    for job in Job.objects.filter(kind="calendar", state=Job.State.WAITING):
        jobs.run(job)
        job.refresh_from_db()
        assert job.state == Job.State.DONE, job.fault


def address(client) -> str:
    """The private address as the page shows it."""
    page = client.get(reverse("calendar")).content.decode()
    return re.search(r"<code>http://testserver(/private-calendar/[\w-]+\.ics)</code>", page)[1]


@pytest.fixture
def private(client, small) -> str:
    client.post(reverse("calendar-renew"))
    make_waiting()
    return address(client)


def test_without_an_address_the_page_offers_one_and_nobody_reads_it(client, small):
    page = client.get(reverse("calendar")).content.decode()

    assert "Make a private address" in page
    assert "private-calendar" not in page
    for token in ("x", "None", "null", " "):
        assert client.get(reverse("calendar-private", args=[token])).status_code == 404


def test_the_address_answers_without_signing_in_and_only_with_its_secret(client, private, settings):
    from django.test import Client

    settings.LAN = True
    stranger = Client()
    answer = stranger.get(private)

    assert answer.status_code == 200
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    assert answer.content.startswith(b"BEGIN:VCALENDAR\r\n")
    assert not answer.cookies
    assert len(re.search(r"/([\w-]+)\.ics", private)[1]) >= 40
    assert stranger.get(private.replace(".ics", "x.ics")).status_code == 404
    assert stranger.get(reverse("calendar")).status_code == 302
    assert stranger.get(reverse("calendar-file")).status_code == 302
    assert stranger.post(private).status_code == 405


def test_what_did_not_change_is_not_sent_again(client, private):
    first = client.get(private)
    again = client.get(private, HTTP_IF_NONE_MATCH=first["ETag"])

    assert (again.status_code, again.content) == (304, b"")
    assert first["Cache-Control"] == "private, no-cache"
    assert client.head(private).status_code == 200


def test_a_new_address_ends_the_old_one_and_keeps_the_ids(client, private):
    before = client.get(private).content
    client.post(reverse("calendar-renew"))
    new = address(client)

    assert new != private
    assert client.get(private).status_code == 404
    assert client.get(new).content == before

    client.post(reverse("calendar-close"))
    assert client.get(new).status_code == 404
    assert "Make a private address" in client.get(reverse("calendar")).content.decode()


def test_a_changed_garden_moves_and_calls_off_its_events(client, private, small):
    from bedwright.web.documents import save_revision

    before = client.get(private).content.decode()
    save_revision(small, GARDEN, read_from=small.standing.pk, change="less", user=None)

    assert client.get(private).content.decode() == before  # at once, what is there
    make_waiting()
    after = client.get(private).content.decode()
    assert "CANCELLED" not in before
    assert "STATUS:CANCELLED" in after and "SEQUENCE:1" in after
    assert after.count("BEGIN:VEVENT") >= before.count("BEGIN:VEVENT")


def test_before_it_is_made_a_program_is_asked_to_come_again(client, small):
    client.post(reverse("calendar-renew"))
    answer = client.get(address(client))

    assert (answer.status_code, answer["Retry-After"]) == (503, "60")


def test_the_file_is_the_same_calendar(client, private):
    answer = client.get(reverse("calendar-file"))

    assert answer.content == client.get(private).content
    assert answer["Content-Disposition"].startswith("attachment; filename=")
    assert ".ics" in answer["Content-Disposition"]


def test_the_language_of_the_events_is_chosen(client, private):
    answer = client.post(reverse("calendar-language"), {"language": "es"})
    make_waiting()

    assert answer.status_code == 302
    assert GardenCalendar.objects.get().language == "es"
    assert "//ES" in client.get(private).content.decode()
    assert client.post(reverse("calendar-language"), {"language": "xx"}).status_code == 404


def test_a_document_with_faults_leaves_the_program_what_it_has(client, private, small):
    before = client.get(private).content
    small.standing.text = "format = 2\n[garden]\n"
    small.standing.save()

    assert client.get(private).content == before


def test_the_calendar_goes_along_when_a_garden_moves_and_its_address_does_not(
    client, private, small
):
    from bedwright.web.taking_in import take_in
    from bedwright.web.taking_out import take_out

    zipped = io.BytesIO()
    take_out(small, zipped, datetime.now(UTC))
    token = re.search(r"/([\w-]+)\.ics", private)[1]
    with zipfile.ZipFile(zipped) as archive:
        assert all(token.encode() not in archive.read(each) for each in archive.namelist())
    sent, identity = client.get(private).content, small.calendar.identity
    copy = take_in(io.BytesIO(zipped.getvalue()))
    assert not GardenCalendar.objects.filter(garden=copy).exists()  # its ids are taken here

    small.calendar.delete()  # as on another machine
    moved = take_in(io.BytesIO(zipped.getvalue()))
    assert moved.calendar.text.encode() == sent
    assert (moved.calendar.identity, moved.calendar.token) == (identity, None)


def test_a_spoiled_calendar_is_not_taken_in(client, private, small):
    from bedwright.reports.calendar.earlier import CalendarError
    from bedwright.web.calendar.kept import bring_in

    text = client.get(private).content.decode()
    for spoiled in ("", "x", text.replace("bedwright", "another"), text[:-30]):
        with pytest.raises(CalendarError):
            bring_in(small, spoiled, "en")
    with pytest.raises(CalendarError):
        bring_in(small, text, "xx")
