"""What is said of the days of a planting: heat, the cold that ends a cover, the years before it
bears, and that another day would be better."""

from __future__ import annotations

from collections.abc import Iterable

from bedwright.planning.assignment.bars import Setting
from bedwright.planning.findings import Finding, finding

_NOTABLE = 0.1  # of a harvest: less is not told
_NOTABLE_COLD = 0.05  # of the winters
_PERCENT = 100


def dates_told(setting: Setting, at: int) -> Iterable[Finding]:
    """The findings on the days of an option."""
    option, crop = setting.options[at], setting.crop(at).name.lower()
    if option.dead and option.last_harvest is not None:
        yield finding("rotation_why_cover_dies", "note", killed=_percent(option.killed),
                      on=option.last_harvest.isoformat())  # fmt: skip
    elif option.killed >= _NOTABLE_COLD:
        yield finding("rotation_why_cover_may_die", "note", killed=_percent(option.killed))
    if not option.bearing(option.year):
        yield finding("rotation_why_bears_later", "note", crop=crop, year=str(option.bears))
    dated = option.turn is not None and option.on is not None
    hot, bolts = option.heat >= _NOTABLE, option.bolts >= _NOTABLE
    if dated and not option.best and option.on is not None:
        code = "rotation_why_hot_day" if hot else "rotation_why_not_best_day"
        yield finding(code, "note", on=option.on.isoformat())
    if hot:
        yield finding("rotation_why_heat", "caution", crop=crop, heat=_percent(option.heat))
    if bolts:
        yield finding("rotation_why_bolts", "caution", crop=crop, bolts=_percent(option.bolts))


def _percent(share: float) -> float:
    return float(round(_PERCENT * share))
