"""Posts, panels, stakes, twine, drip line and cloth that beds need, used again within a bed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from bedwright.planning.findings import finding
from bedwright.planning.layout.trellis import TrellisParts
from bedwright.planning.purchases.model import Item, Kind
from bedwright.planning.purchases.needs import Gathered
from bedwright.planning.summer.model import Summer
from bedwright.planning.work.bed_days import BedDays, Grown

_UNITS: dict[Kind, str] = {
    "post": "-", "stake": "-", "panel": "-", "twine": "m", "drip_line": "m", "shade_cloth": "m2",
}  # fmt: skip


def part(kind: Kind, shade: float | None = None) -> Item:
    """A part that is of no crop."""
    return Item(kind, "", kind, _UNITS[kind], shade)


def need_parts(
    found: Gathered, plantings: Sequence[tuple[Grown, BedDays | None]], summer: Summer | None
) -> None:
    """What the beds' plantings need of parts.

    A bed's second crop uses again what its first one had; beds don't lend to each other. Twine is
    new each time. A bed whose water zone is described has its drip line, and one on which a
    trellis stays has its posts and mesh.

    Parameters
    ----------
    plantings : with the days of their work, None where not known
    summer : what is said of shade cloth, None without weather
    """
    zones = {each.id for each in found.document.garden.water_zone}
    beds = {each.id: each for each in found.document.garden.bed}
    held: dict[tuple[str, Item], float] = {}
    watered: dict[str, None] = {}
    standing: dict[str, None] = {}

    def need(item: Item, on: date, amount: float, grown: Grown) -> None:
        """Only what the bed does not have from the crop before."""
        key = (grown.bed, item)
        found.add(item, on, amount - held.get(key, 0.0), grown)
        held[key] = max(held.get(key, 0.0), amount)

    for grown, days in sorted(plantings, key=lambda pair: _start(*pair)):
        on = _start(grown, days)
        layout, bed = grown.layout, beds[grown.bed]
        if layout is not None:
            if bed.water_zone in zones:
                watered[bed.id] = None
            else:
                laid = on if days is None else days.drip
                need(part("drip_line"), laid, layout.drip.length_m, grown)
            if bed.trellis and layout.trellises:
                standing[bed.id] = None
            for kind, amount in _needed(layout.trellises):
                if not bed.trellis:
                    need(part(kind), on, amount, grown)
            for each in layout.trellises:
                found.add(part("twine"), on, each.line.value, grown)
        cloth = None if summer is None else summer.of(grown.bed, grown.prescription.crop.key)
        if cloth is not None and cloth.cloth.verdict == "hang" and not cloth.hung:
            heat = cloth.cloth.heat
            hung = max(on, heat[0]) if heat is not None else on
            area = grown.prescription.evidence.area.value
            need(part("shade_cloth", cloth.cloth.percent), hung, area, grown)
    if watered:
        found.said.append(finding("purchases_drip_lies", "assumed", beds=", ".join(watered)))
    if standing:
        found.said.append(finding("purchases_trellis_stays", "note", beds=", ".join(standing)))


def _start(grown: Grown, days: BedDays | None) -> date:
    return grown.prescription.season if days is None else days.start


def _needed(trellises: Sequence[TrellisParts]) -> list[tuple[Kind, float]]:
    """Posts, stakes and panels of all trellised rows of one planting."""
    posts = sum(each.posts for each in trellises if each.kind == "panel")
    stakes = sum(each.posts for each in trellises if each.kind != "panel")
    panels = sum(each.panels for each in trellises)
    found: list[tuple[Kind, float]] = [
        ("post", float(posts)), ("stake", float(stakes)), ("panel", float(panels)),
    ]  # fmt: skip
    return [(kind, amount) for kind, amount in found if amount > 0]
