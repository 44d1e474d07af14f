"""Making tasks of one planting: ids, rules, tools, what goes before."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

from bedwright.garden.model import Place
from bedwright.garden.model_water import Mulch
from bedwright.garden.model_work import Work as Stated
from bedwright.planning.findings import Finding
from bedwright.planning.harvest.model import PlantingHarvest
from bedwright.planning.turnover.model import Turnover
from bedwright.planning.work.bed_days import BedDays, Grown
from bedwright.planning.work.model import Bring, Task
from bedwright.planning.work.rates import Rates, total
from bedwright.reference import Library
from bedwright.working import Figure

WEEK = timedelta(days=7)
_NOTHING = Figure("hours", 0.0, "h", "computed", note="waiting")


def never_cold(_: date) -> bool:
    """For a garden whose weather is not known."""
    return False


def nothing_ripe(_at: int, _by: date) -> Figure | None:
    """For beds of which no crop is told to bear."""
    return None


@dataclass(eq=False)
class Maker:
    """One planting's tasks as they are made, in the order of the season.

    ``stands`` is what must come out of the bed for it, and ``ripe`` what is picked of one of them,
    by its place, as it is cleared by a day [kg]. ``harvest`` and ``companion_harvest`` are
    what it and the crop that shares its bed are expected to give, None where not worked.
    ``raised`` is the share of its plants, and of its companion's, that is raised from seed; the
    others are bought or on hand.
    """

    grown: Grown
    days: BedDays
    rates: Rates
    stated: Stated
    library: Library
    place: Place
    fork_found: str | None = None
    packages: dict[str, float] = field(default_factory=dict)
    shade_from: date | None = None
    mulch: Mulch | None = None
    stands: tuple[Turnover, ...] = ()
    ripe: Callable[[int, date], Figure | None] = nothing_ripe
    harvest: PlantingHarvest | None = None
    companion_harvest: PlantingHarvest | None = None
    raised: Mapping[str, float] = field(default_factory=dict)
    as_of: date = date.min
    cold: Callable[[date], bool] = never_cold
    rots: int = 0  # days from clearing to planting, for what rots on the bed
    tasks: list[Task] = field(default_factory=list)
    said: list[Finding] = field(default_factory=list)

    @property
    def area_m2(self) -> float:
        """The bed's area."""
        return self.grown.prescription.evidence.area.value

    def method_of(self, kind: str, crop: str | None = None) -> str | None:
        """By which row of labor a crop is picked, washed or packed: its own, that of its part,
        the general one; None where it has no such work."""
        key = crop or self.grown.prescription.crop.key
        return labor_method(self.library, self.rates, kind, key)

    def id_of(self, kind: str, number: int = 1, crop: str | None = None) -> str:
        """The id of a task of this planting, or of the crop that shares its bed."""
        grown = self.grown
        named = grown.crop if crop is None else grown.beside(crop)
        return f"{grown.bed}/{named}/{kind}/{number}"

    def last_of(self, *kinds: str) -> tuple[tuple[str, int], ...]:
        """The latest task made of one of these kinds, as what goes before at once."""
        for each in reversed(self.tasks):
            if each.kind in kinds:
                return ((each.id, 0),)
        return ()

    def add(
        self,
        kind: str,
        on: date,
        hours: list[Figure],
        *,
        late: date | None = None,
        number: int = 1,
        methods: tuple[str, ...] = (),
        after: tuple[tuple[str, int], ...] = (),
        bring: tuple[Bring, ...] = (),
        cautions: tuple[Finding, ...] = (),
        people: int = 1,
        repeated: bool = False,
        trays: int = 0,
        frees_bench: str | None = None,
        early: int | None = None,
        crop: str | None = None,
    ) -> Task:
        """Add a task about a day: early and late by the rules, ``late`` by its own last day,
        ``early`` by its own days. ``crop`` is the one that shares the bed, where it is of that."""
        if early is None:
            early = round(self.rates.rule(kind, "may_be_early", 0.0))
        latest = late or on + timedelta(days=round(self.rates.rule(kind, "may_be_late", 0.0)))
        weight = self.rates.rule(kind, "weight")
        share = self.rates.rule("any", "late_cost") / (100 if early else 1)
        tools = tuple(Bring("tool", each) for each in self.rates.tools(kind, *methods))
        made = Task(
            id=self.id_of(kind, number, crop),
            kind=kind,
            bed=self.grown.bed,
            crop=crop or self.grown.prescription.crop.key,
            earliest=on - timedelta(days=early),
            latest=max(latest, on),
            hours=total(hours).named("hours") if hours else _NOTHING,
            people=people,
            after=after,
            bring=(*bring, *tools),
            cautions=cautions,
            priority=weight,
            late=share,
            workload=self.rates.workload(kind),
            trays=trays,
            frees_bench=frees_bench,
            repeated=repeated,
        )
        self.tasks.append(made)
        return made


def labor_method(library: Library, rates: Rates, kind: str, crop: str) -> str | None:
    """By which row of labor a crop is picked, washed or packed, as :meth:`Maker.method_of`."""
    part = next((row["word"] for row in library.habits(crop) if row["property"] == "part"), "")
    return next((each for each in (crop, part, "") if rates.known(kind, each, "kg")), None)


def monday(day: date) -> date:
    """The Monday of a day's week."""
    return day - timedelta(days=day.weekday())
