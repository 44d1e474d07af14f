"""Why a bed gets what it gets, in sentences that are not yet set in lines."""

from __future__ import annotations

from bedwright.language import named
from bedwright.planning.nutrients import Need
from bedwright.planning.prescription import Prescription
from bedwright.reports import words
from bedwright.reports.days_said import days_said
from bedwright.reports.fill import figure, sentence_parts, value
from bedwright.reports.given import given, released
from bedwright.reports.parts import Number, Part, Sentence, filled, joined
from bedwright.reports.reading_words import method_said
from bedwright.reports.words_why import WHY
from bedwright.units import UnitSystem
from bedwright.working import Figure


def why_lines(plan: Prescription, system: UnitSystem) -> list[str]:
    """The reasons, a few sentences each: by nutrient, then what decided, then notes."""
    return [joined(each) for each in why_sentences(plan, system)]


def why_sentences(plan: Prescription, system: UnitSystem) -> list[Sentence]:
    """The same reasons as sentences whose numbers know their figures."""
    return [*reason_sentences(plan, system), *note_sentences(plan, system)]


def reason_sentences(plan: Prescription, system: UnitSystem) -> list[Sentence]:
    """By nutrient, then what decided."""
    said = [_nitrogen(plan, system)]
    said += [_need(plan, need, system) for need in plan.needs]
    return said + [(each,) for each in decided_lines(plan, system)]


def note_sentences(plan: Prescription, system: UnitSystem) -> list[Sentence]:
    """What else is to be known of the bed."""
    return [sentence_parts(each, system) for each in plan.findings if each.weight == "note"]


def decided_lines(plan: Prescription, system: UnitSystem, *, prices: bool = True) -> list[str]:
    """What decides the amounts, what a little more would cost, and what they fall short of."""
    lines = []
    if plan.blend.binding:
        held = "; ".join(words.NUTRIENTS.get(key, key) for key in plan.blend.binding)
        lines.append(WHY["decides"].format(demands=held))
    lines += _prices(plan, system) if prices else []
    if plan.blend.shortfall:
        for key, short in plan.blend.shortfall.items():
            name = words.NUTRIENTS.get(key, key)
            amount = value(short, "kg/m2", system)
            lines.append(WHY["short"].format(nutrient=name, amount=amount))
    return lines


def _number(each: Figure, system: UnitSystem) -> Number:
    return Number(figure(each, system), each)


def _nitrogen(plan: Prescription, system: UnitSystem) -> Sentence:
    n = plan.nitrogen
    said: list[Part] = [*_with("nitrogen", _number(n.crop_need, system))]
    if n.credits:
        before, after = WHY["gives"].split("{credits}")
        said.append(f" {before}")
        for at, each in enumerate(n.credits):
            said += [", "] if at else []
            said += [f"{credit_name(each.name)} ", _number(each, system)]
        said.append(after)
    said += [" ", *_with("left", _number(n.to_supply, system))]
    freed = released(plan)
    if freed is not None:
        said += [" ", *_with("releases", _number(freed, system))]
    return tuple(said)


def _with(key: str, amount: Number) -> Sentence:
    """The words of a key with their amount."""
    return filled(WHY[key], {"amount": amount})


def credit_name(name: str) -> str:
    """What gives nitrogen already, by the name of its figure."""
    for start in ("carry_over_", "fresh_"):
        if name.startswith(start):
            material, _, day = name.removeprefix(start).rpartition("_")
            return WHY["credit_of"].format(
                material=named(material.replace("_", " ")), day=days_said(day)
            )
    return WHY.get(name, name.replace("_", " "))


def _need(plan: Prescription, need: Need, system: UnitSystem) -> Sentence:
    name = words.NUTRIENTS[need.nutrient]
    said: list[Part] = [f"{name[:1].upper()}{name[1:]}: "]
    if need.reading is not None:
        r = need.reading
        values: dict[str, Part] = {
            "method": method_said(r.measurement.extractant),
            "value": _number(r.measurement.figure, system),
            "supply": words.SUPPLY[r.supply],
        }
        said += [*filled(WHY["test"], values), " "]
    said += _with("need", _number(need.amount, system))
    brought = given(plan, need.nutrient)
    if brought is not None:
        said += _with("given", Number(value(brought.value, "kg/m2", system), brought))
    if need.ceiling is not None:
        most = Number(value(need.ceiling.value, "kg/m2", system), need.ceiling)
        said += _with("most", most)
        total = given(plan, f"{need.nutrient}_ceiling")
        if total is not None:
            said += _with("brought", Number(value(total.value, "kg/m2", system), total))
    return (*said, ".")


def _prices(plan: Prescription, system: UnitSystem) -> list[str]:
    if not any(line.offer.price_stated for line in plan.lines):
        return []
    unit, kilograms = ("pound", 0.45359237) if system is UnitSystem.US else ("kilogram", 1.0)
    said = []
    for key, price in plan.blend.prices.items():
        if key in ("n_season", "p2o5", "k2o") and price > 0:
            cost = f"{price * kilograms:.2f}"
            said.append(WHY[f"price_{unit}"].format(nutrient=words.NUTRIENTS[key], price=cost))
    return [WHY["prices"].format(prices="; ".join(said))] if said else []
