"""Words of the drawings, in American English."""

from __future__ import annotations

from bedwright.language import Words

DRAWING_WORDS: dict[str, str] = Words(
    {
        "north": "N",
        "unit_us": "ft",
        "unit_metric": "m",
        "size": "{length} by {width}",
        "last_crop": "{crop} {year}",
        "state_planned": "planned",
        "state_standing": "standing",
        "state_resting": "resting",
        "state_empty": "empty",
        # The garden
        "garden_title": "Plan of {garden}",
        "garden_placed": "{beds} to scale, north at the top: {east} from west to east, {north} from south to north.",
        "garden_loose": "{beds} to scale, side by side.",
        "beds_one": "1 bed",
        "beds_many": "{count} beds",
        "loose_one": "Not to place: 1 bed whose corner is not stated. Its size is to scale.",
        "loose_many": "Not to place: {count} beds whose corner is not stated. Their sizes are to scale.",
        "loose_all": "No bed has its corner stated: they stand side by side as they fit, each to scale.",
        "no_direction": "Direction not stated, drawn from south to north: {beds}.",
        "too_small": "Too small to write in: {beds}.",
        "and_more": "{beds} and {count} more",
        # One bed, as a screen reader says it
        "bed_label": "Bed {bed}: {facts}.",
        "bed_area": "{area} within its outline",
        "bed_raised": "raised, filled {depth} deep",
        "bed_wanted": "{crop} wanted",
        "bed_stands": "{crop} in it",
        "bed_last": "{crop} before",
        # One bed drawn alone
        "bed_title": "Bed {bed}",
        "bed_title_crop": "Bed {bed}, {crop}",
        "bed_described": "The bed to scale: {size}.",
        "bed_rows": "Rows from the top: {rows}.",
        "bed_last_note": "Before: {crop}.",
        "bed_fill": "Raised, filled {depth} deep.",
        "bed_no_direction": "Its direction is not stated.",
        "bed_ruling": "Ruled every {step}.",
    }
)
