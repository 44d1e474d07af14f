"""How much a garden's own figures count beside a table's: the more, the more seasons are in."""

from __future__ import annotations

from bedwright.guards import not_negative, positive, within
from bedwright.working import Source, formula

_COUNT = ("ratio", "-")
_SHARE = ("ratio", "-")
_BUHLMANN = Source(
    "buhlmann_1967", "the credibility formula", "z = n/(n + k), k = variance within / between"
)
_CONJUGATE = Source("gelman_2013", "sec. 2.4", "binomial with a beta prior")


@formula(
    "weight of one's own = n / (n + k)",
    result=_SHARE,
    sources=(_BUHLMANN,),
    example={"seasons": "2", "table_counts": "2"},
    seasons=_COUNT,
    table_counts=_COUNT,
)
def own_weight(seasons: float, table_counts: float) -> float:
    """The weight of a garden's own mean beside the table's figure [-], 0 to below 1.

    Parameters
    ----------
    seasons : in which it was measured, 0 and up
    table_counts : as how many seasons of one's own the table counts, k, above 0: the variance
        from season to season in one garden, over that from garden to garden about the table

    Raises ValueError for an input outside its range. Source: H. Buhlmann, Experience rating and
    credibility, ASTIN Bulletin 4, 1967, p. 199.
    """
    not_negative(seasons=seasons)
    positive(table_counts=table_counts)
    return seasons / (seasons + table_counts)


@formula(
    "own x weight + table x (1 - weight)",
    result=_COUNT,
    sources=(_BUHLMANN,),
    example={"own": "3", "table": "2", "weight": "0.5"},
    own=_COUNT,
    table=_COUNT,
    weight=_SHARE,
)
def weighed(own: float, table: float, weight: float) -> float:
    """A garden's own figure and the table's, in one unit, as one figure in that unit.

    ``own`` and ``table`` 0 and up, ``weight`` that of :func:`own_weight` [-], 0 to 1; raises
    ValueError for an input outside its range. Source: as there.
    """
    not_negative(own=own, table=table)
    within(0, 1, weight=weight)
    return own * weight + table * (1 - weight)


@formula(
    "germination = (came up + table x m) / (sown + m)",
    result=_SHARE,
    sources=(_CONJUGATE,),
    example={"came_up": "41", "sown": "50", "table": "0.75", "table_counts": "50"},
    came_up=_COUNT,
    sown=_COUNT,
    table=_SHARE,
    table_counts=_COUNT,
)
def germination_weighed(came_up: float, sown: float, table: float, table_counts: float) -> float:
    """The share of seeds that come up [-], by own counts beside the table.

    Parameters
    ----------
    came_up, sown : seeds counted, 0 and up; no more come up than were sown
    table : the table's share [-], 0 to 1
    table_counts : as how many seeds of one's own the table counts, m, above 0

    Raises ValueError for an input outside its range. The mean of the beta distribution that a
    prior of m seeds at the table's share becomes. Source: A. Gelman et al., Bayesian Data
    Analysis, 3rd ed., 2013, sec. 2.4.
    """
    not_negative(came_up=came_up, sown=sown)
    within(0, 1, table=table)
    positive(table_counts=table_counts)
    if came_up > sown:
        raise ValueError(f"{came_up:g} came up of {sown:g} sown")
    return (came_up + table * table_counts) / (sown + table_counts)
