"""The purchases as plain data, with the schema that they satisfy."""

from __future__ import annotations

from typing import Any

from bedwright.planning.purchases.model import Buy, Purchases, Step
from bedwright.reports.figures_json import finding_dict, number_or_null, rounded
from bedwright.reports.schema_parts import NUMBER, NUMBER_OR_NULL, TEXT, listed, table

_DAY = {"type": "string", "format": "date"}
_KINDS = (
    "seed", "plants", "pieces", "material", "post", "stake", "panel", "twine", "drip_line",
    "shade_cloth",
)  # fmt: skip


def purchases_dict(found: Purchases) -> dict[str, Any]:
    """Items with what they are needed for, what is on hand, and what is bought. SI units."""
    return {
        "weeks": found.weeks,
        "cost": rounded(found.cost),
        "items": [_buy(found, each) for each in found.buys],
        "findings": [finding_dict(each) for each in found.findings],
    }


def _buy(found: Purchases, buy: Buy) -> dict[str, Any]:
    item = buy.item
    return {
        "kind": item.kind,
        "key": item.key,
        "name": item.name,
        "unit": item.unit,
        "shade": item.shade,
        "each_kg": number_or_null(item.each_kg),
        "needed": rounded(buy.needed),
        "on_hand": number_or_null(buy.on_hand),
        "bought": rounded(buy.bought),
        "missing": rounded(buy.missing),
        "cost": number_or_null(buy.cost),
        "needs": [
            {"on": n.on.isoformat(), "amount": rounded(n.amount), "bed": n.bed, "crop": n.crop}
            for n in buy.needs
        ],
        "steps": [_step(found, each) for each in buy.steps],
    }


def _step(found: Purchases, step: Step) -> dict[str, Any]:
    return {
        "on": step.on.isoformat(),
        "order_by": step.order_by.isoformat(),
        "waits": found.waits(step),
        "cost": number_or_null(step.cost),
        "packages": [
            {
                "count": rounded(each.count),
                "size": number_or_null(each.size),
                "price": number_or_null(each.price),
            }
            for each in step.lots
        ],
    }


def purchases_schema() -> dict[str, Any]:
    """The schema of the purchases within a plan."""
    lot = table(count=NUMBER, size=NUMBER_OR_NULL, price=NUMBER_OR_NULL)
    step = table(
        on=_DAY, order_by=_DAY, waits={"type": "boolean"}, cost=NUMBER_OR_NULL,
        packages=listed(lot),
    )  # fmt: skip
    item = table(
        kind={"enum": list(_KINDS)}, key=TEXT, name=TEXT, unit={"enum": ["kg", "m", "m2", "-"]},
        shade=NUMBER_OR_NULL, each_kg=NUMBER_OR_NULL, needed=NUMBER, on_hand=NUMBER_OR_NULL,
        bought=NUMBER, missing=NUMBER, cost=NUMBER_OR_NULL,
        needs=listed(table(on=_DAY, amount=NUMBER, bed=TEXT, crop=TEXT)), steps=listed(step),
    )  # fmt: skip
    return table(
        weeks={"type": "integer"}, cost=NUMBER, items=listed(item),
        findings=listed({"$ref": "#/$defs/finding"}),
    )  # fmt: skip
