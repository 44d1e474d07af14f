"""A chart of a bed as its Vega-Lite specification, for the width of the screen."""

from __future__ import annotations

import json
from collections.abc import Callable, Hashable

from django.http import Http404, HttpRequest, HttpResponse
from django.utils.translation import get_language

from bedwright.charts.theme import Spec
from bedwright.web.drawn.kept import Kept

AXIS = 60  # px beside a drawing for its axis
_WIDTHS = (260, 720)  # px, the narrowest and the widest drawing that is made
_specs: Kept[str] = Kept(120)  # placing a chart's words takes a fifth of a second


def chart_answer(
    request: HttpRequest, key: tuple[Hashable, ...], make: Callable[[int], Spec | None]
) -> HttpResponse:
    """The chart for the width [px] that the address states, made once for each width and language.

    ``key`` tells it from every other chart; ``make`` takes the width. Raises Http404 where it makes
    none.
    """
    width = _width(request.GET.get("width", ""))

    def written() -> str:
        spec = make(width)
        if spec is None:
            raise Http404
        return json.dumps(spec)

    found = _specs.made((*key, width, get_language()), written)
    return HttpResponse(found, content_type="application/json")


def _width(text: str) -> int:
    least, most = _WIDTHS
    return min(max(int(text), least), most) if text.isdecimal() and len(text) < 6 else most
