"""The history with the journal counted in: what was spread, what grew, what was picked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from bedwright.garden import Document
from bedwright.garden.model import Application, Season
from bedwright.journal.entries import Did, Picked
from bedwright.journal.names import crop_key, kilograms, material_key
from bedwright.journal.notes import Note, note
from bedwright.journal.same_act import Act, near, pairs
from bedwright.reference import Library
from bedwright.units import Quantity, show

_HALF_YEAR = 6  # months
Keys = dict[tuple[str | int, ...], str]


@dataclass
class _Grown:
    """A season while it is counted: the document's, where ``stated`` is one, or a new one."""

    bed: str
    year: int
    stated: Season | None = None
    crop: str | None = None
    crop_key: str | None = None
    applied: list[tuple[Application, str]] = field(default_factory=list)
    harvested: Quantity | None = None

    def season(self) -> Season:
        values: dict[str, Any] = {
            "crop": self.crop, "applied": [each for each, _ in self.applied],
            "harvested": self.harvested,
        }  # fmt: skip
        if self.stated is not None:
            return self.stated.model_copy(update=values)
        return Season.model_construct(bed=self.bed, year=self.year, note=None, **values)


class History:
    """The seasons of all beds; the document's keep their places, new ones stand after them."""

    def __init__(self, document: Document, library: Library) -> None:
        self._document, self._library = document, library
        self._area = {bed.id: bed.area_m2 for bed in document.garden.bed}
        latitude = document.garden.garden.latitude
        self._south = latitude is not None and latitude.si < 0
        self._ends = round(library.parameter("season_ends_month", "month").value)
        self._seasons: list[_Grown] = []
        self.notes: list[Note] = []
        for at, season in enumerate(document.garden.history):
            applied = [
                (each, document.keys[("history", at, "applied", nth, "material")])
                for nth, each in enumerate(season.applied)
            ]
            self._seasons.append(
                _Grown(season.bed, season.year, season, season.crop,
                       document.keys.get(("history", at, "crop")), applied, season.harvested)
            )  # fmt: skip

    def seasons(self) -> tuple[list[Season], Keys]:
        """The seasons, and the table keys of their crops and materials by path."""
        keys: Keys = {}
        for at, each in enumerate(self._seasons):
            if each.crop_key is not None:
                keys[("history", at, "crop")] = each.crop_key
            for nth, (_, key) in enumerate(each.applied):
                keys[("history", at, "applied", nth, "material")] = key
        return [each.season() for each in self._seasons], keys

    def plant(self, entries: Sequence[Did]) -> None:
        """What was sowed and set out, as the crop of its bed and season."""
        for entry in sorted(entries, key=lambda each: (each.on, str(each.id))):
            assert entry.bed is not None and entry.crop is not None
            key = crop_key(entry.crop, self._document, self._library)
            self._of_crop(entry.bed, self._feeds(entry.on), key, entry.crop)

    def pick(self, entries: Sequence[Picked]) -> None:
        """What was picked, as the harvest of its season.

        Where the document states the harvest, the pickings are parts of it: it counts, unless
        they add up to more.
        """
        sums: dict[int, list[float]] = {}
        for entry in sorted(entries, key=lambda each: (each.on, str(each.id))):
            assert entry.bed is not None
            key = crop_key(entry.crop, self._document, self._library)
            grown = self._picked_from(entry, key)
            if entry.mass is None:
                self.notes.append(note("picked_not_weighed", entry.id, bed=entry.bed,
                                       crop=key, on=entry.on))  # fmt: skip
            else:
                sums.setdefault(self._seasons.index(grown), []).append(entry.mass.si)
        for at, masses in sums.items():
            self._harvest(self._seasons[at], sum(sorted(masses)))

    def spread(self, entries: Sequence[Did]) -> None:
        """What was spread: in the place of an application that tells of the same act, or new."""
        written = sorted(entries, key=lambda each: (each.on, str(each.id)))
        acts = [self._act(str(each.id), each) for each in written]
        places = [
            (grown, nth) for grown in self._seasons for nth in range(len(grown.applied))
            if grown.stated is not None
        ]  # fmt: skip
        stated = [self._stated(grown, nth) for grown, nth in places]
        found = pairs(stated, acts)
        for at, place in found.items():
            grown, nth = places[at]
            entry, act = written[place], acts[place]
            grown.applied[nth] = (self._application(entry), act.material)
            self.notes.append(
                note("spread_one", entry.id, bed=act.bed, material=act.material, on=entry.on,
                     stated_on=stated[at].on, stated=stated[at].amount.text,
                     written=act.amount.text)
            )  # fmt: skip
        single = set(range(len(acts))) - set(found.values())
        for at, act in enumerate(stated):
            if at in found:
                continue
            for place in sorted(single):
                if near(act, acts[place]):
                    self.notes.append(
                        note("spread_two", written[place].id, bed=act.bed, material=act.material,
                             on=written[place].on, stated_on=act.on, stated=act.amount.text,
                             written=acts[place].amount.text)
                    )  # fmt: skip
        for place in sorted(single):
            entry, act = written[place], acts[place]
            grown = self._of_year(act.bed, self._feeds(entry.on))
            grown.applied.append((self._application(entry), act.material))

    def _feeds(self, on: date) -> int:
        """The season that work of a day belongs to, by the year in which the season ends."""
        ends = (self._ends - 1 + _HALF_YEAR) % 12 + 1 if self._south else self._ends
        return on.year + (1 if on.month > ends else 0)

    def _of_year(self, bed: str, year: int) -> _Grown:
        for each in self._seasons:
            if (each.bed, each.year) == (bed, year):
                return each
        self._seasons.append(_Grown(bed, year))
        return self._seasons[-1]

    def _of_crop(self, bed: str, year: int, key: str, word: str) -> _Grown:
        same = [each for each in self._seasons if (each.bed, each.year) == (bed, year)]
        for each in same:
            if each.crop_key == key:
                return each
        for each in same:
            if each.crop_key is None:
                each.crop, each.crop_key = word, key
                return each
        self._seasons.append(_Grown(bed, year, crop=word, crop_key=key))
        return self._seasons[-1]

    def _picked_from(self, entry: Picked, key: str) -> _Grown:
        """The season that a picking is of: one with this crop, the nearest in years; or new."""
        south = self._south and entry.on.month > _HALF_YEAR
        year = entry.on.year + (1 if south else 0)
        grew = [
            each for each in self._seasons
            if each.bed == entry.bed and each.crop_key == key and abs(each.year - year) <= 1
        ]  # fmt: skip
        if grew:
            return min(grew, key=lambda each: (abs(each.year - year), each.year))
        assert entry.bed is not None
        return self._of_crop(entry.bed, year, key, entry.crop)

    def _harvest(self, grown: _Grown, mass: float) -> None:
        stated = grown.stated.harvested if grown.stated is not None else None
        if stated is not None:
            area = self._area.get(grown.bed, 0.0)
            whole = stated.si * area if stated.kind == "mass_per_area" else stated.si
            more = mass > whole
            self.notes.append(
                note("harvest_picked" if more else "harvest_stated", bed=grown.bed,
                     year=grown.year, stated=stated.text, written=mass)
            )  # fmt: skip
            if not more:
                return
        units = self._document.garden.garden.units
        grown.harvested = Quantity(mass, "mass", show(mass, "mass", units))

    def _act(self, name: str, entry: Did) -> Act:
        assert entry.bed is not None and entry.material is not None and entry.amount is not None
        key = material_key(entry.material, self._document, self._library)
        mass = kilograms(entry.amount, key, self._library, self._area.get(entry.bed))
        return Act(name, entry.bed, key, entry.on, entry.amount, mass)

    def _stated(self, grown: _Grown, nth: int) -> Act:
        applied, key = grown.applied[nth]
        mass = kilograms(applied.amount, key, self._library, self._area.get(grown.bed))
        return Act("", grown.bed, key, applied.on, applied.amount, mass)

    @staticmethod
    def _application(entry: Did) -> Application:
        return Application.model_construct(
            material=entry.material, amount=entry.amount, on=entry.on
        )
