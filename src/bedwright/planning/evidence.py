"""What is known of a bed on the day of planning: its soil report in the engine's terms."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bedwright.garden import Bed, Document, ReadResult
from bedwright.garden.model import SoilReport
from bedwright.planning.findings import Finding, finding
from bedwright.reference import Library
from bedwright.reference.library import texture_key
from bedwright.soil.conversion import concentration_from_area_mass, concentration_from_pp2m
from bedwright.soil.forms import form_factor
from bedwright.soil.interpretation import Ground, Measurement
from bedwright.working import Figure, Source, work

# Printed analyte -> (analyte of the class tables, the form that these count in).
_AS_ELEMENT = {
    "nitrate": ("nitrate_n", "N"),
    "phosphate": ("phosphorus", "P"),
    "potash": ("potassium", "K"),
    "sulfate": ("sulfate_s", "S"),
}
_PLOW_LAYER_M = (0.15, 0.21)  # 6 to 8 in: where laboratories print twice the ppm as lb/ac
_FIRST_GUESS_TEXTURE = "loam"  # assumed where nothing is stated: the middle of the triangle


@dataclass(frozen=True)
class Evidence:
    """A bed with its report: measurements by (analyte, extractant), and what stands behind them.

    ``report`` is None for a bed without one. ``assumed`` says what was taken for want of a
    statement. Units: bulk density kg/m3, depth m, area m2, saturation water % of dry soil.
    """

    bed: Bed
    area: Figure
    report: SoilReport | None
    sampled: date | None
    measured: dict[tuple[str, str], Measurement]
    texture: str
    texture_group: str
    bulk_density: Figure
    depth: Figure
    mixing_depth: Figure
    saturation_water: Figure
    ground: Ground
    findings: tuple[Finding, ...]

    def first(self, *analytes: str) -> Measurement | None:
        """The measurement of the first of these analytes that the report holds."""
        for analyte in analytes:
            for (name, _), measurement in self.measured.items():
                if name == analyte:
                    return measurement
        return None

    @property
    def ph(self) -> Figure | None:
        """The soil's pH, or None where it was not measured."""
        found = self.first("ph")
        return found.figure if found is not None else None


def evidence(document: Document, bed: Bed, library: Library) -> Evidence:
    """The evidence on one bed: the newest report that covers it, in the engine's units."""
    found: list[Finding] = []
    report = _newest(document, bed.id)
    texture, group = _texture(bed, report, library, found)
    filled = bed.fill == "compost mix"
    measured: dict[tuple[str, str], Measurement] = {}
    depth = _depth(report, library)
    if report is not None:
        for read in document.soil[report.id]:
            measurement = _measurement(read, depth, report)
            measured[(measurement.analyte, measurement.extractant)] = measurement
    density = _bulk_density(bed, report, texture, library, found)
    mixing = library.parameter("mixing_depth", "m")
    if bed.fill_depth is not None and bed.fill_depth.si < mixing.most:
        mixing = Figure("mixing_depth", min(bed.fill_depth.si, mixing.value), "m", "stated")
    return Evidence(
        bed=bed,
        area=_area(bed),
        report=report,
        sampled=report.sampled if report is not None else None,
        measured=measured,
        texture=texture,
        texture_group=group,
        bulk_density=density,
        depth=depth,
        mixing_depth=mixing,
        saturation_water=_saturation_water(measured, texture, library),
        ground=_ground(measured, filled),
        findings=tuple(found),
    )


def _newest(document: Document, bed: str) -> SoilReport | None:
    covering = [each for each in document.garden.soil_report if bed in each.beds]
    return max(covering, key=lambda each: each.sampled, default=None)


def _area(bed: Bed) -> Figure:
    if bed.length is not None and bed.width is not None:
        inputs = (
            Figure("length", bed.length.si, "m", "stated", note=bed.length.text),
            Figure("width", bed.width.si, "m", "stated", note=bed.width.text),
        )
        return Figure(
            "area", bed.area_m2, "m2", "computed", formula="length x width", inputs=inputs
        )
    corners = len(bed.outline or [])
    return Figure(
        "area",
        bed.area_m2,
        "m2",
        "computed",
        formula="area within the outline",
        note=f"{corners} corners",
    )


