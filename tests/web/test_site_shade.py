"""Shade by date and hour, the light on the beds, and the rows of a bed with their trellis."""

import re
from dataclasses import replace
from datetime import date
from urllib.parse import urlencode

import pytest
from django.urls import reverse
from pages_read import words_of

from bedwright.reports.layout_text import caution_lines, row_lines, trellis_lines
from bedwright.units import UnitSystem
from bedwright.web import jobs
from bedwright.web.documents import save_revision
from bedwright.web.models import Job
from bedwright.web.shading import layer_of, moment_of
from bedwright.web.standing import standing_of
from bedwright.web.years_store import stored_light

pytestmark = pytest.mark.django_db
STRUCTURES = """
[[structure]]
id = "barn"
kind = "building"
outline = [["-25 ft", "0 ft"], ["-10 ft", "0 ft"], ["-10 ft", "40 ft"], ["-25 ft", "40 ft"]]
height = "14 ft"

[[structure]]
id = "cloth"
kind = "shade cloth"
outline = [["0 ft", "0 ft"], ["10 ft", "0 ft"], ["10 ft", "20 ft"], ["0 ft", "20 ft"]]
height = "7 ft"
openness = "60 %"
from_day = "06-15"
to_day = "09-01"
"""


@pytest.fixture
def shaded(bare):
    """The demo garden with a barn to the west of its first beds and a cloth in summer."""
    save_revision(bare, bare.standing.text + STRUCTURES, read_from=bare.standing.pk, change="barn",
                  user=None)  # fmt: skip
    return bare


def shade(client, **asked):
    return client.get(f"{reverse('shade')}?{urlencode(asked)}")


def test_the_barn_shades_the_first_bed_late_in_the_day_and_not_at_noon(client, shaded):
    evening = words_of(shade(client, on="2027-06-21", hour="19"))
    noon = words_of(shade(client, on="2027-06-21", hour="13"))

    assert re.search(r"in shade: W1[,. ]", evening)
    assert "barn, 14 ft high" in evening and "barn, 14 ft high" in noon
    assert "in the west" in evening and "in the south" in noon
    assert not re.search(r"(?:Wholly|half) in shade: W1[,. ]", noon)


def test_the_cloth_hangs_in_its_days_alone(client, shaded):
    assert "cloth, 7 ft high" in words_of(shade(client, on="2027-06-21", hour="13"))
    assert "cloth, 7 ft high" not in words_of(shade(client, on="2027-05-21", hour="13"))


def test_while_the_sun_is_down_it_is_said_and_no_shade_is_drawn(client, shaded):
    page = shade(client, on="2027-12-21", hour="5")

    assert page.status_code == 200
    assert "the sun is down" in words_of(page)
    assert 'class="shade"' not in page.content.decode()


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"on": "someday", "hour": "12"}, "is not a date"),
        ({"on": "2027-06-21", "hour": "40"}, "from 0 to 23"),
        ({"on": "2927-06-21", "hour": "12"}, "between 1900 and 2100"),
    ],
)
def test_a_moment_that_is_none_is_told_at_its_field(client, shaded, asked, said):
    page = shade(client, **asked)

    assert page.status_code == 422
    assert said in page.content.decode()


def test_the_hour_is_that_of_the_clock_here_and_else_of_the_sun(shaded):
    standing = standing_of(shaded)
    by_clock = moment_of(standing.document, standing.library, date(2027, 6, 21), 13)
    place = standing.document.garden.garden.model_copy(update={"longitude": None})
    garden = standing.document.garden.model_copy(update={"garden": place})
    by_sun = moment_of(
        replace(standing.document, garden=garden), standing.library, date(2027, 6, 21), 12
    )

    # Noon of the sun at 119.2 W is 12:59 by the clock of summer at its meridian of 105 W.
    assert by_clock.by_the_clock and not by_sun.by_the_clock
    assert by_clock.azimuth_deg == pytest.approx(180, abs=2.5)
    assert by_sun.azimuth_deg == pytest.approx(180, abs=0.1)
    assert by_sun.elevation_deg == pytest.approx(90 - 46.1 + 23.44, abs=0.1)
    assert layer_of(standing.document, by_sun).elevation_deg == by_sun.elevation_deg


def test_a_screen_that_says_its_width_gets_its_drawing_alone(client, shaded):
    address = f"{reverse('shade')}?on=2027-06-21&hour=13"
    one = client.get(address, headers={"drawn-for": "telephone"})

    assert list(one.context["drawings"]) == ["telephone"]
    assert "Drawn-For" in one.headers["Vary"]
    assert list(client.get(address).context["drawings"]) == ["desk", "telephone"]
    strange = client.get(address, headers={"drawn-for": "wall"})
    assert list(strange.context["drawings"]) == ["desk", "telephone"]


def test_a_garden_without_its_latitude_is_asked_for_it(client, shaded):
    text = re.sub(r"(?m)^latitude = .*\n", "", shaded.standing.text)
    save_revision(shaded, text, read_from=shaded.standing.pk, change="no place", user=None)
    page = shade(client, on="2027-06-21", hour="12")

    assert "write its latitude" in words_of(page)
    assert "moment" not in page.context


def test_the_light_of_each_bed_is_worked_by_the_worker_and_told_for_the_month(client, shaded):
    assert shade(client).context["job"] is not None
    job = Job.objects.get(kind="light")
    jobs.run(job)
    job.refresh_from_db()
    assert job.state == Job.State.DONE, job.fault

    rows = {row[0]: row for row in shade(client, on="2027-06-21", hour="12").context["light"]}
    light = stored_light(standing_of(shaded).key).beds
    assert rows["W1"][3].removesuffix(" %") != "100"  # the cloth hangs over it in June
    assert rows["E10"][3] == "100 %"
    assert float(rows["E10"][1]) == pytest.approx(float(light["E10"].light_mol_m2_d[5]), rel=0.01)


def test_a_bed_with_a_trellis_tells_its_rows_and_parts_with_cautions_before_them(
    client, planned, demo_plan
):
    layout = next(each for each in demo_plan.layouts if each.trellises)
    page = words_of(client.get(reverse("bed", args=[layout.planting.bed.id])))

    def shown(line: str) -> str:
        return line.replace("'", "&#x27;").replace('"', "&quot;")

    for line in row_lines(layout, UnitSystem.US):
        assert shown(line) in page
    cautions = [shown(each) for each in caution_lines(layout.trellises[0], UnitSystem.US)]
    parts = [shown(each) for each in trellis_lines(layout.trellises[0], UnitSystem.US)]
    assert len(cautions) >= 2 and parts
    assert max(map(page.index, cautions)) < min(map(page.index, parts))


def test_every_bed_that_grows_something_shows_rows_to_scale_and_others_the_bare_bed(
    client, planned, demo_plan
):
    with_rows, without = demo_plan.layouts[0].planting.bed.id, demo_plan.unplanned[0]
    rows = client.get(reverse("bed", args=[with_rows])).content.decode()
    bare = client.get(reverse("bed", args=[without])).content.decode()

    assert 'class="rows"' in rows and "data-px-per-m" in rows
    assert 'class="ruling"' in bare and "The bed to scale" in bare
