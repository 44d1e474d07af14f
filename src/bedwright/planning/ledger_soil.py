"""The ground and the water behind a bed's ledger: layer, tests, salts of the irrigation."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bedwright.feeding.outlook import Ends, ends_of
from bedwright.feeding.salt_ledger import leached_share, settled_ec_e, share_passing
from bedwright.garden import Bed, Document
from bedwright.planning.evidence import Evidence, evidence
from bedwright.planning.salt import ec_e_of
from bedwright.reference import Library
from bedwright.soil import salinity
from bedwright.soil.nitrogen import irrigation_credit, nitrate_n_of_nitrate
from bedwright.working import Figure


@dataclass(frozen=True)
class SeasonWater:
    """What a season's irrigation brings [kg/m2]; None where the report does not say.

    ``carbonate`` is its bicarbonate as calcium carbonate; ``depth`` in m.
    """

    depth: float
    nitrogen: float | None
    salts: float | None
    carbonate: float | None
    ec: float | None


@dataclass(frozen=True)
class BedSoil:
    """What is known of a bed for its ledger.

    ``layer`` is the mass of the tested soil [kg/m2]; ``ec_per_salt`` what a kg/m2 of salts
    raises ECe by [dS/m]; ``leached`` the share of excess salts that a season leaches and
    ``settles`` the ECe that the water alone leads to [dS/m], each over its ends. None where it
    is not known.
    """

    known: Evidence
    sampled: date | None
    layer: float
    free_lime: bool
    olsen: Figure | None
    ec_e: Figure | None
    organic_matter: float | None
    ec_per_salt: float
    water: SeasonWater | None
    leached: Ends | None
    settles: Ends | None


def bed_soil(document: Document, bed: Bed, library: Library) -> BedSoil:
    """The ground and the water of a bed. ``library`` holds the garden's own facts."""
    known = evidence(document, bed, library)
    water = _water(document, bed, library)
    density, depth = known.bulk_density.value, known.depth.value
    olsen = known.measured.get(("phosphorus", "olsen"))
    matter = known.first("organic_matter")
    leached, settles = _leaching(water, depth, library)
    salt = ec_e_of(known, library)
    return BedSoil(
        known=known,
        sampled=known.sampled,
        layer=density * depth,
        free_lime=known.ground.free_lime is not False,
        olsen=olsen.figure if olsen is not None and olsen.figure.unit == "mg/kg" else None,
        ec_e=None if salt is None else salt[1],
        organic_matter=(
            matter.figure.value if matter is not None and matter.figure.unit == "%" else None
        ),
        ec_per_salt=salinity.salt_rise(1.0, density, depth, known.saturation_water.value).value,
        water=water,
        leached=leached,
        settles=settles,
    )


def _water(document: Document, bed: Bed, library: Library) -> SeasonWater | None:
    """The newest water report of the bed's zone, where it states the season's depth."""
    reports = [
        each
        for each in document.garden.water_report
        if each.season_depth is not None
        and (each.water_zones is None or bed.water_zone in each.water_zones)
    ]
    if not reports:
        return None
    report = max(reports, key=lambda each: each.sampled)
    assert report.season_depth is not None
    depth = report.season_depth.si
    read = {each.analyte: each.value for each in document.water[report.id]}
    nitrate = read.get("nitrate_n")
    if nitrate is None and "nitrate" in read:
        nitrate = nitrate_n_of_nitrate(read["nitrate"])
    per_ec = library.parameter("salts_per_ec", "mg/L per dS/m").value / 1000  # g/l is kg/m3
    to_carbonate = library.parameter("bicarbonate_to_calcium_carbonate", "kg/kg").value
    ec, bicarbonate = read.get("ec"), read.get("bicarbonate")
    return SeasonWater(
        depth=depth,
        nitrogen=None if nitrate is None else irrigation_credit(nitrate, depth * 1000),
        salts=None if ec is None else ec * per_ec * depth,
        carbonate=None if bicarbonate is None else bicarbonate / 1000 * to_carbonate * depth,
        ec=ec,
    )


def _leaching(
    water: SeasonWater | None, depth: float, library: Library
) -> tuple[Ends | None, Ends | None]:
    if water is None or water.ec is None:
        return None, None
    fraction = library.parameter("leaching_fraction", "-")
    half = library.parameter("salt_half_depth", "1")
    factor = library.parameter("rhoades_factor", "1").value
    quarters = tuple(
        library.parameter(f"water_uptake_quarter_{at}", "-").value for at in range(1, 5)
    )
    applied, ec = water.depth, water.ec

    def share(fraction: float, half: float, roots: float) -> float:
        passing = share_passing(fraction, depth, roots, quarters)
        return float(leached_share(passing * applied, depth, half))

    leached = ends_of(
        share,
        {
            "fraction": ends(fraction),
            "half": ends(half),
            "roots": ends(library.parameter("ledger_root_depth", "m")),
        },
    )
    settles = ends_of(
        lambda fraction: settled_ec_e(ec, fraction, factor), {"fraction": ends(fraction)}
    )
    return leached, settles


def ends(figure: Figure) -> Ends:
    """A figure's low end, value and high end."""
    return figure.least, figure.value, figure.most