def _depth(report: SoilReport | None, library: Library) -> Figure:
    if report is not None:
        return Figure("depth", report.depth.si, "m", "stated", note=report.depth.text)
    return library.parameter("mixing_depth", "m").named("depth")


def _texture(
    bed: Bed, report: SoilReport | None, library: Library, found: list[Finding]
) -> tuple[str, str]:
    stated = bed.texture or (report.texture if report is not None else None)
    if bed.fill == "compost mix" and stated is None:
        return "compost_filled", "organic"
    rows = library.rows("textures")
    if stated is not None:
        key = texture_key(stated)
        for row in rows:
            if row["texture"] == key:
                return key, row["group"]
        found.append(
            finding("texture_not_known", "assumed", texture=stated, taken=_FIRST_GUESS_TEXTURE)
        )
    else:
        found.append(finding("texture_not_stated", "assumed", taken=_FIRST_GUESS_TEXTURE))
    return _FIRST_GUESS_TEXTURE, next(
        row["group"] for row in rows if row["texture"] == _FIRST_GUESS_TEXTURE
    )


def texture_fact(library: Library, texture: str, property_: str, unit: str) -> Figure:
    """A property of a texture. Raises LookupError where the table has none."""
    for row in library.rows("textures"):
        if row["texture"] == texture and row["property"] == property_ and row.used:
            from bedwright.reference.library import figure_of

            return figure_of(property_, row, unit)
    raise LookupError(f"textures.csv has no {property_} of {texture}")


def _bulk_density(
    bed: Bed, report: SoilReport | None, texture: str, library: Library, found: list[Finding]
) -> Figure:
    for stated, where in (
        (report.bulk_density if report is not None else None, "soil report"),
        (bed.bulk_density, "bed"),
    ):
        if stated is not None:
            return Figure(
                "bulk_density", stated.si, "kg/m3", "stated", note=f"{stated.text}, {where}"
            )
    taken = "compost_filled" if bed.fill == "compost mix" else texture
    figure = texture_fact(library, taken, "bulk_density", "kg/m3")
    found.append(
        finding(
            "bulk_density_assumed",
            "assumed",
            texture=taken.replace("_", " "),
            density=figure,
            sources=figure.sources,
        )
    )
    return figure


def _saturation_water(
    measured: dict[tuple[str, str], Measurement], texture: str, library: Library
) -> Figure:
    for (analyte, _), measurement in measured.items():
        if analyte == "saturation_percent":
            return measurement.figure
    try:
        return texture_fact(library, texture, "saturation_percent", "%")
    except LookupError:
        # A compost mix holds more than any mineral soil; the loam's figure is the careful one.
        return texture_fact(library, _FIRST_GUESS_TEXTURE, "saturation_percent", "%")


def _measurement(read: ReadResult, depth: Figure, report: SoilReport) -> Measurement:
    """A result of the report in mg/kg, meq/100 g, meq/l, mg/l, dS/m, % or pH."""
    note = f"{read.text}, soil report {report.id}"
    figure = Figure(read.analyte, read.value, read.unit, "measured", note=note)
    if read.kind == "mass_per_area":
        shallow, deep = _PLOW_LAYER_M
        if shallow <= depth.value <= deep:
            figure = work(concentration_from_pp2m, read.analyte, mass=figure)
        else:
            figure = work(concentration_from_area_mass, read.analyte, mass=figure, depth=depth)
    analyte = read.analyte
    if analyte in _AS_ELEMENT:
        analyte, form = _AS_ELEMENT[analyte]
        figure = Figure(
            analyte,
            figure.value * form_factor(read.form, form),
            figure.unit,
            "computed",
            formula=f"{read.form} as {form}",
            inputs=(figure,),
            sources=(Source("iupac_2021", "", ""),),
        )
    return Measurement(analyte, read.extractant, figure.named(analyte))


def _ground(measured: dict[tuple[str, str], Measurement], filled: bool) -> Ground:
    def value(analyte: str) -> float | None:
        for (name, _), measurement in measured.items():
            if name == analyte:
                return measurement.figure.value
        return None

    gypsum = (value("gypsum") or 0.0) > 0
    return Ground(value("ph"), value("carbonate"), gypsum, filled)
