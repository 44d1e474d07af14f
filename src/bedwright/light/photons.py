"""From the sun's radiation to the light that plants use, counted in photons."""

from __future__ import annotations

import numpy as np

from bedwright.guards import not_negative, within
from bedwright.light.scene import FloatArray, Numbers
from bedwright.working import Source, formula

_PLAIN = ("ratio", "-")
_SHARE = ("parameter", "par_share_of_radiation fraction")
_PHOTONS = ("parameter", "photons_per_joule -")
_BIGLEAF = Source("bigleaf_082", "conversion of radiation to photon flux", "500 W/m2 is 1150")
_SECONDS_PER_HOUR, _MICRO = 3600, 1e-6


@formula(
    "photons = radiation x share of PAR x photons per joule; umol/m2/s from W/m2",
    result=_PLAIN,
    sources=(_BIGLEAF,),
    example={"radiation_w_m2": "500"},
    radiation_w_m2=_PLAIN,
    par_share=_SHARE,
    photons_umol_j=_PHOTONS,
)
def photon_flux(radiation_w_m2: Numbers, par_share: Numbers, photons_umol_j: Numbers) -> FloatArray:
    """Flux of photons that plants use (400 to 700 nm) in sunlight [umol/m2/s].

    Parameters
    ----------
    radiation_w_m2 : the sun's radiation on level ground [W/m2], 0 and up
    par_share : share of its energy from 400 to 700 nm [-], 0.3 to 0.7
    photons_umol_j : photons in that energy [umol/J], 4 to 5

    Raises ValueError for an input outside its range.
    """
    not_negative(radiation_w_m2=radiation_w_m2)
    _factors(par_share, photons_umol_j)
    return np.asarray(np.asarray(radiation_w_m2) * par_share * photons_umol_j)


@formula(
    "light of a day = photon flux x 3600 x hours / 1 000 000; mol/m2",
    result=_PLAIN,
    sources=(Source("computed", "seconds in the hours of light"),),
    example={"photon_flux_umol_m2_s": "1150", "hours": "12"},
    photon_flux_umol_m2_s=_PLAIN,
    hours=_PLAIN,
)
def light_of_day(photon_flux_umol_m2_s: Numbers, hours: Numbers) -> FloatArray:
    """Daily light integral from a mean flux of photons and its hours [mol/m2/d].

    Parameters
    ----------
    photon_flux_umol_m2_s : mean over the hours [umol/m2/s], 0 and up
    hours : of light [h], 0 to 24

    Raises ValueError for an input outside its range.
    """
    not_negative(photon_flux_umol_m2_s=photon_flux_umol_m2_s)
    within(0, 24, hours=hours)
    flux = np.asarray(photon_flux_umol_m2_s, dtype=np.float64)
    return np.asarray(flux * _MICRO * _SECONDS_PER_HOUR * np.asarray(hours))


@formula(
    "light of a day = radiation of the day x share of PAR x photons per joule; mol/m2 from MJ/m2",
    result=_PLAIN,
    sources=(_BIGLEAF,),
    example={"radiation_mj_m2": "30"},
    radiation_mj_m2=_PLAIN,
    par_share=_SHARE,
    photons_umol_j=_PHOTONS,
)
def light_from_radiation(
    radiation_mj_m2: Numbers, par_share: Numbers, photons_umol_j: Numbers
) -> FloatArray:
    """Daily light integral from a day's radiation [mol/m2/d].

    Parameters
    ----------
    radiation_mj_m2 : the sun's radiation on level ground in a day [MJ/m2/d], 0 to 50
    par_share : share of its energy from 400 to 700 nm [-], 0.3 to 0.7
    photons_umol_j : photons in that energy [umol/J], which is mol/MJ, 4 to 5

    Raises ValueError for an input outside its range.
    """
    within(0, 50, radiation_mj_m2=radiation_mj_m2)
    _factors(par_share, photons_umol_j)
    return np.asarray(np.asarray(radiation_mj_m2) * par_share * photons_umol_j)


def _factors(par_share: Numbers, photons_umol_j: Numbers) -> None:
    within(0.3, 0.7, par_share=par_share)
    within(4, 5, photons_umol_j=photons_umol_j)
