"""What the gardener states of seed, plants and parts: on hand, packages, prices."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, BeforeValidator, ConfigDict, StrictBool, model_validator
from pydantic import WithJsonSchema as Schema

from bedwright.garden import fields as f
from bedwright.garden.fields import wrong
from bedwright.units import Quantity

# How each item may be counted; "count" is a plain number.
MEASURES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "seed": ("mass", "count"),
        "plants": ("count",),
        "seed pieces": ("mass", "count"),
        "post": ("count",),
        "stake": ("count",),
        "mesh panel": ("count",),
        "drip line": ("length",),
        "twine": ("length",),
        "shade cloth": ("area",),
    }
)
OF_A_CROP = frozenset({"seed", "plants", "seed pieces"})

_MOST = 1_000_000.0
_SAID = {"mass": '"5 g"', "count": "250", "length": '"100 ft"', "area": '"200 ft2"'}


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


def _read_amount(value: Any) -> Any:
    """A plain number that counts, or a mass, length or area with its unit."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        if not math.isfinite(value) or not 0 <= value <= _MOST:
            raise wrong(f"{value} is not a count", "A number from 0 to 1000000.")
        return float(value)
    read = f.read_quantity(value, ("mass", "length", "area"))
    if not 0 <= read.si <= _MOST:
        raise wrong(f"{read.text!r} is not an amount", "Such as 250, or with a unit.")
    return read


Amount = Annotated[
    float | Quantity,
    BeforeValidator(_read_amount),
    Schema({"type": ["number", "string"], "examples": [250, "5 g", "100 ft"]}),
]


class Supply(_Part):
    """Seed of a crop, its plants, or a part such as posts: on hand, and how it is sold.

    ``price`` is that of one ``package``. Plants with a package are bought, not raised.
    """

    item: Literal[
        "seed", "plants", "seed pieces", "post", "stake", "mesh panel", "drip line", "twine",
        "shade cloth",
    ]  # fmt: skip
    crop: f.Identifier | None = None
    shade: f.Share | None = None
    on_hand: Amount | None = None
    counted: f.Day | None = None
    package: Amount | None = None
    price: f.Money | None = None
    can_buy: StrictBool = True
    note: f.Words | None = None

    @model_validator(mode="after")
    def _fits_its_item(self) -> Self:
        if (self.crop is None) == (self.item in OF_A_CROP):
            problem = "needs its crop" if self.crop is None else "is of no crop"
            raise wrong(f"{self.item!r} {problem}", 'Such as item = "seed" and crop = "tomato".')
        if self.shade is not None and (self.item != "shade cloth" or not 0 < self.shade.si < 1):
            raise wrong("shade is that of shade cloth, below 100 %", 'Such as shade = "30 %".')
        if self.price is not None and self.package is None:
            raise wrong("a price without a package", f"Add package, such as {self._such_as}.")
        for name in ("on_hand", "package"):
            stated = getattr(self, name)
            if stated is not None and measure_of(stated) not in MEASURES[self.item]:
                raise wrong(
                    f"{name} of {self.item!r} is not counted so", f"Such as {self._such_as}."
                )
        if self.package is not None and size_of(self.package) <= 0:
            raise wrong("package is not more than 0", f"Such as {self._such_as}.")
        return self

    @property
    def _such_as(self) -> str:
        return " or ".join(_SAID[each] for each in MEASURES[self.item])


def measure_of(amount: float | Quantity) -> str:
    """Whether an amount is a mass, length, area or count."""
    return amount.kind if isinstance(amount, Quantity) else "count"


def size_of(amount: float | Quantity) -> float:
    """An amount as a number [kg, m, m2 or a count]."""
    return float(amount.si if isinstance(amount, Quantity) else amount)
