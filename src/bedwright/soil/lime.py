"""Raising pH: the lime that a buffer test or, failing that, the texture asks for."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from bedwright.guards import not_negative, positive, within
from bedwright.reference import Library, Row
from bedwright.units import to_si
from bedwright.working import Figure, Source, formula, step

_AREA_MASS = ("mass_per_area", "kg/m2")
_PH = ("ratio", "-")
_TON_PER_ACRE = 907.18474 / 4046.8564224  # kg/m2: NIST HB 44, appendix C


@dataclass(frozen=True)
class MehlichLime:
    """Lime need [kg CaCO3/m2] with the buffer acidity it rests on."""

    value: float
    acidity: float = step("meq/100 cm3")
    share_to_target: float = step("-")


@formula(
    "acidity = (6.6 - buffer pH) x 4; lime, ton/ac = acidity x (target - pH) / (6.6 - pH) - credit",
    result=_AREA_MASS,
    sources=(Source("ncda_bufftab", "formula", "US short tons of lime per acre"),),
    example={"ph": "5.0", "buffer_ph": "6.3", "target_ph": "6.0", "residual_credit": "0 ton/ac"},
    ph=_PH,
    buffer_ph=_PH,
    target_ph=_PH,
    residual_credit=_AREA_MASS,
)
def lime_mehlich_buffer(
    ph: float, buffer_ph: float, target_ph: float, residual_credit: float
) -> MehlichLime:
    """Lime requirement by the Mehlich buffer, North Carolina calibration [kg CaCO3/m2].

    Parameters
    ----------
    ph : of the soil in water [pH], 3 to 9; at or above the target no lime is asked for
    buffer_ph : by the Mehlich buffer [pH], 4 to 6.6
    target_ph : wanted [pH], 3 to 6.6
    residual_credit : lime of an earlier dressing still to react [kg/m2], 0 and up

    Raises ValueError for an input outside its range.
    """
    start, factor = 6.6, 4.0  # ncda_bufftab
    within(3, 9, ph=ph)
    within(4, start, buffer_ph=buffer_ph)
    within(3, start, target_ph=target_ph)
    not_negative(residual_credit=residual_credit)
    acidity = (start - buffer_ph) * factor
    if ph >= target_ph:
        return MehlichLime(0.0, acidity, 0.0)
    share = (target_ph - ph) / (start - ph)
    return MehlichLime(max(0.0, acidity * share * _TON_PER_ACRE - residual_credit), acidity, share)


@formula(
    "lime = the buffer's own table at this reading and target, straight between its rows",
    result=_AREA_MASS,
    sources=(),
    method=("word", "sikora_oregon mehlich_queensland penn_state_acidity"),
    reading=_PH,
    ph=_PH,
    target_ph=_PH,
    rows=("table", "lime_buffer"),
    example={"method": "sikora_oregon", "reading": "6.0", "ph": "5.0", "target_ph": "5.6"},
)
def lime_from_table(
    method: str, reading: float, ph: float, target_ph: float, rows: list[Row]
) -> float:
    """Lime requirement by a published table [kg CaCO3/m2].

    Parameters
    ----------
    method : the calibration, one of those in ``lime_buffer.csv``
    reading : buffer [pH], or exchangeable acidity [meq/100 g] for penn_state_acidity, 0 and up
    ph : of the soil in water [pH], 3 to 10; at or above the target no lime is asked for
    target_ph : wanted [pH], 3 to 10; straight lines between the table's targets
    rows : of ``lime_buffer.csv``

    Raises ValueError for a method without rows, or a reading or target outside its table on the
    side where more lime would be needed.
    """
    not_negative(reading=reading)
    within(3, 10, ph=ph, target_ph=target_ph)
    own = [row for row in rows if row["method"] == method]
    if not own:
        raise ValueError(f"there is no lime table for {method!r}")
    if ph >= target_ph:
        return 0.0
    targets = sorted({_number(row, "target_ph") for row in own})
    if not targets[0] <= target_ph <= targets[-1]:
        raise ValueError(
            f"the {method} table runs from a target of {targets[0]:g} to {targets[-1]:g}, "
            f"not to {target_ph:g}"
        )
    below = max(each for each in targets if each <= target_ph)
    above = min(each for each in targets if each >= target_ph)
    low, high = (_at_reading(own, target, reading) for target in (below, above))
    return low if above == below else low + (high - low) * (target_ph - below) / (above - below)


def _at_reading(rows: list[Row], target: float, reading: float) -> float:
    """The rate [kg/m2] at a reading, straight between rows, 0 beyond the need-free end."""
    points = sorted(
        (_number(row, "reading"), to_si(_number(row, "rate"), row["unit"], "mass_per_area"))
        for row in rows
        if row["target_ph"] and _number(row, "target_ph") == target
    )
    rising = points[-1][1] > points[0][1]  # acidity tables rise with the reading, pH tables fall
    first, last = points[0], points[-1]
    if reading < first[0]:
        if rising:
            return first[1]
        raise ValueError(f"the reading is {reading:g}; the table begins at {first[0]:g}")
    if reading > last[0]:
        if not rising:
            return 0.0
        raise ValueError(f"the reading is {reading:g}; the table ends at {last[0]:g}")
    for (x0, y0), (x1, y1) in pairwise(points):
        if x0 <= reading <= x1:
            return y0 + (y1 - y0) * (reading - x0) / (x1 - x0)
    return first[1]


def lime_by_texture(library: Library, texture_group: str, ph: float, target_ph: float) -> Figure:
    """Lime by texture where there is no buffer test, with the spread of the published tables.

    The value is the table in use; low and high are the least and the most that any of them asks
    for. ``texture_group`` is coarse, medium or fine. Raises LookupError for another.
    """
    rates: dict[str, float] = {}
    used = ""
    rows = [row for row in library.rows("lime_texture") if row["texture_group"] == texture_group]
    if not rows:
        raise LookupError(f"no lime table for a {texture_group!r} texture")
    for scheme in dict.fromkeys(row["scheme"] for row in rows):
        own = [row for row in rows if row["scheme"] == scheme]
        rates[scheme] = _texture_rate(own, ph, target_ph)
        used = scheme if own[0].used else used
    row = next(row for row in rows if row["scheme"] == used)
    return Figure(
        "lime_requirement",
        rates[used],
        "kg/m2",
        "computed",
        low=min(rates.values()),
        high=max(rates.values()),
        sources=(row.source,),
        formula="lime_by_texture",
        note="; ".join(f"{scheme}: {rate:.2f} kg/m2" for scheme, rate in rates.items()),
    )


def _texture_rate(rows: list[Row], ph: float, target_ph: float) -> float:
    """The rate [kg/m2] from ``ph`` to ``target_ph``: the table's curve, or its rate per unit."""
    if ph >= target_ph:
        return 0.0
    curve = sorted(
        (_number(row, "from_ph"), to_si(_number(row, "rate"), row["unit"], "mass_per_area"))
        for row in rows
    )
    if len(curve) == 1:
        per_unit = curve[0][1] / (_number(rows[0], "to_ph") - curve[0][0])
        return per_unit * (target_ph - ph)
    curve.append((_number(rows[0], "to_ph"), 0.0))

    def remaining(value: float) -> float:
        if value <= curve[0][0]:
            return curve[0][1]
        for (x0, y0), (x1, y1) in pairwise(curve):
            if x0 <= value <= x1:
                return y0 + (y1 - y0) * (value - x0) / (x1 - x0)
        return 0.0

    return max(0.0, remaining(ph) - remaining(target_ph))


