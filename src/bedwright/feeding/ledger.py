"""The ledger of beds: what came in, what went out and what is left, season by season.

Accounts are arrays of one row a bed and one column a season [kg/m2]. What was brought and what
was carried off is counted by name, so that every closing balance can be followed back.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import not_negative, positive, within
from bedwright.working import Source, formula

Array = NDArray[np.float64]

_AREA_MASS = ("mass_per_area", "kg/m2")
_RATIO = ("ratio", "-")


@dataclass(frozen=True)
class Account:
    """One account of every bed: opening balance, items in and out, closing balance [kg/m2].

    ``opening`` has one entry a bed; the items and ``closing`` one row a bed and one column a
    season. NaN stands for what is not known.
    """

    opening: Array
    incoming: Mapping[str, Array]
    outgoing: Mapping[str, Array]
    closing: Array

    @property
    def net(self) -> Array:
        """What each season adds, in less out [kg/m2]."""
        return _added_up(self.incoming, self.closing) - _added_up(self.outgoing, self.closing)

    @property
    def gap(self) -> float:
        """The largest amount by which the account does not close [kg/m2]; 0 but for rounding."""
        before = np.concatenate([self.opening[:, None], self.closing[:, :-1]], axis=1)
        gaps = np.abs(before + self.net - self.closing)
        known = gaps[~np.isnan(gaps)]
        return float(known.max()) if known.size else 0.0


@dataclass(frozen=True)
class Release:
    """Organic nitrogen of what was spread, by bed and season [kg/m2].

    ``released`` in each season from that season's and all earlier dressings; ``left`` what has
    not been released at the end of the season.
    """

    released: Array
    carried_over: Array
    left: Array


def account(
    opening: Array, incoming: Mapping[str, Array], outgoing: Mapping[str, Array]
) -> Account:
    """Close an account season by season.

    Parameters
    ----------
    opening : balance before the first season, one entry a bed [kg/m2]
    incoming, outgoing : named items, each of one row a bed and one column a season [kg/m2], 0
        and up

    Raises ValueError for items of unlike shape, a negative item or no item at all.
    """
    items = [*incoming.values(), *outgoing.values()]
    if not items:
        raise ValueError("an account needs at least one item")
    shape = items[0].shape
    if any(each.shape != shape for each in items) or opening.shape != shape[:1]:
        raise ValueError(f"the items of an account must all be of shape {shape}")
    for name, each in (*incoming.items(), *outgoing.items()):
        not_negative(**{name: each[~np.isnan(each)]})
    empty = np.zeros(shape)
    net = _added_up(incoming, empty) - _added_up(outgoing, empty)
    return Account(opening, incoming, outgoing, opening[:, None] + np.cumsum(net, axis=1))


def _added_up(items: Mapping[str, Array], like: Array) -> Array:
    total = np.zeros_like(like)
    for each in items.values():
        total = total + each
    return total


def shares_of_original(shares: Array, basis: str) -> Array:
    """A decay series as shares of what was first spread [-].

    Parameters
    ----------
    shares : released in the first, second, ... year [-], 0 to 1; the last axis is the years
    basis : ``original`` where every share is of what was spread, ``remaining`` where the later
        ones are of what is left

    Raises ValueError for another basis or a share outside its range.
    """
    within(0, 1, shares=shares)
    if basis == "original":
        return shares
    if basis != "remaining":
        raise ValueError(f"basis is {basis!r}; it must be 'original' or 'remaining'")
    left = np.cumprod(1 - shares, axis=-1)
    before = np.concatenate([np.ones_like(left[..., :1]), left[..., :-1]], axis=-1)
    original: Array = shares * before
    return original


def organic_release(spread: Array, shares: Array) -> Release:
    """Organic nitrogen released by dressings of this and earlier seasons.

    Parameters
    ----------
    spread : organic nitrogen spread, by material, bed and season [kg/m2], 0 and up
    shares : of what was spread, released in the first, second, ... year, by material and year
        [-], 0 to 1, a material's years together at most 1; negative where it ties nitrogen up

    Raises ValueError for shapes that do not fit or shares above 1.
    """
    not_negative(spread=spread)
    if spread.ndim != 3 or shares.ndim != 2 or len(shares) != len(spread):
        raise ValueError(f"spread {spread.shape} and shares {shares.shape} do not fit")
    if len(shares) and float(shares.sum(axis=1).max()) > 1 + 1e-9:
        raise ValueError("a material's shares are together more than 1")
    seasons = spread.shape[2]
    first = np.einsum("mbs,m->bs", spread, shares[:, 0]) if shares.size else spread.sum(axis=0)
    later = np.zeros_like(first)
    for lag in range(1, min(shares.shape[1], seasons)):
        later[:, lag:] += np.einsum("mbs,m->bs", spread[:, :, :-lag], shares[:, lag])
    released = first + later
    left = np.cumsum(spread.sum(axis=0) - released, axis=1)
    return Release(released, later, left)


def organic_matter_account(
    opening: Array, spread: Array, kept: Array, decayed_share: float
) -> Account:
    """The account of organic matter: fresh matter rots first, the soil's own slowly.

    Parameters
    ----------
    opening : organic matter in the layer before the first season, one entry a bed [kg/m2]
    spread : organic matter spread, by bed and season [kg/m2], 0 and up
    kept : of it, what joins the soil's own after its first season [kg/m2], 0 to ``spread``
    decayed_share : of the soil's own, what is mineralized in a season [-], 0 to 1

    Raises ValueError for an input outside its range.
    """
    within(0, 1, decayed_share=decayed_share)
    not_negative(kept=kept, rotted=spread - kept + 1e-12)
    stock, decayed = opening, np.zeros_like(spread)
    for season in range(spread.shape[1]):
        decayed[:, season] = stock * decayed_share
        stock = stock - decayed[:, season] + kept[:, season]
    rotted = np.maximum(spread - kept, 0.0)
    return account(opening, {"materials": spread}, {"rotted_fresh": rotted, "mineralized": decayed})


@formula(
    "matter kept = the smaller of matter x share of its nitrogen left and nitrogen left x "
    "C:N of humus x matter to carbon",
    result=_AREA_MASS,
    sources=(Source("judgement", "", "matter goes as its nitrogen goes; humus holds the rest"),),
    example={
        "matter": "25 kg/m2",
        "nitrogen_left": "0.9 kg/m2",
        "share_left": "0.9 -",
        "humus_c_to_n": "11 -",
        "matter_per_carbon": "1.724 -",
    },
    matter=_AREA_MASS,
    nitrogen_left=_AREA_MASS,
    share_left=_RATIO,
    humus_c_to_n=_RATIO,
    matter_per_carbon=_RATIO,
)
def matter_kept(
    matter: float,
    nitrogen_left: float,
    share_left: float,
    humus_c_to_n: float,
    matter_per_carbon: float,
) -> float:
    """Organic matter of a dressing that joins the soil's own after a season [kg/m2].

    Parameters
    ----------
    matter : organic matter spread [kg/m2], 0 and up
    nitrogen_left : organic nitrogen of the dressing not released in the season [kg/m2], 0 and up
    share_left : the same as a share of what was spread [-], 0 to 1
    humus_c_to_n : carbon to nitrogen of humus [-], above 0
    matter_per_carbon : organic matter for each carbon [-], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(matter=matter, nitrogen_left=nitrogen_left)
    within(0, 1, share_left=share_left)
    positive(humus_c_to_n=humus_c_to_n, matter_per_carbon=matter_per_carbon)
    return min(matter * share_left, nitrogen_left * humus_c_to_n * matter_per_carbon)
