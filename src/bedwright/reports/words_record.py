"""Words of the bed record: what was put on, sown, picked and cleared, for whoever asks."""

from __future__ import annotations

from bedwright.language import Words

RECORD = Words({
    "title": "{garden}: what was done on the beds, up to {day}",
    "bed": "Bed {bed}, {area}",
    "line": "{act}: {told}",
    "part": "part {part}",
    "no_day": "{year}, no day",
    "own": "{name} ({own})",
    "from_journal": "journal",
    "from_document": "garden document",
    "source": "({source})",
    "on_the_bed": "about {mass} on the bed",
    "plants": "{count} plants",
    "no_product": "product not written down",
    "to_feeding": "{days} days to feeding by its label",
    "to_picking": "{days} days to picking by its label",
    "part_of": "of the whole season; what the journal tells of pickings is part of it",
    "season": "of the whole season",
    "nothing": "Nothing is written down of this bed.",
    "told_twice": "Told twice",
    "about": "Amounts are as they were written down. Where the document and the journal tell of one act, it stands here "
    "once. What nobody wrote down is not here.",
})  # fmt: skip

ACTS = Words({
    "did_spread": "Spread",
    "did_spread_unnamed": "Spread, material not written down",
    "did_side_dress": "Side-dressed, material not written down",
    "did_sprayed": "Sprayed",
    "did_mulched": "Mulched",
    "did_sown": "Sown",
    "did_set_out": "Set out",
    "did_planted": "Planted",
    "did_stands": "Stands since then",
    "did_grew": "Grew",
    "did_picked": "Picked",
    "did_harvest": "Harvested",
    "did_cleared": "Cleared",
    "did_failed": "Lost",
    "did_worked": "Worked",
})  # fmt: skip

GRADES = Words({"good": "good", "fair": "fair", "poor": "poor"})
