"""The events of a season plan: its tasks, days of planting and picking, of clearing and buying."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from bedwright.language import named
from bedwright.planning.work.planting_days import PlantingDay
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
    """The days on which crops are set out or sown, those that share a bed too: the schedule's."""
    for each in plan.planting_days:
        if each.day < plan.as_of:
            continue
        values = {"crop": _crop(plan.library.crop(each.key)["name"]), "bed": each.bed}
        word = each.word if each.number == 1 else f"{each.word}_again"
        key = f"{each.crop}.with.{each.key}" if each.companion else each.crop
        yield SeasonEvent(
            f"planting/{each.bed}/{key}/{each.number}", "planting", each.day, each.day,
            CALENDAR[word].format(**values), tuple(_planting_lines(each)), each.bed,
        )  # fmt: skip


def _planting_lines(each: PlantingDay) -> Iterator[str]:
    if each.state == "left_out":
        yield CALENDAR["no_room"]
    elif each.state == "laid" and each.day > each.planned:
        yield CALENDAR["put_off"].format(day=day_words(each.planned))
    if each.until > each.day:
        yield CALENDAR["good_until"].format(day=day_words(each.until))


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
