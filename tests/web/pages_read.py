"""What a page says, as its reader reads it."""

import html
import re

from django.http import HttpResponse


def words_of(answer: HttpResponse) -> str:
    """The words of a page without its marks, a blank between any two."""
    page = html.unescape(re.sub("<[^>]+>", " ", answer.content.decode()))
    return re.sub(r"\s+", " ", page)
