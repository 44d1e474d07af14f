"""Words of the shade that is drawn over the garden, in American English."""

from __future__ import annotations

from bedwright.language import Words

SHADE_WORDS: dict[str, str] = Words(
    {
        "shade_sun": "sun",
        "shade_when": "Shade, {when}: the sun stands {elevation} degrees high in the {direction}.",
        "shade_things": "What casts it: {things}.",
        "shade_thing": "{name}, {height} high",
        "shade_none": "No bed is shaded.",
        "shade_full": "Wholly in shade: {beds}.",
        "shade_most": "More than half in shade: {beds}.",
        "shade_some": "Partly in shade: {beds}.",
        "shade_loose": "Beds that are not placed are drawn without shade.",
        "shade_porous": "A lighter gray is the shade of what lets light through.",
        "from_0": "north",
        "from_45": "northeast",
        "from_90": "east",
        "from_135": "southeast",
        "from_180": "south",
        "from_225": "southwest",
        "from_270": "west",
        "from_315": "northwest",
    }
)
