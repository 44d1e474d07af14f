"""Which words of printed sheets no catalogue has seen."""

import json
import re

import pytest

from bedwright import language
from bedwright.language import Words, using
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.reports.words_spreading import SHEET_WORDS
from bedwright.season import SeasonPlan
from bedwright.sheets.content import sheet_content


class Marked:
    """A catalogue that marks what it translates, and so shows what it does not."""

    def __init__(self, real: object) -> None:
        self.real = real

    def pgettext(self, context: str, text: str) -> str:
        found = self.real.pgettext(context, text)
        return text if found == text else f"⟦{text}⟧"

    def gettext(self, text: str) -> str:
        # What reads alike in both languages is marked too, where the catalogue has it.
        known = text in self.real._catalog or (text, 0) in self.real._catalog
        return f"⟦{text}⟧" if known and not text.startswith("⟦") else text


def left_over(content: object) -> set[str]:
    """The words of a sheet that no catalogue has seen."""
    found: set[str] = set()
    for text in _strings(content):
        before, now = "", text
        while now != before:  # the innermost first
            before, now = now, re.sub(r"⟦[^⟦⟧]*⟧", " ", now)
        found |= set(re.findall(r"[A-Za-z]{2,}", now))
    return found


def _strings(value: object) -> list[str]:
    if isinstance(value, str):
        return [] if value.startswith("<svg") else [value]
    if isinstance(value, tuple | list):
        return [text for each in value for text in _strings(each)]
    if hasattr(value, "__dataclass_fields__"):
        return [
            text
            for name in value.__dataclass_fields__
            if name not in ("labels", "drawings", "note")
            for text in _strings(getattr(value, name))
        ]
    return []


def unseen_words(plan: SeasonPlan, monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """Words on any sheet of a plan that are neither translated, nor symbols, nor the gardener's."""
    real = language._catalogue("es")
    monkeypatch.setattr(language, "_catalogue", lambda code: Marked(real))
    garden = plan.document.garden
    own = json.dumps(garden.model_dump(mode="json"), ensure_ascii=False, default=str)
    allowed = set(re.findall(r"[A-Za-z]{2,}", f"{own} {own.lower()}"))
    allowed |= set("lb oz ppm dS kg mg ml meq ft gal CFR ECe pH mm cm".split())
    table = Words(DRAWING_WORDS, SHEET_WORDS)
    with using("es"):
        sheets = [
            sheet_content(plan, bed.prescription.bed.id, table, garden.garden.units)
            for bed in plan.beds
        ]
    return {word for sheet in sheets for word in left_over(sheet)} - allowed
