"""What a document says of standing crops, held against its beds and the day of reading."""

from __future__ import annotations

from datetime import date

from bedwright.garden.checked import Checked
from bedwright.garden.model import Garden


def check_standing(garden: Garden, checked: Checked, as_of: date) -> None:
    """Check beds, parts and days of standing crops; no ground holds the same crop twice."""
    beds = {bed.id: bed for bed in garden.bed}
    seen: set[tuple[str, int | None, str]] = set()
    for at, each in enumerate(garden.standing):
        bed = beds.get(each.bed)
        if bed is None:
            checked.fault(
                ("standing", at, "bed"),
                f"there is no bed {each.bed!r}",
                f"Beds: {', '.join(sorted(beds))}.",
            )
        elif each.part is not None and each.part > bed.parts:
            checked.fault(
                ("standing", at, "part"),
                f"bed {bed.id!r} has no part {each.part}",
                f"It has {bed.parts}: give the bed more parts, or name one of these."
                if bed.parts > 1
                else "It has no parts: leave part out, or give the bed parts.",
            )
        for name in ("since", "sprayed"):
            day = getattr(each, name)
            if day is not None and day > as_of:
                checked.fault(
                    ("standing", at, name),
                    f"{day} lies after {as_of}, the day of reading",
                    "Correct the date, or read as of a later day.",
                )
        if each.since is not None and each.sprayed is not None and each.sprayed < each.since:
            checked.fault(
                ("standing", at, "sprayed"),
                f"{each.sprayed} lies before {each.since}, when the crop was planted",
                "Correct one of the days.",
            )
        crop = checked.keys.get(("standing", at, "crop"), each.crop)
        places = {(each.bed, None, crop), (each.bed, each.part, crop)}
        whole = {place for place in seen if place[0] == each.bed and place[2] == crop}
        if places & seen or (each.part is None and whole):
            checked.fault(
                ("standing", at, "crop"),
                f"{each.crop!r} stands twice in bed {each.bed!r}",
                "One entry for each crop and part; without part it is all of the bed.",
            )
        seen.add((each.bed, each.part, crop))
