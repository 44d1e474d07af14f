"""The addresses of the site, gathered from the rooms that answer them."""

from django.urls import URLPattern

from bedwright.web.summer import views as summer
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
    trial,
    work,
)
from bedwright.web.watering import form_views as water_forms
from bedwright.web.watering import views as water

ROOMS = (
    today, garden, shade, bed, sheet, soil, shed, crops, rotation, water, water_forms,
    summer, journal, trial, reckoning, settings, safekeeping, start, sign_in, work, language,
)  # fmt: skip
urlpatterns: list[URLPattern] = [each for room in ROOMS for each in room.URLS]
handler404 = "bedwright.web.views.faults.not_found"
handler500 = "bedwright.web.views.faults.own_fault"
handler403 = "bedwright.web.views.faults.not_allowed"
