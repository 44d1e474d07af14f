"""Which animals may have a crop's remains: only what a table calls fit, nothing near a spray."""

from __future__ import annotations

from collections.abc import Iterator

from bedwright.crops.growing import growing
from bedwright.planning.findings import Finding, finding
from bedwright.planning.turnover.case import Case
from bedwright.planning.turnover.facts import dangers_of, rule
from bedwright.planning.turnover.model import Way


def feed_ways(case: Case) -> tuple[tuple[Way, ...], tuple[Way, ...]]:
    """The animals kept that may have the remains, and those that may not, each with its reasons.

    A kind is offered them only where a table calls them fit for it, none calls them unfit, the
    plants are healthy, and the label of the last spray allows it from a day on that is known.
    """
    offered, refused = [], []
    for stock in case.stock:
        start, barred = case.after_spray("grazing")
        why = _barred(case, stock) or barred
        if why is not None:
            refused.append(Way("feed", stock, None, None, (why, *_dangers(case, stock))))
            continue
        reasons = [_fit(case, stock)]
        if start is not None:
            reasons.append(finding("turnover_feed_from", "caution", start=start.isoformat()))
        reasons += _dangers(case, stock)
        offered.append(Way("feed", stock, start, case.next.clear, tuple(reasons)))
    return tuple(offered), tuple(refused)


def _barred(case: Case, stock: str) -> Finding | None:
    facts = growing(case.library, case.crop)
    if stock in facts.residue_unfit:
        sources = tuple(
            row.source
            for row in case.library.habits(case.crop)
            if row["property"] == "residue_unfit" and row["word"] == stock
        )
        return finding("turnover_unsafe", "caution", sources=sources, stock=stock,
                       crop=case.name)  # fmt: skip
    if stock not in facts.residue_fit:
        return finding("turnover_feed_unknown", "caution", stock=stock, crop=case.name)
    if not case.healthy:
        return finding("turnover_feed_diseased", "caution")
    return None


def _fit(case: Case, stock: str) -> Finding:
    share = rule(case.library, "feed_share", "-")
    sources = tuple(
        row.source
        for row in case.library.habits(case.crop)
        if row["property"] == "residue_fit" and row["word"] == stock
    )
    return finding("turnover_feed", "note", sources=(*sources, *share.sources), stock=stock,
                   share=share.named("share"))  # fmt: skip


def _dangers(case: Case, stock: str) -> Iterator[Finding]:
    for danger, source in dangers_of(case.library, case.crop, stock):
        yield finding("turnover_danger", "caution", sources=(source,), stock=stock, danger=danger)
