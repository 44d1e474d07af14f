"""The work before a bed is planted: clear, look at the soil, loosen, spread, work in, rest."""

from __future__ import annotations

from bedwright.planning.findings import Finding, finding
from bedwright.planning.prescription import Line
from bedwright.planning.work.cautions import dust_cautions, lead_cautions, spread_cautions
from bedwright.planning.work.clearing import cleared
from bedwright.planning.work.making import Maker
from bedwright.planning.work.model import Bring
from bedwright.working import Figure, Source

_DEEP = "fork"  # worked in to the depth of the bed


def prepare(maker: Maker) -> None:
    """Add the tasks before planting, each after the one that must go before it."""
    days, rates = maker.days, maker.rates
    clear = cleared(maker)
    maker.add(
        "clear", clear.by, clear.hours, late=clear.by, methods=clear.methods, bring=clear.bring,
        cautions=clear.cautions, early=clear.early,
    )  # fmt: skip
    maker.rots = clear.rots
    _loosen(maker)
    for number, (by, lines) in enumerate(days.turns, 1):
        before = maker.last_of("work_in", "loosen", "fork_test", "clear")
        hours, bring = spread_parts(maker, lines, share=1.0, later=False)
        maker.add(
            "spread", by, hours, late=by, number=number, after=before, bring=bring,
            methods=("bulk",) if any(_bulky(each) for each in lines) else (),
            cautions=spread_cautions(maker, lines, later=False),
        )  # fmt: skip
        way = _DEEP if any(worked_in(each) for each in lines) else "rake"
        maker.add(
            "work_in", by, [rates.time("work_in", "m2", maker.area_m2, way)], late=by,
            number=number, methods=(way,), after=maker.last_of("spread"),
            cautions=(*dust_cautions(maker), *lead_cautions(maker)),
        )  # fmt: skip
    if days.turns and days.rest > 0:
        maker.add("rest", days.turns[-1][0], [], late=days.start, after=maker.last_of("work_in"))


def worked_in(line: Line) -> bool:
    """Whether a material goes into the depth of the bed, not only under the rake."""
    return line.material.form == "bulk" or line.material.kind == "liming"


def _bulky(line: Line) -> bool:
    return line.material.form == "bulk"


def _loosen(maker: Maker) -> None:
    """Loosen or not: what a fork found decides; where none was pushed in, first that."""
    days, rates = maker.days, maker.rates
    bed = maker.grown.prescription.bed
    if bed.kind == "raised" and bed.fill == "compost mix":
        maker.said.append(finding("work_not_loosened_mix", "note", bed=bed.id))
        return
    if maker.fork_found == "loose":
        maker.said.append(finding("work_not_loosened", "note", bed=bed.id))
        return
    by = max(days.turns[0][0] if days.turns else days.drip, days.clear)
    after = maker.last_of("clear")
    way = "broadfork" if "broadfork" in maker.stated.tools else "fork"
    hours = rates.time("loosen", "m2", maker.area_m2, way)
    notes: tuple[Finding, ...] = ()
    if maker.fork_found is None:
        maker.add(
            "fork_test", days.clear, [rates.time("fork_test", "test", 1)], late=by, after=after,
            cautions=(finding("work_fork_test", "note", sources=_fork_sources(maker)),),
        )  # fmt: skip
        after = maker.last_of("fork_test")
        hours = hours.ranged(0.0, hours.most)
        notes = (finding("work_loosen_if", "note"),)
    elif maker.fork_found == "pan" and way != "broadfork":
        notes = (finding("work_pan_wants_broadfork", "note"),)
    maker.add(
        "loosen", by, [hours], late=by, methods=(way,), after=after,
        cautions=(*notes, *dust_cautions(maker), *lead_cautions(maker)),
    )  # fmt: skip


def _fork_sources(maker: Maker) -> tuple[Source, ...]:
    return tuple(
        row.source
        for row in maker.library.rows("work_rules")
        if row["task"] == "fork_test" and row["rule"] in ("spots", "roots_stop")
    )


def spread_parts(
    maker: Maker, lines: tuple[Line, ...], *, share: float, later: bool
) -> tuple[list[Figure], tuple[Bring, ...]]:
    """The hours of spreading lines, and the materials to bring, as the prescription has them.

    ``share`` of the ``later`` masses, or the masses before planting.
    """
    rates = maker.rates
    hours: list[Figure] = []
    bring: list[Bring] = []
    powders = 0
    for line in lines:
        mass = line.later if later else line.preplant
        if share != 1.0:
            mass = Figure(
                "mass", mass.value * share, "kg", "computed",
                formula="later mass / side-dressings", inputs=(mass,),
            )  # fmt: skip
        bring.append(Bring("material", line.material.key, mass))
        density = line.supply.bulk_density
        if _bulky(line) and density is not None and not later:
            hours.append(rates.time("spread", "m3", mass.value / density.value, "bulk"))
        else:
            powders += 1
    if powders:
        hours.append(rates.time("weigh", "material", powders))
        if later:
            length = maker.area_m2 if maker.grown.layout is None else _rows_m(maker)
            hours.append(rates.time("side_dress", "m", length))
        else:
            hours.append(rates.time("spread", "m2", maker.area_m2, "powder"))
    return hours, tuple(bring)


def _rows_m(maker: Maker) -> float:
    layout = maker.grown.layout
    assert layout is not None
    return sum(each.row_length_m for each in layout.counts)
