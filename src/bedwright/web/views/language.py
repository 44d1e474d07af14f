"""The language of the pages: kept in this browser, for everybody may have another."""

from __future__ import annotations

from django.urls import path
from django.views.decorators.http import require_POST
from django.views.i18n import set_language

# Django's own view: takes a known language alone, and leads back to an address of this site alone.
URLS = [path("language/", require_POST(set_language), name="language")]
