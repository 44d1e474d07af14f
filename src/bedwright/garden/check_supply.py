"""What a document says of seed and parts, held against the day, the currency and itself."""

from __future__ import annotations

from datetime import date

from bedwright.garden.checked import Checked
from bedwright.garden.model import Garden


def check_supply(garden: Garden, checked: Checked, as_of: date) -> None:
    """Check that nothing stands twice or was counted after the day of reading.

    To be called when the names of crops are resolved.
    """
    seen: dict[tuple[str, str, float | None], int] = {}
    for at, each in enumerate(garden.supply):
        path = ("supply", at, "crop")
        own = checked.cultivars.get(path)
        cultivar = own is not None and garden.crop[own].like is not None
        crop = f"own {own}" if cultivar else checked.keys.get(path, each.crop or "")
        shade = None if each.shade is None else each.shade.si
        if seen.setdefault((each.item, crop, shade), at) != at:
            checked.fault(
                ("supply", at, "item"),
                f"{each.item!r} stands twice" + (f" for {each.crop}" if each.crop else ""),
                "One entry for each: add up what is on hand, and give the package you would buy.",
            )
        if each.counted is not None and each.counted > as_of:
            checked.fault(
                ("supply", at, "counted"),
                f"{each.counted} lies after {as_of}, the day of reading",
                "Correct the date, or read as of a later day.",
            )
