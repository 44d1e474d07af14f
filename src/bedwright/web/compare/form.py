"""A comparison as a form: what it shows, and what the document then states."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Any, ClassVar

from django.utils.translation import gettext as _

from bedwright.garden.model_compare import Comparison
from bedwright.units import UnitSystem
from bedwright.web.forms_of_parts import Paper, number_and_unit, unit_of
from bedwright.web.part_forms import Group, Item, PartForm, maker
from bedwright.web.standing import Standing

_MOST_WAYS, _MOST_BLOCKS = 8, 40
_LONGEST_NAME, _LONGEST_WORDS = 40, 500  # letters that the document holds
# What the form knows, and what it leaves as it stands; an item with anything else is not its own.
_LEFT_ALONE = frozenset({"together", "confidence", "note"})
_JOURNAL = ("from_day", "to_day")


class ComparisonForm(PartForm):
    """A comparison in blocks whose order is drawn. One of another kind is the document's own."""

    table, back, address = "comparison", "compare", "compare-start"
    names = (
        "id", "question", "crop", "ways", "blocks", "seed", "measured", "unit", "edge", "spread",
        "journal",
    )  # fmt: skip
    typed_in: ClassVar[Mapping[str, tuple[str, ...]]] = {
        "blocks": ("lie", "beds", "blocks_in_bed", "written", "ways"),
        "seed": (),  # drawn once: never typed, so it stays
        "unit": ("unit", "counted"),
        "journal": _JOURNAL,
    }
    said_at: ClassVar[Mapping[str, str]] = {"blocks": "beds", "journal": "from_day"}

    def titles(self) -> tuple[str, str]:
        """The words over the form and on the button that takes away."""
        return _("Start a comparison"), _("Take this comparison away")

    def begun(self, standing: Standing, asked: Mapping[str, str]) -> dict[str, str]:
        """The form of a new comparison: strips across beds, as most are laid out."""
        return {"lie": "strips", "unit": _units(standing.system)[0][0]}

    def stated(self, standing: Standing, at: int) -> dict[str, str]:
        """What the form shows for a comparison."""
        found: Comparison = standing.stated.garden.comparison[at]
        edge, edge_unit = number_and_unit(found.edge, "length", standing.system)
        spread, spread_unit = number_and_unit(found.spread, "fraction", standing.system)
        counted = found.kind == "count"
        span = found.journal
        return {
            "id": found.id,
            "question": found.question,
            "crop": found.crop,
            "ways": "\n".join(found.ways),
            **_shown_blocks(standing, found.ways, found.blocks),
            "measured": found.measured,
            "unit": "" if counted else found.unit,
            "counted": found.unit if counted else "",
            "edge": edge,
            "edge_unit": edge_unit,
            "spread": spread,
            "spread_unit": spread_unit,
            "from_day": span.from_day.isoformat() if span else "",
            "to_day": span.to_day.isoformat() if span else "",
        }

    def read(self, standing: Standing, paper: Paper, held: Item | None) -> dict[str, Any]:
        """The comparison as the document states it; its seed where it has one."""
        for name, said in (
            ("id", _("Give it a short name, such as compost on carrots.")),
            ("question", _("Say what you want to know.")),
            ("crop", _("Say which crop it is.")),
            ("measured", _("Say what is measured, such as carrots fit to sell.")),
        ):
            most = _LONGEST_WORDS if name in ("question", "measured") else _LONGEST_NAME
            if not paper.text(name):
                paper.fault(name, said)
            elif len(paper.text(name)) > most:
                paper.fault(name, _too_long(paper.text(name), most))
        ways = _ways(paper)
        blocks = _blocks(standing, paper, len(ways))
        return {
            "id": paper.text("id"),
            "question": " ".join(paper.text("question").split()),
            "crop": paper.text("crop"),
            "ways": ways,
            "blocks": blocks,
            "seed": (held or {}).get("seed"),
            "measured": paper.text("measured"),
            "unit": _unit(paper),
            "edge": paper.amount("edge", "length"),
            "spread": paper.amount("spread", "fraction"),
            "journal": _journal(paper, blocks),
        }

    def groups(self, standing: Standing, paper: Paper) -> list[Group]:
        """The fields of a comparison."""
        of, system = maker(paper), standing.system
        beds = [(each.id, each.id) for each in standing.stated.garden.bed]
        lies = [
            ("strips", _("strips across a bed: each block is a stretch of one bed")),
            ("beds", _("whole beds: each block is as many beds as there are ways, in the order of "
                       "the garden")),
            ("written", _("as I write the blocks myself")),
        ]  # fmt: skip
        units = _units(system)
        stands = paper.text("unit")
        if stands not in dict(units):
            units = [*units, (stands, stands)]
        return [
            Group(
                "",
                [
                    of("id", _("Short name"), required=True,
                       hint=_("Such as compost on carrots: it heads the page and the list.")),
                    of("question", _("What you want to know"), "area",
                       hint=_("One question, such as: does an inch of compost give more carrots "
                              "fit to sell?")),
                    of("crop", _("Crop"), required=True, listed="crops"),
                    of("ways", _("The ways, one to a line"), "area",
                       hint=_("Two to eight, such as compost and, below it, none. All else is done "
                              "alike on every plot.")),
                ],
            ),
            Group(
                _("Where the plots lie"),
                [
                    of("lie", _("A plot is one of"), "one", choices=lies),
                    of("beds", _("Beds"), "ticks", choices=beds,
                       hint=_("Not needed where you write the blocks yourself.")),
                    of("blocks_in_bed", _("Blocks in each of these beds"), "number",
                       hint=_("Of strips only: each block is cut into one strip for each way.")),
                    of("written", _("Blocks that you write yourself, one to a line"), "area",
                       hint=_("One bed, to be cut into strips; or a bed for each way with commas "
                              "between, such as W1, W2.")),
                ],
                _("A block holds every way once. Its plots should be alike in soil, light and "
                  "water; the blocks may differ. Two ways need six blocks at least."),
            ),
            Group(
                _("What is measured"),
                [
                    of("measured", _("On each plot"), required=True,
                       hint=_("Such as carrots fit to sell.")),
                    of("unit", _("Measured in"), "choice", choices=units),
                    of("counted", _("What is counted"),
                       hint=_("Of a count only: a word such as heads.")),
                    of("edge", _("Edge that is left out"), "number",
                       unit=paper.text("edge_unit") or unit_of("length", system),
                       hint=_("At each end of a strip, where roots, water and shade are shared: "
                              "only the middle is measured.")),
                ],
            ),
            Group(
                _("If you know more"),
                [
                    of("spread", _("How far one plot is off another of the same way"), "number",
                       unit=paper.text("spread_unit") or "%",
                       hint=_("As a share of the mean; left empty: the usual one.")),
                    of("from_day", _("Take the journal's pickings as results, from"), "date",
                       hint=_("For whole beds: then nothing is written down twice.")),
                    of("to_day", _("to"), "date"),
                ],
            ),
        ]  # fmt: skip

    def called(self, item: Item) -> str:
        """A comparison by its name."""
        return str(item["id"])

    def change(self, item: Item, *, new: bool) -> str:
        """What starting or changing a comparison is called among the revisions."""
        words = _("comparison {name} started") if new else _("comparison {name} changed")
        return words.format(name=item["id"])

    def removal(self, item: Item) -> str:
        """What taking a comparison away is called."""
        return _("comparison {name} taken away").format(name=item["id"])


