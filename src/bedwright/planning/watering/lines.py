"""What each bed's lines bring: their length, flow and uniformity, and what is known of it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bedwright.garden import Bed, Document
from bedwright.garden.model_water import WaterZone
from bedwright.planning.findings import Finding, finding
from bedwright.planning.layout.drip import drip_of
from bedwright.planning.layout.frame import bed_frame
from bedwright.planning.layout.rows import row_count, spread
from bedwright.reference import Library
from bedwright.water.irrigation import (
    CatchCups,
    catch_cup_flow,
    drip_flow,
    emitter_flow,
    gross_depth,
    run_minutes,
)
from bedwright.water.season_runs import known_emitter
from bedwright.working import Figure, work

_L_H = 3.6e6  # liters an hour in a cubic meter a second
_ML = 1e6


@dataclass(frozen=True)
class BedLines:
    """The lines of a bed: ``count`` of them, ``length_m`` together, ``flow`` [l/h].

    ``uniformity`` [-]; ``measured`` tells that cups or a meter told the flow.
    """

    bed: str
    zone: str
    area: Figure
    count: int
    length_m: float
    flow: Figure
    uniformity: Figure
    measured: bool


@dataclass(frozen=True)
class ZoneLines:
    """A zone with the lines of its beds; none where its flow can't be told, see ``findings``."""

    zone: str
    beds: tuple[BedLines, ...]
    findings: tuple[Finding, ...]

    @property
    def flow_l_h(self) -> float:
        """What all lines together draw [l/h]."""
        return math.fsum(each.flow.value for each in self.beds)


def zone_lines(
    document: Document, library: Library, rows_apart: dict[str, float]
) -> dict[str, ZoneLines]:
    """The lines of every zone that beds name, by the zone's id.

    Parameters
    ----------
    document, library : the garden and the tables
    rows_apart : distance between rows [m] on beds whose crop is known, by bed
    """
    stated = {each.id: each for each in document.garden.water_zone}
    zones: dict[str, list[Bed]] = {}
    for bed in document.garden.bed:
        if bed.water_zone is not None:
            zones.setdefault(bed.water_zone, []).append(bed)
    return {
        name: _zone(name, stated.get(name), beds, library, rows_apart)
        for name, beds in zones.items()
    }


def lines_of(zone: ZoneLines | None, bed: str) -> BedLines | None:
    """The lines of a bed in its zone; None where they are not known."""
    return next((each for each in zone.beds if each.bed == bed), None) if zone else None


def bed_minutes(net_m: float, lines: BedLines, leaching_share: float) -> Figure:
    """Minutes of a bed's lines for a net depth, with their working.

    Parameters
    ----------
    net_m : that the roots are to get [m]
    lines : of the bed
    leaching_share : of the water applied that is to drain [-]
    """
    gross = work(
        gross_depth,
        "gross_m",
        net_m=Figure("net_m", net_m, "m", "computed"),
        uniformity=Figure("uniformity", lines.uniformity.value, "-", lines.uniformity.origin,
                          sources=lines.uniformity.sources, note=lines.uniformity.note),
        leaching_share=Figure("leaching_share", leaching_share, "-", "computed"),
    )  # fmt: skip
    return work(run_minutes, "minutes", gross_m=gross, area_m2=lines.area,
                flow_l_h=lines.flow.named("flow_l_h"))  # fmt: skip


