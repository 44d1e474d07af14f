"""Tags of the years ahead: how far the search for them is."""

from __future__ import annotations

import json

from django import template
from django.utils.translation import gettext as _

from bedwright.reports.rotation_words import per_cent
from bedwright.web.models import Job

register = template.Library()
_MOST_GAP = 10.0  # a share: a wider gap says nothing to anybody


@register.simple_tag
def years_step(job: Job) -> str:
    """How near the best the years found so far are, as a sentence."""
    if job.state == Job.State.WAITING:
        return _("The years ahead wait for other work …")
    try:
        step, _objective, _bound, gap = json.loads(job.step)
    except ValueError:
        return _("Looking at dates, light and history of the beds …")
    if step == "bound" or not 0 <= gap < _MOST_GAP:
        return _("Looking for a first plan …")
    return _(
        "A plan is found. No other that keeps the rules is better by more than {gap}; looking on …"
    ).format(gap=per_cent(gap))
