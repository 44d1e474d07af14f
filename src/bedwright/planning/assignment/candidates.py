"""Which crops take part in the years ahead: those that the document names, and covers for rest."""

from __future__ import annotations

from collections.abc import Iterable

from bedwright.garden import Document
from bedwright.garden.model_rotation import Rotation, Weights
from bedwright.planning.assignment.model import Candidate, Decision, Life
from bedwright.reference import Library
from bedwright.reference.library import fold

_LIVES: dict[str, Life] = {"overwintered": "overwintered", "perennial": "perennial"}
PLASTIC = Candidate("clear_plastic", "clear_plastic", None, "Clear plastic", "", "plastic")


def rotation_of(document: Document) -> Rotation:
    """How the years ahead are to be planned; the usual way where the document says nothing."""
    return document.garden.rotation or Rotation()


def weights_of(document: Document) -> Weights:
    """What counts how much."""
    return rotation_of(document).weights


def candidates_of(
    document: Document, library: Library, decisions: Iterable[Decision] = ()
) -> tuple[Candidate, ...]:
    """Every crop that is wished, wanted, pinned or decided, each once; and, where rest counts,
    the cover crops of the tables. Raises LookupError for a decision on a crop that is not known.
    """
    found: dict[str, Candidate] = {}
    for name in ("want", "pin", "wish"):
        for at, each in enumerate(getattr(document.garden, name)):
            if each.crop is not None:
                made = candidate_at(document, library, name, at)
                found.setdefault(made.id, made)
    for decision in decisions:
        known = _decided(decision, found, document, library)
        found.setdefault(known.id, known)
    if weights_of(document).rest > 0:
        for key in _covers(document, library):
            found.setdefault(key, _of_table(key, library))
        found.setdefault(PLASTIC.id, PLASTIC)
    return tuple(found.values())


def _covers(document: Document, library: Library) -> list[str]:
    """One cover crop of each season, family and way of feeding: a plan of years tells the others of
    these apart by nothing, so the first of the table stands for them.

    Annuals alone: a ley takes a season to come in. One that is sown against a problem takes part
    where such a problem is recorded.
    """
    habits = {
        (row["crop"], row["property"]): row["word"]
        for row in library.rows("crop_habits")
        if row["property"] in ("cover_season", "cover_against", "feeding", "life") and row.used
    }
    met = {
        document.key("bed_problem", at, "problem") for at in range(len(document.garden.bed_problem))
    }
    found: dict[tuple[str | None, str, str | None], str] = {}
    for row in library.rows("crops"):
        if row["kind"] == "cover":
            key = row["crop"]
            against = habits.get((key, "cover_against"))
            if habits.get((key, "life")) == "perennial" or against not in (None, *met):
                continue
            alike = (habits.get((key, "cover_season")), row["family"], habits.get((key, "feeding")))
            found.setdefault(alike, key)
    return list(found.values())


def candidate_at(document: Document, library: Library, name: str, at: int) -> Candidate:
    """The crop that the ``at``-th want, wish, pin or season of history is of."""
    key = document.key(name, at, "crop")
    path = (name, at, "crop")
    own = document.cultivars.get(path)
    return _of_table(key, library) if own is None else _of_own(document, library, own, key)


def _of_own(document: Document, library: Library, own: int, key: str) -> Candidate:
    stated = document.garden.crop[own]
    base = _of_table(key, library)
    identity = base.id if stated.like is None else f"own:{fold(stated.crop)}"
    name = stated.name or (base.name if stated.like is None else stated.crop)
    return Candidate(identity, key, own, name, base.family, base.life, stated.days_to_maturity)


def _decided(
    decision: Decision, found: dict[str, Candidate], document: Document, library: Library
) -> Candidate:
    if decision.crop in found:
        return found[decision.crop]
    if decision.crop == PLASTIC.id:
        return PLASTIC
    for at, stated in enumerate(document.garden.crop):
        key = document.keys.get(("crop", at, "crop"))
        if key is not None and decision.crop in (f"own:{fold(stated.crop)}", key):
            return _of_own(document, library, at, key)
    return _of_table(decision.crop, library)


def _of_table(key: str, library: Library) -> Candidate:
    row = library.crop(key)
    return Candidate(key, key, None, row["name"], row["family"], _life(row["kind"], key, library))


def _life(kind: str, key: str, library: Library) -> Life:
    if kind == "cover":
        return "cover"
    if kind == "perennial":
        return "perennial"
    for row in library.rows("crop_habits"):
        if row["crop"] == key and row["property"] == "life" and row.used:
            return _LIVES.get(row["word"], "annual")
    return "annual"
