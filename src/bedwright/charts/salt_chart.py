"""Salt at a bed's roots over years of the same crop and water, with and without leaching."""

from __future__ import annotations

from collections.abc import Mapping

from bedwright.charts.curve_chart import Saying, Series, Threshold, curve_chart
from bedwright.charts.theme import Spec
from bedwright.language import named
from bedwright.planning.watering.salt_years import SaltYears


def salt_chart(
    salt: SaltYears,
    crop: str,
    limit: float | None,
    words: Mapping[str, str],
    *,
    width: int = 640,
) -> Spec:
    """ECe over the crop's days, year by year.

    Parameters
    ----------
    salt : of the bed
    crop : what it bears, by its name
    limit : what is to be held at its roots [dS/m], None where that is not known
    words : ``SALT_CHARTS`` with ``CHART_WORDS``
    width : of the drawing [px]
    """
    years = tuple(float(each) for each in range(len(salt.with_leaching) + 1))
    start = salt.start.value
    kept = (start, *(float(each) for each in salt.with_leaching))
    let = (start, *(float(each) for each in salt.without))
    same = salt.water_more_m <= 0
    series = [Series(words["same" if same else "with"], years, kept, tint="water")]
    if not same:
        series.append(Series(words["without"], years, let))
    given = {"bed": salt.bed, "crop": named(crop).lower()}
    saying = Saying(words["title"].format(**given), words["below"], words["year"], words["salt"],
                    foot=words["foot"])  # fmt: skip
    thresholds = [] if limit is None else [Threshold(limit, words["limit"], "ochre")]
    return curve_chart(series, saying, words, thresholds=thresholds, width=width)
