"""Water beside reference libraries (pyet, pyfao56, aquacrop) and Ref-ET, on measured weather."""

from __future__ import annotations

import csv
import sys
import warnings
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from bedwright.climate import day_length as sun
from bedwright.reference import Library
from bedwright.water import radiation, root_zone
from bedwright.water.evapotranspiration import et0_hargreaves_1985, reference_evapotranspiration
from bedwright.water.weather import SubstituteErrors, Weather

sys.path.insert(0, str(Path(__file__).parent))
import cotton_season as cotton

DATA = Path(__file__).with_name("data")
NO_ERRORS = SubstituteErrors(0.0, 0.0, 0.0, 0.0)
FALLON = (39.4575, 1208.5)  # latitude, elevation of the station
MARICOPA = (33.069, 361.0)
SEASON = ("2013-001", "2013-365")


def quietly(name: str) -> ModuleType:
    """A library whose own warnings are none of ours."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return pytest.importorskip(name)


def fallon() -> dict[str, np.ndarray]:
    with (DATA / "fallon_daily_2015.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return {name: np.array([float(row[name] or "nan") for row in rows]) for name in rows[0]}


def fallon_weather(**changed: object) -> tuple[Weather, dict[str, np.ndarray]]:
    table = fallon()
    above = sun.extraterrestrial_radiation_fao56(FALLON[0], table["DOY"])
    spread = table["Tmax_C"] - table["Tmin_C"]
    given = {
        "t_max_c": table["Tmax_C"], "t_min_c": table["Tmin_C"], "extraterrestrial_mj_m2": above,
        "radiation_guess_mj_m2": sun.radiation_from_range_fao56(spread, above, 0.16),
        "radiation_mj_m2": table["Srad_MJm2"], "dew_point_c": table["Tdew_C"],
        "wind_m_s": table["Wind3m_ms"], "wind_height_m": 3.0, "elevation_m": FALLON[1],
        "dew_below_minimum_c": 2.0,
    }  # fmt: skip
    return Weather(**(given | changed)), table  # type: ignore[arg-type]


def maricopa_weather(**changed: object) -> Weather:
    def column(name: str) -> np.ndarray:
        return cotton.weather(name, *SEASON)[:, 0]

    above = sun.extraterrestrial_radiation_fao56(MARICOPA[0], np.arange(1.0, 366.0))
    spread = column("Tmax") - column("Tmin")
    given = {
        "t_max_c": column("Tmax"), "t_min_c": column("Tmin"), "extraterrestrial_mj_m2": above,
        "radiation_guess_mj_m2": sun.radiation_from_range_fao56(spread, above, 0.16),
        "radiation_mj_m2": column("Srad"), "dew_point_c": column("Tdew"),
        "wind_m_s": column("Wndsp"), "wind_height_m": 3.0, "elevation_m": MARICOPA[1],
        "dew_below_minimum_c": 2.0,
    }  # fmt: skip
    return Weather(**(given | changed))  # type: ignore[arg-type]


def off(found: np.ndarray, wanted: np.ndarray) -> float:
    """Root mean square of the difference of known days."""
    return float(np.sqrt(np.nanmean((found - wanted) ** 2)))


def test_a_desert_year_agrees_with_ref_et():
    """Ref-ET takes clear sky by its full method and no floor of wind; a tenth of a millimeter."""
    weather, table = fallon_weather()

    found = 1000 * reference_evapotranspiration(weather, NO_ERRORS).et0_m

    assert off(found, table["ETo_RefET"]) <= 0.11
    assert abs(np.nanmean(found - table["ETo_RefET"])) <= 0.05


def test_a_desert_year_agrees_with_pyet():
    """pyet's FAO-56 equation on the same inputs. It lacks the floor of wind, so none is that calm
    here; it holds the share of a clear sky to 0.3 or more, FAO-56 does not: darker days are left
    out of the close comparison.
    """
    pandas, pyet = quietly("pandas"), quietly("pyet")
    table = fallon()
    dates = pandas.date_range("2015-01-01", periods=365)
    windy = np.maximum(table["Wind3m_ms"], 1.0)
    moist, dry = np.full(365, 80.0), np.full(365, 20.0)
    weather, _ = fallon_weather(
        dew_point_c=None, humidity_max_percent=moist, humidity_min_percent=dry, wind_m_s=windy,
        wind_height_m=2.0,
    )  # fmt: skip

    def series(values: np.ndarray) -> object:
        return pandas.Series(values, index=dates)

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        theirs = pyet.pm_fao56(
            series((table["Tmax_C"] + table["Tmin_C"]) / 2), series(windy),
            rs=series(table["Srad_MJm2"]), elevation=FALLON[1], lat=np.radians(FALLON[0]),
            tmax=series(table["Tmax_C"]), tmin=series(table["Tmin_C"]), rhmax=series(moist),
            rhmin=series(dry),
        )  # fmt: skip

    ours = 1000 * reference_evapotranspiration(weather, NO_ERRORS).et0_m

    clear = radiation.clear_sky_radiation(weather.extraterrestrial_mj_m2, FALLON[1])
    light = (table["Srad_MJm2"] / clear >= 0.3) & np.isfinite(ours - theirs.to_numpy())
    assert light.sum() > 300
    assert np.abs(ours - theirs.to_numpy())[light].max() <= 1e-6
    assert off(ours, theirs.to_numpy()) <= 0.03


def test_hargreaves_of_a_desert_year_is_pyets():
    """pyet lets the heat of evaporation vary with temperature, FAO-56 takes 2.45 MJ/kg: 3 %."""
    pandas, pyet = quietly("pandas"), quietly("pyet")
    weather, table = fallon_weather()
    dates = pandas.date_range("2015-01-01", periods=365)
    mean = (table["Tmax_C"] + table["Tmin_C"]) / 2
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        theirs = pyet.hargreaves(
            *(
                pandas.Series(each, index=dates)
                for each in (mean, table["Tmax_C"], table["Tmin_C"])
            ),
            lat=np.radians(FALLON[0]),
        )

    ours = 1000 * et0_hargreaves_1985(
        weather.t_max_c, weather.t_min_c, weather.extraterrestrial_mj_m2
    )

    assert ours == pytest.approx(theirs.to_numpy(), rel=0.03)


def test_a_desert_year_agrees_with_the_stations_own_figures():
    """The station prints the standardized equation of 2005; half of what its floor of wind and
    limits of cloudiness make up.
    """
    found = 1000 * reference_evapotranspiration(maricopa_weather(), NO_ERRORS).et0_m

    assert off(found, cotton.weather("ETref", *SEASON)[:, 0]) <= 0.09


@pytest.mark.parametrize(
    ("parameter", "missing"),
    [
        ("no_humidity", ("dew_point_c",)),
        ("no_wind", ("wind_m_s",)),
        ("no_radiation", ("radiation_mj_m2",)),
        ("hargreaves", ("dew_point_c", "wind_m_s", "radiation_mj_m2")),
    ],
)
def test_the_tables_errors_of_substitutes_are_those_of_the_two_desert_years(
    parameter: str, missing: tuple[str, ...]
):
    figure = Library().parameter(f"et0_error_{parameter}", "mm")
    without = dict.fromkeys(missing)
    errors = []
    for made in (lambda **c: fallon_weather(**c)[0], maricopa_weather):
        full = reference_evapotranspiration(made(), NO_ERRORS).et0_m
        errors.append(
            1000 * off(reference_evapotranspiration(made(**without), NO_ERRORS).et0_m, full)
        )

    assert (figure.low, figure.high) == (
        pytest.approx(min(errors), abs=0.006), pytest.approx(max(errors), abs=0.006)
    )  # fmt: skip


def test_hargreaves_errs_less_than_three_substitutes_where_only_temperature_is_known():
    """Why it is taken there, though FAO-56 would rather estimate all three."""
    for weather in (fallon_weather()[0], maricopa_weather()):
        full = reference_evapotranspiration(weather, NO_ERRORS).et0_m
        bare = dict.fromkeys(("dew_point_c", "wind_m_s", "radiation_mj_m2"))
        made = {name: each for name, each in vars(weather).items() if name not in bare}
        guess = np.minimum(
            weather.radiation_guess_mj_m2,
            weather.extraterrestrial_mj_m2 * (0.75 + 2e-5 * float(weather.elevation_m)),  # type: ignore[arg-type]
        )
        # all three handed in as if measured: the same substitutes, by Penman-Monteith
        estimated = Weather(
            **(made | {"wind_height_m": 2.0}), radiation_mj_m2=guess,
            dew_point_c=weather.t_min_c - 2, wind_m_s=np.full(365, 2.0),
        )  # fmt: skip
        hargreaves = reference_evapotranspiration(Weather(**made), NO_ERRORS).et0_m
        penman = reference_evapotranspiration(estimated, NO_ERRORS).et0_m

        assert off(hargreaves, full) < off(penman, full)


def test_a_season_is_the_reference_librarys_own_run():
    """pyfao56 runs the same files in the same process; all its digits, not the three it prints."""
    fao = quietly("pyfao56")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        parameters = fao.Parameters(
            Kcbini=0.15, Kcbmid=1.20, Kcbend=0.573, Lini=31, Ldev=52, Lmid=50, Lend=21, hini=0.05,
            hmax=1.20, thetaFC=0.225, thetaWP=0.100, theta0=0.100, Zrini=0.60, Zrmax=1.70,
            pbase=0.65, Ze=0.1143, REW=9.0,
        )  # fmt: skip
        weather, water = fao.Weather(), fao.Irrigation()
        weather.loadfile(str(cotton.FOLDER / "cotton2013.wth"))
        water.loadfile(str(cotton.FOLDER / "cottonwet2013.irr"))
        model = fao.Model(cotton.FIRST, cotton.LAST, parameters, weather, irr=water)
        model.run()
    table = model.odata.loc[:, ~model.odata.columns.duplicated()]

    _, result = cotton.balance("wet", "late")

    for column, field in (
        ("E", "evaporation_m"),
        ("T", "transpiration_m"),
        ("DP", "drainage_m"),
        ("Dr", "depletion_m"),
    ):  # fmt: skip
        theirs = table[column].to_numpy(dtype=float)
        assert np.abs(1000 * getattr(result, field)[:, 0] - theirs).max() <= 1e-9, column


def test_field_capacity_and_wilting_point_are_those_of_another_code_of_the_same_paper():
    """aquacrop carries Saxton and Rawls 2006; it rounds to three decimals."""
    quietly("aquacrop")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from aquacrop.entities.soil import Soil

        soil = Soil("custom")
    for sand, clay, organic in ((20, 15, 2.5), (65, 10, 1.0), (10, 45, 4.0), (40, 20, 6.0)):
        low, full, *_ = soil.calculate_soil_hydraulic_properties(sand / 100, clay / 100, organic)

        assert float(
            root_zone.wilting_point_saxton_rawls_2006(sand / 100, clay / 100, organic)
        ) == pytest.approx(low, abs=0.0006)
        assert float(
            root_zone.field_capacity_saxton_rawls_2006(sand / 100, clay / 100, organic)
        ) == pytest.approx(full, abs=0.0006)


# Saxton and Rawls 2006, Table 3 (recalled, not seen): percent by volume with 2.5 % organic matter
TABLE_3 = {
    "sand": (5, 10), "loamy_sand": (5, 12), "sandy_loam": (8, 18), "loam": (14, 28),
    "silt_loam": (11, 31), "silt": (6, 30), "sandy_clay_loam": (17, 27), "clay_loam": (22, 36),
    "silty_clay_loam": (22, 38), "silty_clay": (27, 41), "sandy_clay": (25, 36), "clay": (30, 42),
}  # fmt: skip


@pytest.mark.parametrize("texture", TABLE_3)
def test_the_middle_of_a_texture_class_holds_what_the_papers_table_says(texture: str):
    shares = {
        row["property"]: row.typical()
        for row in Library().rows("soil_water")
        if row["texture"] == texture and row["property"] in ("sand_share", "clay_share")
    }
    made = shares["sand_share"], shares["clay_share"], 2.5
    low, full = TABLE_3[texture]

    assert 100 * float(root_zone.wilting_point_saxton_rawls_2006(*made)) == pytest.approx(
        low, abs=0.6
    )
    assert 100 * float(root_zone.field_capacity_saxton_rawls_2006(*made)) == pytest.approx(
        full, abs=0.6
    )
