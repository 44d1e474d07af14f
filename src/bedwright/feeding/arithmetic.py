"""Bag arithmetic: products, nutrients, rates and areas."""

from __future__ import annotations

from bedwright.guards import not_negative, positive, within
from bedwright.working import Source, formula

_AREA_MASS = ("mass_per_area", "kg/m2")
_MASS = ("mass", "kg")
_VOLUME = ("volume", "m3")
_AREA = ("area", "m2")
_DENSITY = ("density", "kg/m3")
_PERCENT = ("fraction", "%")

_LABEL = (
    Source("nmsu_small_areas", "", "the same division for small areas"),
    Source("computed", "", "a label's percent is mass of the nutrient in 100 of the product"),
)


@formula(
    "product = nutrient / content",
    result=_AREA_MASS,
    sources=_LABEL,
    example={"nutrient": "3 lb/1000 ft2", "content": "24 %"},
    nutrient=_AREA_MASS,
    content=_PERCENT,
)
def product_for_nutrient(nutrient: float, content: float) -> float:
    """Product that holds a wanted amount of one nutrient [kg/m2; kg if the nutrient is in kg].

    Parameters
    ----------
    nutrient : wanted, in the form in which the content is stated [kg/m2] or [kg], 0 and up
    content : of the nutrient in the product as sold [%], above 0 to 100

    Raises ValueError for a content of 0: no amount of the product would do.
    """
    not_negative(nutrient=nutrient)
    positive(content=content)
    within(0, 100, content=content)
    return nutrient * 100 / content


@formula(
    "nutrient = product x content",
    result=_AREA_MASS,
    sources=_LABEL,
    example={"product": "1.8 lb/1000 ft2", "content": "11 %"},
    product=_AREA_MASS,
    content=_PERCENT,
)
def nutrient_in_product(product: float, content: float) -> float:
    """Nutrient that an amount of product brings [kg/m2; kg if the product is in kg].

    Parameters
    ----------
    product : spread [kg/m2] or [kg], 0 and up
    content : of the nutrient in the product as sold [%], 0 to 100

    Raises ValueError for a content outside its range.
    """
    not_negative(product=product)
    within(0, 100, content=content)
    return product * content / 100


@formula(
    "nutrient = volume of liquid x density x content",
    result=_MASS,
    sources=(Source("computed", "", "a liquid's label is percent by mass, so its density counts"),),
    example={"volume": "1 gal", "density": "1.2 kg/l", "content": "5 %"},
    volume=_VOLUME,
    density=_DENSITY,
    content=_PERCENT,
)
def nutrient_in_liquid(volume: float, density: float, content: float) -> float:
    """Nutrient in a volume of a liquid product [kg].

    Parameters
    ----------
    volume : of the product, undiluted [m3], 0 and up
    density : of the product [kg/m3], above 0
    content : of the nutrient by mass [%], 0 to 100

    Raises ValueError for an input outside its range.
    """
    not_negative(volume=volume)
    positive(density=density)
    within(0, 100, content=content)
    return volume * density * content / 100


@formula(
    "amount = rate x area",
    result=_MASS,
    sources=(Source("nmsu_small_areas", "", "lb = (lb/ac) / 43,560 x ft2"),),
    example={"rate": "60 lb/ac", "area": "2160 ft2"},
    rate=_AREA_MASS,
    area=_AREA,
)
def amount_for_area(rate: float, area: float) -> float:
    """Mass that a rate asks for on an area [kg].

    Parameters
    ----------
    rate : per area [kg/m2], 0 and up
    area : of the bed [m2], 0 and up

    Raises ValueError for a negative input.
    """
    not_negative(rate=rate, area=area)
    return rate * area


@formula(
    "rate = amount / area",
    result=_AREA_MASS,
    sources=(Source("nmsu_small_areas", "", "the same rule turned round"),),
    example={"amount": "2 lb", "area": "100 ft2"},
    amount=_MASS,
    area=_AREA,
)
def rate_of_amount(amount: float, area: float) -> float:
    """Rate at which a mass lies on an area [kg/m2].

    Parameters
    ----------
    amount : spread [kg], 0 and up
    area : of the bed [m2], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(amount=amount)
    positive(area=area)
    return amount / area
