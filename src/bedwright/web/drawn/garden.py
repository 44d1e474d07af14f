"""The garden drawn for a page: to scale, with each bed's state, and the shade of a moment."""

from __future__ import annotations

from collections.abc import Mapping

from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from bedwright.drawings import BedState, garden_drawing
from bedwright.language import spoken
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.web.drawn.kept import Kept
from bedwright.web.shading import Moment, layer_of
from bedwright.web.standing import Standing

WIDTHS = {"desk": 760.0, "telephone": 360.0}  # px
_kept: Kept[SafeString] = Kept(36)


def garden_drawn(
    standing: Standing,
    states: Mapping[str, BedState],
    stands: Mapping[str, str],
    width: str,
    moment: Moment | None = None,
) -> SafeString:
    """The plan of the garden in one of :data:`WIDTHS`, with the shade of a moment where one is
    given; made once for each document, state, moment and language."""
    when = None if moment is None else (moment.on, moment.hour)
    key = (standing.key, tuple(states.items()), tuple(stands.items()), width, when, spoken())
    return _kept.made(
        key,
        lambda: mark_safe(  # our own drawing escapes every word that it is given
            garden_drawing(
                standing.document,
                states=states,
                stands=stands,
                system=standing.system,
                words=DRAWING_WORDS,
                link=lambda bed: reverse("bed", args=[bed]),
                id_prefix=f"{'garden' if moment is None else 'shade'}-{width}",
                width_px=WIDTHS[width],
                shade=None if moment is None else layer_of(standing.document, moment),
            )
        ),
    )
