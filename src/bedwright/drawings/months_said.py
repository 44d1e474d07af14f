"""What the months of a garden say in words: titles, letters for crops, and what each bed holds."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date

from bedwright.planning.occupancy import Cell, Doing, Held, Months


def month_title(month: date, words: Mapping[str, str]) -> str:
    """A month in words with its year."""
    return words["month_year"].format(month=words[f"month_{month.month}"], year=month.year)


def said_of(months: Months, words: Mapping[str, str]) -> str:
    """How many beds do what in each month: what a screen reader says of the drawing."""
    lines = []
    for at, month in enumerate(months.months):
        seen = [row[at].doing for row in months.cells]
        counts = [
            words[f"count_{each}"].format(count=seen.count(each)) for each in Doing if each in seen
        ]
        lines.append(f"{month_title(month, words)}: {', '.join(counts)}.")
    return " ".join((words["months_described"], *lines))


def letters_of(names: Iterable[str]) -> dict[str, str]:
    """Two or three capitals for every name, no two alike; the first come, first served."""
    found: dict[str, str] = {}
    for name in names:
        if name not in found:
            found[name] = next(each for each in _letters(name) if each not in found.values())
    return found


def _letters(name: str) -> Iterable[str]:
    letters = [each for each in name if each.isalnum()] or ["?"]
    starts = [each[0] for each in name.split() if each[:1].isalnum()]
    head = letters[0].upper()
    if len(starts) > 1:
        yield head + starts[-1].upper()
    for other in letters[1:]:
        yield head + other.upper()
    at = 1
    while True:
        yield f"{head}{at}"
        at += 1


def held_of(months: Months) -> Iterable[Held]:
    """Every crop of every month and bed."""
    return (held for row in months.cells for cell in row for held in cell.held)


def cell_words(cell: Cell, words: Mapping[str, str], called: Callable[[str], str]) -> str:
    """What stands on a piece of ground in a month, in words."""
    if not cell.held:
        return words["doing_empty"]
    told = [
        words["held_proposed" if each.proposed else "held"].format(
            crop=called(each.name), doing=words[f"doing_{each.doing}"]
        )
        for each in cell.held
    ]
    return words["beside" if cell.beside else "then"].join(told)


def notes_of(
    months: Months,
    words: Mapping[str, str],
    called: Callable[[str], str],
    codes: Mapping[str, str],
) -> list[str]:
    """What is written under the months: the letters, how to read them, what is not in them."""
    names = dict.fromkeys(each.name for each in held_of(months))
    letters = sorted((codes[name], called(name)) for name in names)
    cells = [cell for row in months.cells for cell in row]
    rules = {
        "months_rule": True,
        "beside_rule": any(each.beside for each in cells),
        "then_rule": any(not each.beside and len(each.held) > 1 for each in cells),
        "proposed_rule": any(each.proposed for each in held_of(months)),
    }
    found = [words["letters"].format(letters=", ".join(" ".join(each) for each in letters))]
    found.append(" ".join(words[rule] for rule, holds in rules.items() if holds))
    for name, listed in (("undated", months.undated), ("open_ended", months.open_ended)):
        if listed:
            told = ", ".join(f"{called(crop)} ({bed})" for bed, crop in listed)
            found.append(words[name].format(crops=told))
    return found if letters else found[1:]