def is_of_the_form(item: Item) -> bool:
    """Whether the form knows all that a comparison states, its order drawn from a seed."""
    known = set(ComparisonForm.names) | _LEFT_ALONE
    lists = ("ways", "blocks")
    return (
        item.get("seed") is not None
        and {key for key, each in item.items() if each not in ([], {})} <= known
        and all(isinstance(item.get(each), list) for each in lists)
    )


def _units(system: UnitSystem) -> list[tuple[str, str]]:
    """Units to choose from, those of the garden's system first; the last is a count's."""
    own = [
        [("lb", _("pounds (lb)")), ("oz", _("ounces (oz)")), ("in", _("inches (in)"))],
        [("kg", _("kilograms (kg)")), ("g", _("grams (g)")), ("cm", _("centimeters (cm)"))],
    ]
    first, second = own if system is UnitSystem.US else reversed(own)
    return [*first, *second, ("%", _("per cent (%)")), ("", _("a count: say of what below"))]


def _unit(paper: Paper) -> str:
    unit, counted = paper.text("unit"), paper.text("counted")
    if unit and counted:
        paper.fault("counted", _("Leave this empty, or choose the count in the field above."))
    elif not unit and not counted:
        paper.fault("counted", _("Say what is counted, such as heads."))
    return unit or counted


def _ways(paper: Paper) -> list[str]:
    ways = [each.strip() for each in paper.text("ways").splitlines() if each.strip()]
    if not 2 <= len(ways) <= _MOST_WAYS:
        paper.fault(
            "ways",
            _("Write two to {most} ways, each on a line of its own; here are {count}.").format(
                most=_MOST_WAYS, count=len(ways)
            ),
        )
    elif len({each.casefold() for each in ways}) < len(ways):
        paper.fault("ways", _("Two of the ways have the same name: give each its own."))
    for way in ways:
        if len(way) > _LONGEST_NAME:
            paper.fault("ways", _too_long(way, _LONGEST_NAME))
    return ways