def _zone(
    name: str, zone: WaterZone | None, beds: list[Bed], library: Library, apart: dict[str, float]
) -> ZoneLines:
    if zone is None:
        return ZoneLines(name, (), (finding("zone_not_described", "doubt", zone=name),))
    said: list[Finding] = []
    if zone.drinking_supply:
        said.append(finding("backflow_needed", "caution", zone=name))
    elif zone.drinking_supply is None:
        said.append(finding("drinking_supply_not_stated", "caution", zone=name))
    uniformity = _uniformity(zone, library, said)
    measured = zone.flow is not None or zone.catch_cups is not None
    runs = [_length(bed, zone, library, apart.get(bed.id)) for bed in beds]
    if zone.flow is not None:
        whole = Figure("zone_flow", zone.flow.si * _L_H, "l/h", "measured", note=zone.flow.text)
        total = math.fsum(length for _, length in runs)
        flows = [
            Figure("flow", whole.value * length / total, "l/h", "computed",
                   formula="flow of the zone x length of the bed's lines / all lines",
                   inputs=(whole,))
            for _, length in runs
        ]  # fmt: skip
    else:
        emitter = _emitter(zone, uniformity.value, said)
        if emitter is None:
            return ZoneLines(name, (), (*said, finding("zone_no_flow", "doubt", zone=name)))
        assert zone.emitter_spacing is not None
        spacing = Figure("spacing_m", zone.emitter_spacing.si, "m", "stated",
                         note=zone.emitter_spacing.text)  # fmt: skip
        flows = [
            work(
                drip_flow, "flow", emitter_l_h=emitter, spacing_m=spacing,
                length_m=Figure("length_m", length / count, "m", "computed"),
                lines=Figure("lines", float(count), "-", "stated"),
            )
            for count, length in runs
        ]  # fmt: skip
        if any(zone.emitter_spacing.si > length / count for count, length in runs):
            said.append(finding("emitters_wider_than_bed", "doubt", zone=name))
    made = tuple(
        BedLines(bed.id, name, _area(bed), count, length, flow, uniformity, measured)
        for bed, (count, length), flow in zip(beds, runs, flows, strict=True)
    )
    return ZoneLines(name, made, tuple(said))


def _area(bed: Bed) -> Figure:
    return Figure("area_m2", bed.area_m2, "m2", "stated", note=f"top of bed {bed.id}")


def _uniformity(zone: WaterZone, library: Library, said: list[Finding]) -> Figure:
    if zone.catch_cups is not None:
        value = _cups(zone).uniformity
        return Figure("uniformity", value, "-", "measured", note="catch cups")
    if zone.uniformity is not None:
        return Figure("uniformity", zone.uniformity.si, "-", "stated", note=zone.uniformity.text)
    usual = library.parameter("drip_uniformity", "fraction").named("uniformity")
    said.append(finding("uniformity_assumed", "assumed", zone=zone.id, share=usual.named("share"),
                        sources=usual.sources))  # fmt: skip
    return usual


def _cups(zone: WaterZone) -> CatchCups:
    assert zone.catch_cups is not None
    caught = tuple(each.si * _ML for each in zone.catch_cups.caught)
    found: CatchCups = catch_cup_flow(caught, zone.catch_cups.time.si / 60)
    return found


def _emitter(zone: WaterZone, uniformity: float, said: list[Finding]) -> Figure | None:
    """Flow of one emitter [l/h]: by cups, else printed and brought to the line's pressure."""
    printed: Figure | None = None
    if zone.emitter_flow is not None:
        printed = Figure("printed_l_h", zone.emitter_flow.si * _L_H, "l/h", "stated",
                         note=zone.emitter_flow.text)  # fmt: skip
        if zone.pressure is not None and zone.rated_pressure is not None:
            printed = work(
                emitter_flow,
                "emitter_l_h",
                printed_l_h=printed,
                pressure_kpa=Figure("pressure", zone.pressure.si / 1000, "-", "stated",
                                    note=zone.pressure.text),
                printed_pressure_kpa=Figure("rated", zone.rated_pressure.si / 1000, "-", "stated",
                                            note=zone.rated_pressure.text),
                exponent=Figure("exponent", 0.5, "-", "assumed", note="plain emitters"),
            )  # fmt: skip
    if zone.catch_cups is None and printed is None:
        return None
    cups = None if zone.catch_cups is None else _cups(zone)
    known = known_emitter(None if printed is None else printed.value, uniformity, cups)
    if not known.measured:
        assert printed is not None
        return printed.named("emitter_l_h")
    if printed is not None:
        said.append(finding("cups_outrank_print", "note", zone=zone.id,
                            cups=known.flow_l_h / _L_H, printed=printed.value / _L_H))  # fmt: skip
    return Figure("emitter_l_h", known.flow_l_h, "l/h", "measured", note="catch cups")


def _length(
    bed: Bed, zone: WaterZone, library: Library, rows_apart: float | None
) -> tuple[int, float]:
    """How many lines lie on a bed, and their length together [m]."""
    frame = bed_frame(bed)
    rows = None
    if rows_apart is not None:
        count = row_count(frame.width_m, rows_apart)
        rows = spread(0.0, frame.width_m, count, rows_apart)
    drip = drip_of(frame, zone, rows, rows_apart, library)
    return drip.lines, drip.length_m