@formula(
    "fineness factor = sum of the share in each sieve class x the efficiency of the class",
    result=("ratio", "%"),
    sources=(),
    shares=("word", "shares by class"),
    efficiencies=("word", "efficiencies by class"),
    example={"shares": "78.8,10,2.4", "efficiencies": "100,60,20"},
)
def fineness_factor(shares: tuple[float, ...], efficiencies: tuple[float, ...]) -> float:
    """Share of a lime that reacts, by its sieve analysis [%].

    Parameters
    ----------
    shares : in each sieve class [%], 0 and up, together at most 100
    efficiencies : of each class [%], 0 to 100, in the same order

    Raises ValueError for lists of unlike length or shares above 100 %.
    """
    if len(shares) != len(efficiencies):
        raise ValueError("there must be one efficiency for each sieve class")
    not_negative(shares=shares)
    within(0, 100, efficiencies=efficiencies)
    if sum(shares) > 100.0 + 1e-9:
        raise ValueError(f"the sieve classes add up to {sum(shares):g} %")
    return sum(share * each / 100 for share, each in zip(shares, efficiencies, strict=True))


@formula(
    "effective value = neutralizing value x fineness factor x (1 - moisture)",
    result=("ratio", "%"),
    sources=(Source("rayment_lyons_2011", "method 16A, note 1", ""),),
    example={"neutralizing_value": "95 %", "fineness": "85 %", "moisture": "13 %"},
    neutralizing_value=("fraction", "%"),
    fineness=("fraction", "%"),
    moisture=("fraction", "%"),
)
def effective_neutralizing_value(
    neutralizing_value: float, fineness: float, moisture: float
) -> float:
    """What a lime is worth against pure, fine, dry calcium carbonate [%].

    Parameters
    ----------
    neutralizing_value : calcium carbonate equivalent [%], above 0 to 300
    fineness : fineness factor [%], 0 to 100
    moisture : water in the product [%], 0 to 100

    Raises ValueError for an input outside its range.
    """
    positive(neutralizing_value=neutralizing_value)
    within(0, 300, neutralizing_value=neutralizing_value)
    within(0, 100, fineness=fineness, moisture=moisture)
    return neutralizing_value * fineness / 100 * (1 - moisture / 100)


