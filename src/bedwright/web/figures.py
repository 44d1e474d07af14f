"""The numbers of a bed, and of the garden, by the keys under which pages open their working."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from bedwright.language import named
from bedwright.planning.findings import Finding
from bedwright.planning.prescription import Line
from bedwright.reports.dates_text import planting
from bedwright.reports.given import given, released
from bedwright.season import BedPlan, SeasonPlan
from bedwright.working import Figure

_What = tuple[str, float, str, float | None, float | None, str]


@dataclass
class Doors:
    """Figures by key, and the key of a figure that stands in a sentence.

    ``bed`` is the id of the bed whose numbers they are, empty for the garden's own.
    """

    bed: str
    by_key: dict[str, Figure]
    _keys: dict[_What, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for key, each in self.by_key.items():
            self._keys.setdefault(_what(each), key)

    def key_of(self, figure: Figure) -> str | None:
        """The key under which a figure's working opens, None where it has none."""
        return self._keys.get(_what(figure))


def bed_figures(bed: BedPlan) -> dict[str, Figure]:
    """Every figure that a bed's page shows, by a key that is stable while the plan stands.

    Those of a bed's further plantings in the year have keys of their own.
    """
    before = key_start(bed)
    return {f"{before}{key}": each for key, each in _of_bed(bed) if each is not None}


def key_start(bed: BedPlan) -> str:
    """What the keys of a planting's figures begin with; nothing for its bed's first one."""
    nth = bed.prescription.nth
    return "" if nth == 0 else f"planting-{nth + 1}-"


def bed_doors(bed: BedPlan) -> Doors:
    """The doors of a bed's page."""
    return Doors(bed.prescription.bed.id, bed_figures(bed))


def garden_figures(plan: SeasonPlan) -> dict[str, Figure]:
    """The figures of the garden as a whole: what all beds take, and what is to buy."""
    found: dict[str, Figure] = {}
    for total in plan.totals:
        parts = tuple(
            replace(mass, name=f"bed {bed.prescription.bed.id}, {mass.name}")
            for bed in plan.plantings
            for line in bed.prescription.lines
            if line.material.key == total.key
            for mass in (line.preplant, line.later)
            if mass.value > 0
        )
        needed = Figure("needed_by_all_beds", total.needed_kg, "kg", "computed",
                        formula="sum", inputs=parts)  # fmt: skip
        found[f"needed-{total.key}"] = needed
        on_hand = total.on_hand_kg
        have = () if on_hand is None else (
            Figure("on_hand", on_hand, "kg", "stated", note="the stock list"),)  # fmt: skip
        for at, bought in enumerate(total.bought):
            found[f"buy-{total.key}-{at}"] = Figure(
                "to_buy", bought.count * bought.package_kg, "kg", "computed",
                formula="what the beds take beyond the stock, in whole packages of the size that "
                "makes the whole garden's purchase cheapest",
                inputs=(needed, *have,
                        Figure("package", bought.package_kg, "kg", "stated", note="the shed"),
                        Figure("packages", bought.count, "-", "computed", formula="blend")),
            )  # fmt: skip
    found["money"] = Figure(
        "to_pay", plan.shared.money, plan.document.garden.garden.currency, "computed",
        formula="sum over the packages to buy of number x price",
        inputs=tuple(
            Figure(f"{named(total.name).lower()}, {bought.count:g} x {bought.price:g}",
                   bought.count * bought.price, plan.document.garden.garden.currency, "computed")
            for total in plan.totals if total.price_stated for bought in total.bought
        ),
    )  # fmt: skip
    return found


def each_dressing(line: Line, count: int) -> Figure:
    """What one of ``count`` side-dressings takes of a line's material."""
    return Figure("each_side_dressing", line.later.value / count, "kg", "computed",
                  formula="later / number of side-dressings",
                  inputs=(line.later, Figure("number_of_side_dressings", count, "-", "computed")),
                  )  # fmt: skip


def volume(line: Line, mass: Figure) -> Figure | None:
    """The room that a mass of a line's material takes, None where its density is not known."""
    density = line.supply.bulk_density
    if density is None or mass.value <= 0:
        return None
    return Figure("volume", mass.value / density.value, "m3", "computed",
                  formula="mass / bulk density", inputs=(mass, density))  # fmt: skip


def _what(figure: Figure) -> _What:
    return (figure.name, figure.value, figure.unit, figure.low, figure.high, figure.note)


