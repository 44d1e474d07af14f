"""Every code of weather has words, and every word a code."""

import ast
import re
from pathlib import Path

import bedwright
from bedwright.reports import words_weather as words

SOURCE = Path(bedwright.__file__).parent
MODULES = [*sorted((SOURCE / "climate").rglob("*.py")), SOURCE / "station_service.py"]
ALL = {
    **words.WEATHER_REFUSALS,
    **words.WEATHER_READING,
    **words.WEATHER_CHECK,
}


def made_by_the_code() -> set[str]:
    """Every text in the rooms of weather that is written as a code."""
    found: set[str] = set()
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                found |= set(re.findall(r"^(?:weather|service)_[a-z_]+$", node.value))
    return found - {"weather_limits", "weather_services", "weather_generator"}


def test_every_code_has_words_and_the_other_way_round():
    assert made_by_the_code() == ALL.keys() | words.SERVICE_REFUSALS.keys()


def test_words_are_sentences():
    for code, text in {**ALL, **words.SERVICE_REFUSALS}.items():
        assert re.search(r"[.!?\]]\)?$", text), code
        assert text.count("{") == text.count("}"), code
        assert "  " not in text, code


def test_every_reason_for_a_unit_has_words():
    text = (SOURCE / "climate" / "formats" / "summaries.py").read_text(encoding="utf-8")
    reasons = set(re.findall(r'\("(?:tenths|metric|standard)", "([a-z_]+)"\)', text))

    assert reasons == words.WEATHER_UNIT_REASONS.keys()
