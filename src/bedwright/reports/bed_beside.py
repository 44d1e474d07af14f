"""What stands beside a bed's amounts: what not to add, rules of thumb, labels, doubts."""

from __future__ import annotations

from collections.abc import Iterable

from bedwright.feeding.materials import Material
from bedwright.language import named
from bedwright.planning.findings import Finding
from bedwright.planning.habits import Habit
from bedwright.planning.labels import LabelRate
from bedwright.reports import words
from bedwright.reports.fill import figure, sentence_parts, value
from bedwright.reports.parts import Number, Part, Sentence, filled
from bedwright.reports.words_why import AMOUNTS, WHY
from bedwright.season import BedPlan
from bedwright.units import UnitSystem, show


def left_out(plan: BedPlan) -> list[tuple[str, str]]:
    """The materials that are left out with the reason, those of one reason together."""
    reasons: dict[str, list[Material]] = {}
    for each in plan.prescription.strikes:
        reasons.setdefault(each.code, []).append(each.material)
    return [
        (", ".join(named(item.name).lower() for item in materials), words.STRIKES[code])
        for code, materials in reasons.items()
    ]


def manure_notes(plan: BedPlan, system: UnitSystem) -> list[Sentence]:
    """From when raw manure is forbidden."""
    found = plan.manure.findings if plan.manure is not None else ()
    return [sentence_parts(each, system) for each in found if each.weight == "note"]


def habit_sentence(habit: Habit, system: UnitSystem) -> Sentence:
    """A rule of thumb, what is done here, and why."""
    least, most = (
        value(end, habit.rule.unit, system) for end in (habit.rule.least, habit.rule.most)
    )
    ours: Part = AMOUNTS["none"]
    if habit.ours is not None and habit.ours.value != 0:
        ours = Number(figure(habit.ours, system), habit.ours)
    span = Number(AMOUNTS["range"].format(low=least, high=most), habit.rule)
    values: dict[str, Part] = {"ours": ours, "why": words.HABIT_WHY[habit.why]}
    before, after = WHY["habit"].split("{rule}")
    rule = filled(words.HABITS[habit.code], {"rule": span})
    return (*filled(before, values), *rule, *filled(after, values))


def label_sentence(each: LabelRate, system: UnitSystem) -> Sentence:
    """What a label would say of this bed, and what is spread here."""
    low, high = (show(end, "mass", system) for end in (each.amount.least, each.amount.most))
    span = low if low == high else AMOUNTS["range"].format(low=low, high=high)
    values: dict[str, Part] = {
        "material": named(each.material.name).lower(),
        "span": Number(span, each.amount),
        "ours": AMOUNTS["none"] if each.ours == 0 else show(each.ours, "mass", system),
        "assumes": words.LABEL_ASSUMES[each.assumes],
    }
    return filled(WHY["label"], values)


def missing_sentences(missing: Iterable[tuple[str, str]]) -> list[str]:
    """The tests that a plan had to do without, with what each decides."""
    return [f"{words.ANALYTES[test]}: {words.TEST_DECIDES[decides]}" for test, decides in missing]


def said_together(found: Iterable[Finding], system: UnitSystem) -> list[Sentence]:
    """Sentences of findings; those that differ only by their analyte are said in one."""
    listed = list(found)
    said: list[Sentence] = []
    for code in dict.fromkeys(each.code for each in listed):
        same = [each for each in listed if each.code == code]
        if len(same) > 1 and set(same[0].values) <= {"analyte", "extractant"}:
            names = (
                words.ANALYTES.get(str(e.values["analyte"]), str(e.values["analyte"])) for e in same
            )
            joined = Finding(code, same[0].weight, {**same[0].values, "analyte": ", ".join(names)})
            said.append(sentence_parts(joined, system))
        else:
            said += [sentence_parts(each, system) for each in same]
    return said