@formula(
    "product = requirement x 100 / effective value",
    result=_AREA_MASS,
    sources=(Source("penn_state_home_garden", "liming", "5 lb at 70 % CCE is 7 lb"),),
    example={"requirement": "5 lb/100 ft2", "effective_value": "70 %"},
    requirement=_AREA_MASS,
    effective_value=("fraction", "%"),
)
def lime_product(requirement: float, effective_value: float) -> float:
    """Mass of a liming material that does what the requirement asks [kg/m2].

    Parameters
    ----------
    requirement : as pure calcium carbonate [kg/m2], 0 and up
    effective_value : effective (or plain) neutralizing value of the product [%], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(requirement=requirement)
    positive(effective_value=effective_value)
    return requirement * 100 / effective_value


@formula(
    "lime = 1.5 x exchangeable acidity beyond what is tolerated (2 x where tolerance is low)",
    result=("charge_fraction", "meq/100 g"),
    sources=(Source("limer_cochrane_1980", "", "Cochrane's factor, as coded with its source"),),
    example={"acidity": "6 meq/100 g", "effective_cec": "10 meq/100 g", "tolerated": "20 %"},
    acidity=("charge_fraction", "meq/100 g"),
    effective_cec=("charge_fraction", "meq/100 g"),
    tolerated=("fraction", "%"),
)
def lime_cochrane(acidity: float, effective_cec: float, tolerated: float) -> float:
    """Lime against exchangeable acidity [meq CaCO3 per 100 g of soil].

    Parameters
    ----------
    acidity : exchangeable aluminum and hydrogen [meq/100 g], 0 and up
    effective_cec : effective cation exchange capacity [meq/100 g], above 0
    tolerated : share of the capacity that the crop bears as acidity [%], 0 to 100

    Raises ValueError for an input outside its range.
    """
    not_negative(acidity=acidity)
    positive(effective_cec=effective_cec)
    within(0, 100, tolerated=tolerated)
    usual, strict = 1.5, 2.0  # limer_cochrane_1980
    saturation = 100 * acidity / effective_cec
    factor = strict if tolerated <= saturation / 3 else usual
    return max(0.0, factor * (acidity - tolerated * effective_cec / 100))


@formula(
    "lime, kg/ha and 10 cm = 750 x exchangeable aluminum at a bulk density of 1",
    result=_AREA_MASS,
    sources=(Source("rayment_lyons_2011", "method 16A", "factor 1.5 x 500.4"),),
    example={"aluminum": "1 cmol/kg", "bulk_density": "1 kg/l", "depth": "10 cm"},
    aluminum=("charge_fraction", "meq/100 g"),
    bulk_density=("density", "kg/m3"),
    depth=("depth", "m"),
)
def lime_exchangeable_aluminum(aluminum: float, bulk_density: float, depth: float) -> float:
    """Lime against exchangeable aluminum [kg CaCO3/m2].

    Parameters
    ----------
    aluminum : exchangeable [meq/100 g], 0 and up
    bulk_density : of the dry soil [kg/m3], above 0
    depth : to be limed [m], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(aluminum=aluminum)
    positive(bulk_density=bulk_density, depth=depth)
    per_cmol = 750e-4  # kg/m2 for 10 cm at 1000 kg/m3: rayment_lyons_2011, method 16A
    return aluminum * per_cmol * depth / 0.1 * bulk_density / 1000


def _number(row: Row, column: str) -> float:
    value = row.number(column)
    if value is None:
        raise LookupError(f"line {row.line} has no {column}")
    return value
