"""What is said of the summer: heat days of a planting, its shade cloth, the garden's measures."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.planning.findings import Finding
from bedwright.planning.summer.people import Drinking, MonthWork
from bedwright.planning.timing_model import Spread
from bedwright.working import Figure, Source


@dataclass(frozen=True)
class HeatDays:
    """Days of a planting on which its crop is harmed by heat.

    ``harm`` is growth, fruit_set, quality or sunscald; ``stage`` the part of the crop's time that
    is counted, ``span_days`` long; ``driver`` what the ``limit`` [C] is compared with: the day's
    max, min or mean, or the sunlit skin of fruit. ``days`` are those of a year of the record, with
    what one year in ten stays below and above. ``under_cloth`` is their mean if a cloth cooled
    the air as in the trials, None where no cloth is advised or the air does not rule.
    """

    harm: str
    stage: str
    driver: str
    limit: Figure
    days: Spread
    span_days: int
    years: int
    under_cloth: float | None = None


@dataclass(frozen=True)
class Trial:
    """One trial of shade cloth: what happened to an ``outcome`` under so much ``shade`` [-]."""

    trial: str
    outcome: str
    effect: Literal["gain", "same", "loss"]
    shade: Figure
    used: bool
    source: Source


@dataclass(frozen=True)
class Shade:
    """One choice of cloth: the light left in the darkest month of its time [mol/m2/d].

    ``fit`` is enough, thin (below what the crop wants) or dark (below the least it needs).
    """

    percent: float
    light_mol_m2_d: float
    fit: str


@dataclass(frozen=True)
class Hung:
    """A shade cloth of the document over the bed; days are (month, day), None all year."""

    structure: str
    percent: float
    from_day: tuple[int, int] | None
    to_day: tuple[int, int] | None


@dataclass(frozen=True)
class Cloth:
    """What is advised of shade cloth: ``verdict`` hang, none or unknown, and ``why`` as a code.

    Why: trial (a trial gained), habit (the crop is known to gain, without a trial); no_heat, short
    (too few days), no_trial, trial_loss, light (no cloth leaves enough); no_light_known.
    ``heat`` is the heat's usual first and last day within the crop's time, by the
    ``trigger``; it comes in ``years_share`` of the years. ``gain_days`` are days of good fruit set
    more in a season, by the cooling of the air alone, over its range; None where the crop does not
    set fruit.
    """

    verdict: Literal["hang", "none", "unknown"]
    why: str
    percent: float = 0.0
    heat: tuple[date, date] | None = None
    years_share: float = 0.0
    trigger: Figure | None = None
    need: Figure | None = None
    shades: tuple[Shade, ...] = ()
    gain_days: Spread | None = None
    trials: tuple[Trial, ...] = ()


@dataclass(frozen=True)
class PlantingSummer:
    """The summer of one planting. ``start`` and ``end`` are its first day and last picking.

    ``relief`` tells that the crop is one of those that gain from shade in heat. ``pick`` is a
    code for how to pick in heat: color, head, leaf or fruit; "" where nothing is picked in heat.
    """

    bed: str
    want: int
    crop: str
    name: str
    start: date
    end: date
    relief: bool
    heat: tuple[HeatDays, ...]
    cloth: Cloth
    hung: tuple[Hung, ...]
    pick: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Mulch:
    """Straw over the beds: from when, how thick [m], what it is known to do.

    ``stated`` are the beds for which the document states a mulch already.
    """

    from_day: date | None
    stated: tuple[str, ...]
    thickness: Figure
    thickest_useful: Figure
    evaporation_saved: tuple[Figure, ...]
    swing_bare: Figure
    swing_mulched: Figure


@dataclass(frozen=True)
class Wind:
    """Wind from which not to set out, not to hang cloth, and to take it down [m/s].

    ``windy_days`` are days a month, January first, whose mean wind alone reaches the first limit;
    None where the record tells no wind. Gusts are stronger than any daily mean.
    """

    set_out: Figure
    hang: Figure
    take_down: Figure
    windy_days: tuple[float, ...] | None


@dataclass(frozen=True)
class Summer:
    """The summer ahead of a garden.

    ``plantings`` in the order of the beds; ``work`` the months in which the heat shortens work;
    ``misting`` is not advised: the evidence is in its figure.
    """

    plantings: tuple[PlantingSummer, ...]
    work: tuple[MonthWork, ...]
    drinking: Drinking
    mulch: Mulch
    wind: Wind
    misting: Figure
    findings: tuple[Finding, ...]

    def of(self, bed: str, crop: str) -> PlantingSummer | None:
        """The summer of a bed's planting of a crop; None where it has no dates."""
        return next((e for e in self.plantings if (e.bed, e.crop) == (bed, crop)), None)