def _of_bed(bed: BedPlan) -> Iterator[tuple[str, Figure | None]]:
    plan = bed.prescription
    n, count = plan.nitrogen, max(plan.nitrogen.side_dressings, 1)
    yield "area", plan.evidence.area
    yield from (
        ("nitrogen", n.to_supply), ("nitrogen-ceiling", n.ceiling), ("nitrogen-need", n.crop_need),
        ("nitrogen-preplant", n.preplant_share), ("nitrogen-released", released(plan)),
        ("lime", plan.reaction.lime), ("sulfur", plan.reaction.sulfur),
        ("salt", plan.salt.ec_e), ("salt-yield", plan.salt.yield_left),
        ("salt-ceiling", plan.salt.ceiling), ("gypsum", plan.salt.gypsum),
        ("depth", plan.evidence.depth), ("mixing-depth", plan.evidence.mixing_depth),
        ("bulk-density", plan.evidence.bulk_density), ("yield-goal", plan.crop.goal),
    )  # fmt: skip
    for credit in n.credits:
        yield f"credit-{credit.name}", credit
    for need in plan.needs:
        yield f"need-{need.nutrient}", need.amount
        yield f"ceiling-{need.nutrient}", need.ceiling
    for demand in plan.demands:
        yield f"given-{demand.key}", given(plan, demand.key)
    for line in plan.lines:
        key = line.material.key
        yield f"before-{key}", line.preplant
        yield f"later-{key}", line.later
        yield f"each-{key}", each_dressing(line, count)
        yield f"before-volume-{key}", volume(line, line.preplant)
        yield f"each-volume-{key}", volume(line, each_dressing(line, count))
    for (analyte, method), measured in plan.evidence.measured.items():
        yield f"test-{analyte}-{method or 'method-not-named'}", measured.figure
    yield from _beside(bed)


def said_figures(findings: Iterable[Finding], start: str = "said") -> Iterator[tuple[str, Figure]]:
    """The figures that findings name, by keys that begin with ``start``."""
    seen: dict[str, int] = {}
    for found in findings:
        at = seen[found.code] = seen.get(found.code, 0) + 1
        for name, each in found.values.items():
            if isinstance(each, Figure):
                yield f"{start}-{found.code}-{at}-{name}", each


def _beside(bed: BedPlan) -> Iterator[tuple[str, Figure | None]]:
    for habit in bed.habits:
        yield f"habit-{habit.code}", habit.rule
        yield f"habit-{habit.code}-here", habit.ours
    for label in bed.labels:
        yield f"label-{label.material.key}-{label.per}", label.amount
    yield from said_figures(bed.findings)
    for source in bed.nitrogen.sources:
        yield f"source-{source.origin}", source.total
    yield "weeks", _weeks(bed)
    yield from _odds(bed)


def _weeks(bed: BedPlan) -> Figure | None:
    """What the weekly course of the nitrogen rests on."""
    course = bed.nitrogen
    if course.season is None:
        return None
    sources = tuple(replace(each.total, name=each.origin) for each in course.sources)
    freed = sum(float(weekly.sum()) for _, weekly in course.by_source)
    return Figure("nitrogen_freed_in_these_weeks", freed, "kg/m2", "computed",
                  formula="each week: what each source frees at the week's soil temperature and "
                  "moisture, less what drains off and what the crop takes",
                  note="typical supply", inputs=sources)  # fmt: skip


def _odds(bed: BedPlan) -> Iterator[tuple[str, Figure | None]]:
    """The odds of the planting that the bed is planned for."""
    judged = planting(bed.dates) if bed.dates is not None else None
    if judged is None:
        return
    on = judged.chosen
    years = Figure("years", on.years, "-", "table", note="of the weather that was used")
    day = f"planted on {on.on.isoformat()}"

    def share(name: str, value: float | None, how: str, low: float | None = None,
              high: float | None = None) -> Figure | None:  # fmt: skip
        if value is None:
            return None
        return Figure(name, value * 10, "years of 10", "computed",
                      low=None if low is None else low * 10,
                      high=None if high is None else high * 10,
                      note=day, formula=how, inputs=(years,))  # fmt: skip

    yield "odds-frost", share(
        "years_in_which_frost_kills", on.killed,
        "10 x years in which the nights after planting fall to what kills the crop / years; the "
        "range from hardy to tender plants", *on.killed_range,
    )  # fmt: skip
    yield (
        "odds-lost",
        share("years_without_harvest", on.lost, "10 x years without a harvest / years"),
    )
    yield "odds-soil", share(
        "years_in_which_the_soil_is_warm_enough", on.soil_warm,
        "10 x years in which the soil at planting is warm enough / years",
    )  # fmt: skip
    yield "odds-bolted", None if on.bolted is None else Figure(
        "plants_that_run_to_seed", on.bolted * 10, "of 10", "computed", note=day,
        formula="mean over the years", inputs=(years,))  # fmt: skip
    for key, spread in (("first_harvest", on.first_harvest),
                        ("days_of_good_fruit_set", on.set_days),
                        ("days_of_picking", on.harvest_days)):  # fmt: skip
        if spread is not None:
            yield f"odds-{key.replace('_', '-')}", Figure(
                "days_to_the_first_harvest" if key == "first_harvest" else key, spread.mean, "day",
                "computed", low=spread.low, high=spread.high, note=day,
                formula="mean over the years; the range leaves one year in ten below and above",
                inputs=(years,),
            )  # fmt: skip