def _too_long(text: str, most: int) -> str:
    return _("“{text}” has {count} letters: {most} are the most.").format(
        text=f"{text[:30]}…", count=len(text), most=most
    )


def _blocks(standing: Standing, paper: Paper, ways: int) -> list[list[str]]:
    """The blocks as lists of beds; what can't be read is noted at the field that states it."""
    lie = paper.text("lie")
    if lie == "written":
        blocks = _written(paper, ways)
    elif lie in ("strips", "beds"):
        chosen = set(paper.ticked("beds"))
        beds = [each.id for each in standing.stated.garden.bed if each.id in chosen]
        blocks = _strips(paper, beds) if lie == "strips" else _whole_beds(paper, beds, ways)
    else:
        paper.fault("lie", _("Say how the plots lie."))
        return []
    if len(blocks) > _MOST_BLOCKS:
        field = {"strips": "blocks_in_bed", "beds": "beds"}.get(lie, "written")
        paper.fault(
            field,
            _("These are {count} blocks: {most} are the most.").format(
                count=len(blocks), most=_MOST_BLOCKS
            ),
        )
    return blocks


def _strips(paper: Paper, beds: Sequence[str]) -> list[list[str]]:
    if not beds:
        paper.fault("beds", _("Tick at least one bed."))
    count = paper.whole("blocks_in_bed", 1, _MOST_BLOCKS)
    if count is None and "blocks_in_bed" not in paper.faults:
        paper.fault("blocks_in_bed", _("Say how many blocks each of these beds holds, such as 6."))
    return [[bed] for bed in beds for _nth in range(count or 0)]


def _whole_beds(paper: Paper, beds: Sequence[str], ways: int) -> list[list[str]]:
    if ways < 2:
        return []
    if not beds or len(beds) % ways:
        paper.fault(
            "beds",
            _("Each block takes {ways} beds, one for each way: tick {ways}, {two}, {three} or more "
              "of them; here are {count}.").format(
                ways=ways, two=2 * ways, three=3 * ways, count=len(beds)
            ),
        )  # fmt: skip
        return []
    return [list(beds[at : at + ways]) for at in range(0, len(beds), ways)]


def _written(paper: Paper, ways: int) -> list[list[str]]:
    found = []
    for line in filter(str.strip, paper.text("written").splitlines()):
        beds = [each.strip() for each in line.split(";" if ";" in line else ",")]
        beds = [each for each in beds if each]
        if len(beds) not in (1, ways):
            paper.fault(
                "written",
                _("“{line}” is neither one bed nor a bed for each of the {ways} ways: write one "
                  "bed, or {ways} of them with commas between.").format(
                    line=line.strip(), ways=ways
                ),
            )  # fmt: skip
            return []
        found.append(beds)
    if not found:
        paper.fault("written", _("Write the beds of at least one block."))
    return found


def _journal(paper: Paper, blocks: Sequence[Sequence[str]]) -> dict[str, Any] | None:
    days = {name: paper.day(name) for name in _JOURNAL}
    stated = [name for name in _JOURNAL if paper.text(name)]
    if not stated:
        return None
    if len(stated) == 1:
        missing = next(name for name in _JOURNAL if name not in stated)
        paper.fault(missing, _("Give both days, or neither."))
    if any(len(each) == 1 for each in blocks):
        paper.fault(
            "from_day",
            _("The journal tells beds apart, not strips within one: leave both days empty, and "
              "write the strips' results down on the page of the comparison."),
        )  # fmt: skip
    return days


def _shown_blocks(
    standing: Standing, ways: Sequence[str], blocks: Sequence[Sequence[str]]
) -> dict[str, str]:
    """The fields that state the blocks, in the shortest way that does."""
    order = [each.id for each in standing.stated.garden.bed]
    used = [bed for block in blocks for bed in block]
    in_order = [bed for bed in order if bed in used]
    shown = {"lie": "written", "beds": "\n".join(in_order), "blocks_in_bed": "", "written": ""}
    runs = [(bed, len(list(run))) for bed, run in groupby(used)]
    if all(len(block) == 1 for block in blocks):
        counts = {count for _bed, count in runs}
        if [bed for bed, _count in runs] == in_order and len(counts) == 1:
            return {**shown, "lie": "strips", "blocks_in_bed": str(counts.pop())}
    elif used == in_order and all(len(block) == len(ways) for block in blocks):
        return {**shown, "lie": "beds"}
    return {**shown, "beds": "", "written": "\n".join(", ".join(each) for each in blocks)}
