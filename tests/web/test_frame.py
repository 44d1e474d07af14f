"""The frame of the site: it starts, it serves the demo, it asks nobody else."""

import re

import pytest

pytestmark = pytest.mark.django_db


def test_without_a_garden_the_first_page_leads_to_the_start(client):
    assert client.get("/").headers["Location"] == "/start/"


def test_every_room_opens_while_the_plan_is_still_worked_out(client, demo):
    first = client.get("/").content.decode()
    rooms = first[first.index('<div class="rooms">') : first.index("</nav>")]
    addresses = re.findall('href="([^"]+)"', rooms)

    assert len(addresses) > 15
    for address in addresses:
        assert client.get(address, follow=True).status_code == 200, address


def test_a_bed_shows_amounts_whose_working_opens(client, planned, demo_plan):
    bed = next(each for each in demo_plan.beds if each.prescription.lines)
    page = client.get(f"/bed/{bed.prescription.bed.id}/").content.decode()
    line = next(each for each in bed.prescription.lines if each.preplant.value > 0)

    assert line.material.name.lower() in page
    working = client.get(f"/bed/{bed.prescription.bed.id}/working/before-{line.material.key}/")
    assert "rate x area" in working.content.decode()


def test_a_bed_that_is_not_there_is_not_found(client, demo):
    answer = client.get("/bed/nowhere/")
    assert answer.status_code == 404
    assert "Nothing was changed" in answer.content.decode()


def test_a_saved_change_is_a_revision_and_never_over_anothers(demo):
    from bedwright.web.documents import Conflict, save_revision

    first = demo.standing
    text = first.text.replace('budget = "450 USD"', 'budget = "500 USD"')
    second = save_revision(demo, text, read_from=first.pk, change="budget", user=None)

    assert second.number == 2
    with pytest.raises(Conflict):
        save_revision(demo, first.text, read_from=first.pk, change="back", user=None)


@pytest.mark.browser
def test_in_a_browser_the_demo_opens_and_its_plan_comes(desk):
    desk.goto("/start/")
    desk.get_by_role("button", name="Open the demo garden").click()
    desk.wait_for_selector("text=Kestrel Bend")
    desk.wait_for_selector('a[href="/bed/W2/"]', timeout=60_000)
