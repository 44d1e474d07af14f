"""Words of the months: what stands in each bed, drawn and as a table, in American English."""

from __future__ import annotations

from bedwright.language import Words
from bedwright.reports.words_charts import CHART_WORDS

MONTH_WORDS: dict[str, str] = Words(
    {key: CHART_WORDS[key] for key in (f"month_{each}" for each in range(1, 13))},
    {
        "months_title": "{garden}, month by month",
        "months_as_of": "{garden}, month by month, as of {day}",
        "months_described": "The garden drawn once for each month, north at the top.",
        "month_year": "{month} {year}",
        "part": "part {part}:",
        "doing_empty": "empty",
        "doing_resting": "made ready",
        "doing_cover": "under cover",
        "doing_growing": "growing",
        "doing_picked": "being picked",
        "count_empty": "{count} empty",
        "count_resting": "{count} made ready",
        "count_cover": "{count} under cover",
        "count_growing": "{count} growing",
        "count_picked": "{count} being picked",
        "held": "{crop}, {doing}",
        "held_proposed": "{crop}, {doing} (by the years ahead)",
        "beside": "; beside it ",
        "then": "; then ",
        "letters": "Letters: {letters}.",
        "months_rule": "Being picked: on any day of the month. Growing: a crop stands there on any day. Made ready: something is spread, and the crop is not in yet. Under cover: a cover crop, or plastic.",
        "beside_rule": "A bed divided lengthwise holds two crops at the same time.",
        "then_rule": "A > B: the one comes out and the other goes in within the month.",
        "proposed_rule": "In slanting letters: what the years ahead propose and the document does not ask for yet.",
        "undated": "Without a day, and so in no month: {crops}.",
        "open_ended": "No day tells when these come out; they are drawn as staying: {crops}.",
    },
)
