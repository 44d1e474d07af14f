"""The addresses of the site, gathered from the rooms that answer them."""

from django.urls import URLPattern

from bedwright.web.buying import views as buying
from bedwright.web.calendar import views as calendar
from bedwright.web.compare import views as compare
from bedwright.web.months import views as months
from bedwright.web.record import views as record
from bedwright.web.summer import views as summer
from bedwright.web.turnover import views as turnover
from bedwright.web.views import (
    bed,
    crops,
    garden,
    journal,
    language,
    reckoning,
    rotation,
    safekeeping,
    settings,
    shade,
    shed,
    sheet,
    sign_in,
    soil,
    start,
    today,
    work,
)
from bedwright.web.watering import form_views as water_forms
from bedwright.web.watering import views as water
from bedwright.web.whatif import views as what_if
from bedwright.web.work import views as season_work
from bedwright.web.workbook import views as workbook
from bedwright.web.yields import views as yields

ROOMS = (
    today, garden, shade, bed, sheet, soil, shed, crops, rotation, water, water_forms,
    summer, journal, reckoning, settings, safekeeping, start, sign_in, work, language,
    calendar, record, compare, season_work, turnover, yields, buying, months, what_if,
    workbook,
)  # fmt: skip
urlpatterns: list[URLPattern] = [each for room in ROOMS for each in room.URLS]
handler404 = "bedwright.web.views.faults.not_found"
handler500 = "bedwright.web.views.faults.own_fault"
handler403 = "bedwright.web.views.faults.not_allowed"
