"""The events of a season plan: its tasks, days of planting and picking, of clearing and buying."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from bedwright.language import named
from bedwright.planning.layout.crop_facts import timing_tables
from bedwright.planning.work.bed_days import bed_days
from bedwright.reports.calendar.model import SeasonEvent
from bedwright.reports.calendar.tasks import task_events
from bedwright.reports.days_said import day_words
from bedwright.reports.fill import figure
from bedwright.reports.purchases_text import item_words, lots_words, when_words
from bedwright.reports.turnover_said import turnover_lines
from bedwright.reports.words_calendar import CALENDAR
from bedwright.reports.words_purchases import BUY
from bedwright.season import SeasonPlan


def season_events(plan: SeasonPlan) -> tuple[SeasonEvent, ...]:
    """All events of a plan, in the order of their days, in the language of the moment.

    What lies before the day of planning is told only where it is written down as done. Raises
    LookupError for a plan of one bed alone, which has no work.
    """
    found = [
        *task_events(plan),
        *_plantings(plan),
        *_pickings(plan),
        *_clearings(plan),
        *_purchases(plan),
    ]
    return tuple(sorted(found, key=lambda each: (each.first, each.key)))


def _plantings(plan: SeasonPlan) -> Iterator[SeasonEvent]:
    """The days on which crops are set out or sown."""
    tables = timing_tables(plan.library)
    for grown in plan.grown:
        days = bed_days(grown, tables, plan.library)
        if days is None:
            continue
        values = {"crop": _crop(grown.prescription.crop.name), "bed": grown.bed}
        for number, on in enumerate((days.start, *days.again), 1):
            if on < plan.as_of:
                continue
            word = days.start_word if number == 1 else f"{days.start_word}_again"
            until = days.start_late if number == 1 else on
            lines = (CALENDAR["good_until"].format(day=day_words(until)),) if until > on else ()
            yield SeasonEvent(
                f"planting/{grown.bed}/{grown.crop}/{number}", "planting", on, on,
                CALENDAR[word].format(**values), lines, grown.bed,
            )  # fmt: skip


def _pickings(plan: SeasonPlan) -> Iterator[SeasonEvent]:
    """The first picking of every sowing."""
    system = plan.document.garden.garden.units
    numbers: Counter[tuple[str, str]] = Counter()
    for crop in () if plan.harvest is None else plan.harvest.crops:
        for planting in crop.plantings:
            for picking in planting.pickings:
                numbers[planting.bed, planting.crop] += 1
                if picking.first < plan.as_of:
                    continue
                number = numbers[planting.bed, planting.crop]
                lines = [CALENDAR["picked_until"].format(day=day_words(picking.last))]
                early, late = picking.early[0], picking.late[0]
                if early != late:
                    lines.append(
                        CALENDAR["early_late"].format(early=day_words(early), late=day_words(late))
                    )
                if planting.mass is not None and len(planting.pickings) == 1:
                    mass = figure(planting.mass, system)
                    lines.append(CALENDAR["mass"].format(mass=mass))
                yield SeasonEvent(
                    f"picking/{planting.bed}/{planting.crop}/{number}", "harvest",
                    picking.first, picking.first,
                    CALENDAR["picking"].format(crop=_crop(crop.name), bed=planting.bed),
                    tuple(lines), planting.bed,
                )  # fmt: skip


def _clearings(plan: SeasonPlan) -> Iterator[SeasonEvent]:
    """The last days on which what stands in a bed may still be cleared."""
    place = plan.document.garden.garden
    for each in plan.turnover:
        last = each.next.last
        if last is None or last < plan.as_of:
            continue
        turn = each.next.nth + 1
        yield SeasonEvent(
            f"clear/{each.bed}/{each.part or 0}/{each.crop}/{turn}", "clearing", last, last,
            CALENDAR["clear"].format(crop=_crop(each.name), bed=each.bed),
            tuple(turnover_lines(each, place.units, place.currency)), each.bed,
        )  # fmt: skip


def _purchases(plan: SeasonPlan) -> Iterator[SeasonEvent]:
    """What is to be bought, on the day by which it is ordered; what is overdue, on the plan's."""
    found = plan.purchases
    if found is None:
        return
    place = plan.document.garden.garden
    for buy in found.buys:
        item = buy.item
        shade = "" if item.shade is None else f"{item.shade:g}"
        words = item_words(item)
        beds = ", ".join(dict.fromkeys(each.bed for each in buy.needs))
        for number, step in enumerate(buy.steps, 1):
            on = max(step.order_by, plan.as_of)
            cost = (
                BUY["price_not_stated"]
                if step.cost is None
                else f"{step.cost:.2f} {place.currency}"
            )
            yield SeasonEvent(
                f"buy/{item.kind}/{item.key}/{shade}/{number}", "buying", on, on,
                CALENDAR["buy" if step.on == step.order_by else "order"].format(item=words),
                (
                    CALENDAR["amount"].format(
                        lots=lots_words(item, step.lots, place.units), cost=cost
                    ),
                    when_words(found, step) + ".",
                    CALENDAR["for_beds"].format(beds=beds),
                ),
            )  # fmt: skip


def _crop(name: str) -> str:
    return named(name).lower()
