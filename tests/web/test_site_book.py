"""The season book as a gardener downloads it from the site."""

import io

import pytest
from pypdf import PdfReader
from small_site import AS_OF, small_garden

pytestmark = pytest.mark.django_db


def test_the_garden_page_leads_to_the_season_book(client, monkeypatch):
    monkeypatch.setenv("BEDWRIGHT_AS_OF", AS_OF)
    small_garden()
    assert 'href="/book.pdf"' in client.get("/garden/").content.decode()

    answer = client.get("/book.pdf")

    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
    found = PdfReader(io.BytesIO(answer.content)).pages
    assert "Season book of" in found[0].extract_text()
    assert "Contents" in found[1].extract_text()
