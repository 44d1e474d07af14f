"""Signs that the printed face has: what it lacks is spelled otherwise, or shown as missing."""

from __future__ import annotations

import unicodedata

from bedwright.face import lacking

_STAND_IN = "?"
_LONGEST_WORD = 24  # signs: longer ones may be broken anywhere
_BREAK = "\u200b"  # a place to break a line; without ink, so the face need not have it


def printable(text: str) -> str:
    """A text in signs of the face: a sign it lacks by its plain likeness, else ``?``.

    Control signs and those that turn the direction of writing are left out.
    """
    text = unicodedata.normalize("NFC", text)
    kept = "".join(each for each in text if unicodedata.category(each) not in ("Cc", "Cf", "Cs"))
    for each in lacking(kept):
        alike = unicodedata.normalize("NFKC", each)
        kept = kept.replace(each, alike if alike and not lacking(alike) else _STAND_IN)
    return kept


def lost(text: str) -> bool:
    """Whether a sign of a text is only shown as missing."""
    return printable(text).count(_STAND_IN) > text.count(_STAND_IN)


def breakable(text: str) -> str:
    """A text whose over-long words may be broken across lines."""
    return " ".join(
        word
        if len(word) <= _LONGEST_WORD
        else _BREAK.join(
            word[at : at + _LONGEST_WORD // 2] for at in range(0, len(word), _LONGEST_WORD // 2)
        )
        for word in text.split(" ")
    )
