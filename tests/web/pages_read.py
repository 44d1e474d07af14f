"""What a page says, as its reader reads it."""

import html
import re

from django.http import HttpResponse


def words_of(answer: HttpResponse) -> str:
    """The words of a page without its marks, a blank between any two."""
    return words_in(answer.content.decode())


def words_in(text: str) -> str:
    """As :func:`words_of`, of a page's text or a part of it."""
    return re.sub(r"\s+", " ", html.unescape(re.sub("<[^>]+>", " ", text)))
