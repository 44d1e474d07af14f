"""What can be chosen on the journal's forms, in the reader's words, the likeliest first."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import pgettext

from bedwright.journal.names import crop_key, material_key
from bedwright.language import named
from bedwright.reference import UnknownName
from bedwright.units import UnitSystem
from bedwright.web.journal_counted import own_library
from bedwright.web.journal_words import MOISTURE, QUALITY
from bedwright.web.standing import Standing

Pairs = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Choices:
    """Pairs of value and word for each field that offers a choice."""

    beds: tuple[str, ...]
    shed: Pairs
    materials: Pairs
    wanted: Pairs
    crops: Pairs
    analytes: Pairs
    methods: Pairs
    did: Pairs
    saw: Pairs
    measured: Pairs
    bought: Pairs
    quality: Pairs
    moisture: Pairs
    units: tuple[str, ...] = ("ppm", "%", "dS/m", "mmho/cm", "meq/100 g", "lb/ac", "kg/ha", "mg/l")


def five_words() -> Pairs:
    """The five kinds of entry as the page says them."""
    return (
        ("did", _("Did")),
        ("picked", _("Picked")),
        ("saw", _("Saw")),
        ("measured", _("Measured")),
        ("bought", _("Bought")),
    )


def choices_of(standing: Standing) -> Choices:
    """The choices of a garden: what lies in its shed and grows in its beds stands first."""
    document = standing.document
    library = own_library(standing.stated, standing.library)
    names = {row["material"]: row["name"] for row in library.rows("materials")}
    for at, own in enumerate(standing.stated.garden.material):
        key = document.keys.get(("material", at, "material"), own.material)
        names[key] = own.name or names.get(key, key)
    stock = [document.keys[("stock", at, "material")] for at in range(len(document.garden.stock))]
    crops = {row["crop"]: row["name"] for row in library.rows("crops")}
    wanted = [crop_key(each.crop, document, library) for each in document.garden.want]
    return Choices(
        beds=tuple(bed.id for bed in document.garden.bed),
        shed=_pairs({key: names.get(key, key) for key in stock}),
        materials=_pairs({key: name for key, name in names.items() if key not in stock}),
        wanted=_pairs({key: crops[key] for key in wanted}),
        crops=_pairs({key: name for key, name in crops.items() if key not in wanted}),
        analytes=tuple(
            (row["analyte"], row["name"]) for row in library.rows("analytes")
            if row["analyte"] not in _OF_WATER
        ),
        methods=tuple(
            (row["extractant"], row["name"]) for row in library.rows("extractants")
            if row["extractant"] not in ("water_sample", "none")
        ),
        did=(("spread", _("spread")), ("sowed", _("sowed")), ("set out", _("set out")),
             ("worked", _("worked"))),
        saw=(("pest", _("a pest")), ("disease", _("a disease")), ("weather", _("the weather")),
             ("note", _("a note")), ("photograph", _("a photograph"))),
        measured=(("moisture", _("moisture by feel")), ("minimum", _("the night's minimum")),
                  ("soil test", _("a soil test"))),
        bought=(("bought", pgettext("shed", "bought")), ("used up", pgettext("shed", "used up"))),
        quality=tuple((key, word()) for key, word in QUALITY.items()),
        moisture=tuple((key, word()) for key, word in MOISTURE.items()),
    )  # fmt: skip


def as_keys(values: dict[str, str], standing: Standing) -> dict[str, str]:
    """The fields of a form with the names in them as the keys of the choices, where known."""
    library, document = own_library(standing.stated, standing.library), standing.stated
    found = dict(values)
    for name, word in values.items():
        try:
            if name == "material":
                found[name] = material_key(word, document, library)
            elif name == "crop":
                found[name] = crop_key(word, document, library)
            elif name.startswith("analyte") and word:
                found[name] = library.resolve("analyte_names", "analyte", word)
            elif name.startswith("method") and word:
                found[name] = library.resolve("extractant_names", "extractant", word)
        except UnknownName:
            continue
    return found


def units_beside(system: UnitSystem, currency: str) -> dict[str, str]:
    """The units that stand beside the fields, and what a bucket holds."""
    us = system is UnitSystem.US
    return {
        "depth": _("in") if us else _("cm"),
        "usual_depth": "6" if us else "15",
        "minimum": "F" if us else "C",
        "price": currency,
        "bucket": _("buckets of 5 gal") if us else _("buckets of 10 l"),
        "us": "yes" if us else "",
    }


def _pairs(names: dict[str, str]) -> Pairs:
    here = {key: named(name) for key, name in names.items()}
    return tuple(sorted(here.items(), key=lambda each: each[1].casefold()))


_OF_WATER = frozenset(
    "bicarbonate carbonate_alkalinity total_dissolved_solids residual_sodium_carbonate moisture"
    " c_to_n".split()
)
