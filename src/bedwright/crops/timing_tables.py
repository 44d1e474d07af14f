"""From the rows of the timing tables to what the engine takes, in degrees Celsius and days.

The rows are handed in; a number that the gardener states (own days to maturity, a hardier
cultivar) goes before them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np

from bedwright.crops.bolting import BoltingRule
from bedwright.crops.bulbing import BulbingRule
from bedwright.crops.emergence import EmergenceTable
from bedwright.crops.frost_damage import Cover
from bedwright.crops.fruit_set import SetResponse
from bedwright.crops.stages import heat_of_days_to_maturity
from bedwright.crops.windows import Crop, Rules
from bedwright.reference.tables import Row
from bedwright.units import to_si

End = Literal["low", "typical", "high"]
Start = Literal["sown", "set_out"]
ANY_CROP = "any_crop"
DAY_TYPES = ("short", "intermediate", "long")
_ZERO_CELSIUS_K = to_si(0.0, "degC", "temperature")
_DAY_S = to_si(1.0, "d", "time")
_HOUR_S = to_si(1.0, "h", "time")
_Turn = Callable[[Row, float], float]
_COLD = ("cold_base", "cold_optimum_from", "cold_optimum_to", "cold_ceiling")
_SET = ("base", "optimum_from", "optimum_to", "ceiling")


class NotTimed(LookupError):
    """A crop or cover that the tables do not say enough about; it names what is missing."""


@dataclass(frozen=True)
class TimingTables:
    """The rows in use of the timing tables, by crop and property."""

    facts: Mapping[tuple[str, str, str], Row]
    words: Mapping[tuple[str, str], Row]
    emergence: Mapping[str, tuple[Row, ...]]
    set_rows: Mapping[str, tuple[Row, ...]]
    covers: Mapping[tuple[str, str, str], Row]

    @staticmethod
    def of(
        crop_timing: Iterable[Row],
        crop_habits: Iterable[Row],
        emergence: Iterable[Row],
        fruit_set_responses: Iterable[Row],
        protection: Iterable[Row],
    ) -> TimingTables:
        """The tables from all their rows; rows that are not in use are left out."""
        timed, covers = _used(crop_timing), _used(protection)
        seeds, responses = _used(emergence), _used(fruit_set_responses)
        fruiting = {crop for row in responses for crop in row["applies_to"].split()}
        return TimingTables(
            facts={(row["crop"], row["property"], row["condition"]): row for row in timed},
            words={(row["crop"], row["property"]): row for row in _used(crop_habits)},
            emergence={
                crop: tuple(row for row in seeds if row["crop"] == crop)
                for crop in {row["crop"] for row in seeds}
            },
            set_rows={
                crop: tuple(row for row in responses if crop in row["applies_to"].split())
                for crop in fruiting
            },
            covers={(row["protection"], row["property"], row["condition"]): row for row in covers},
        )

    def crops(self) -> tuple[str, ...]:
        """The crops that can be timed, in the order of the table."""
        found = dict.fromkeys(crop for crop, _, _ in self.facts if crop != ANY_CROP)
        return tuple(crop for crop in found if not self.missing(crop))

    def missing(self, crop: str) -> tuple[str, ...]:
        """What must be known of a crop before it can be timed, and is not."""
        wanted = ("base_temperature", "best_mean_temperature")
        lacking = [each for each in wanted if (crop, each, "") not in self.facts]
        if not any((crop, "days_to_harvest", each) in self.facts for each in ("sown", "set_out")):
            lacking.append("days_to_harvest")
        if (crop, "start") not in self.words:
            lacking.append("start")
        return tuple(lacking)

    def usual_start(self, crop: str) -> Start:
        """Whether a crop is usually sown in its place; pieces and slips count as set out.

        Raises NotTimed where the table does not say.
        """
        row = self.words.get((crop, "start"))
        if row is None:
            raise NotTimed(f"crop_habits.csv does not say how {crop!r} starts")
        return "sown" if row["word"] == "sown" else "set_out"

    def days(self, crop: str, property_: str, end: End = "typical", condition: str = "") -> float:
        """A fact in days; of one for every crop where the crop has none. NaN where unknown."""
        return self._number(crop, property_, end, condition, _days)

    def temperature_c(self, crop: str, property_: str, end: End = "typical") -> float:
        """A fact in degrees Celsius, likewise."""
        return self._number(crop, property_, end, "", _celsius)

    def crop(
        self,
        crop: str,
        *,
        start: Start | None = None,
        days_to_harvest: float | None = None,
        end: End = "typical",
        day_type: str | None = None,
    ) -> Crop:
        """What the engine needs to follow a planting of a crop.

        Parameters
        ----------
        crop : key of the crop
        start : sown in its place or set out; without it as is usual
        days_to_harvest : the cultivar's own days from that start [days], instead of the table's
        end : which end of the table's days to harvest to take
        day_type : for what days it bulbs, see :meth:`day_type`; without it days don't count

        Days turn into heat at the crop's best mean temperature; heat that was published for the
        crop and the start goes before the table's days, not before the cultivar's own.

        Raises NotTimed with everything that is missing.
        """
        lacking = self.missing(crop)
        if lacking:
            raise NotTimed(f"the timing tables lack of {crop!r}: {', '.join(lacking)}")
        begin = start or self.usual_start(crop)
        base = self.temperature_c(crop, "base_temperature")
        upper = self.temperature_c(crop, "upper_temperature")
        warmth = self.temperature_c(crop, "best_mean_temperature")
        days = days_to_harvest or self.days_to_harvest(crop, begin, end)
        ripe = float(heat_of_days_to_maturity(days, warmth, base))
        if days_to_harvest is None:
            printed = self._number(crop, "heat_to_harvest", end, begin, _heat)
            ripe = ripe if np.isnan(printed) else printed
        fruit_days = self.days(crop, "fruit_days")
        flower = np.nan
        if crop in self.set_rows and not np.isnan(fruit_days):
            flower = self._number(crop, "heat_to_flower", "typical", begin, _heat)
            if np.isnan(flower) or days_to_harvest is not None:
                flower = ripe * max(1 - fruit_days / days, 0.0)
        return Crop(
            base_c=base,
            upper_c=upper,
            heat_to_harvest=ripe,
            heat_to_flower=flower,
            fruit_days=0.0 if np.isnan(fruit_days) else fruit_days,
            span_days=float(np.nan_to_num(self.days(crop, "harvest_span"), nan=1.0)),
            kill_c=(
                self.temperature_c(crop, "kill_temperature", "low"),
                self.temperature_c(crop, "kill_temperature"),
                self.temperature_c(crop, "kill_temperature", "high"),
            ),
            damage_c=self.temperature_c(crop, "damage_temperature"),
            soil_c=self.temperature_c(crop, "soil_to_plant"),
            soil_days=round(self.days(crop, "soil_days")),
            sown=begin == "sown" or self.words[(crop, "start")]["word"] == "pieces",
            emergence=self._emergence(crop),
            bolting=self._bolting(crop),
            bulbing=self._bulbing(crop, day_type, ripe),
        )

    def day_type(self, crop: str, latitude_deg: float) -> str | None:
        """For what days a bulb that suits a latitude swells [deg]: ``short``, ``intermediate`` or
        ``long``; empty for a crop with one kind alone, None for one that does not wait for days.
        """
        if (crop, "bulbing_day_length", "") in self.facts:
            return ""
        for each in DAY_TYPES:
            row = self.facts.get((crop, "bulbing_latitude", each))
            if row is not None:
                low, high = row.number("low"), row.number("high")
                if low is not None and high is not None and low <= abs(latitude_deg) < high:
                    return each
        return None

    def days_to_harvest(self, crop: str, start: Start, end: End = "typical") -> float:
        """Days from a start to the first harvest in good weather [days].

        Where the table has only the other start, transplanting makes earlier by its usual gain.
        """
        own = self.days(crop, "days_to_harvest", end, start)
        if not np.isnan(own):
            return own
        gain = self.days(crop, "transplant_gain")
        if start == "set_out":
            return self.days(crop, "days_to_harvest", end, "sown") - gain
        return self.days(crop, "days_to_harvest", end, "set_out") + gain

    def responses(self, crop: str) -> tuple[SetResponse, ...]:
        """The responses of fruit set in use for a crop; none where it is not grown for fruit."""
        grouped: dict[str, dict[str, float]] = {}
        drivers: dict[str, str] = {}
        for row in self.set_rows.get(crop, ()):
            value = _celsius(row, row.typical())
            grouped.setdefault(row["response"], {})[row["parameter"]] = value
            drivers[row["response"]] = row["driver"]
        return tuple(
            SetResponse(drivers[name], *(ends[each] for each in _SET))  # type: ignore[arg-type]
            for name, ends in grouped.items()
        )

    def cover(self, name: str, crop: str, end: End = "low") -> Cover:
        """A protection over a crop; of a range of frost protection the low end unless asked.

        Raises NotTimed for a protection that the table does not hold.
        """
        if (name, "frost_protection", "") not in self.covers:
            known = sorted({key for key, _, _ in self.covers})
            raise NotTimed(f"{name!r} is no protection of the table; there are: {', '.join(known)}")
        at_flower = self.words.get((crop, "cover_off"))
        flowering = at_flower is not None and at_flower["word"] == "flower"
        kind = "fruiting" if flowering else "other"
        longest = self.covers.get((name, "longest_cover", kind))
        longest = longest or self.covers[(name, "longest_cover", "")]
        heat = self.covers.get((name, "heat_limit", ""))
        hot = self.covers.get((name, "hot_days", ""))
        return Cover(
            frost_k=_difference(*self._cover(name, "frost_protection", end)),
            day_gain_k=_difference(*self._cover(name, "day_gain", "typical")),
            longest_days=round(_days(longest, longest.typical())),
            heat_limit_c=np.inf if heat is None else _celsius(heat, heat.typical()),
            hot_days=1 if hot is None else round(_days(hot, hot.typical())),
            off_at_flower=flowering,
        )

    def rules(self) -> Rules:
        """How plantings are judged: the heat limit is that of the table."""
        return Rules(heat_limit_c=self.temperature_c(ANY_CROP, "heat_limit"))

    def _cover(self, name: str, property_: str, end: End) -> tuple[Row, float]:
        row = self.covers[(name, property_, "")]
        value = row.number(end)
        return row, row.typical() if value is None else value

    def _number(self, crop: str, property_: str, end: End, condition: str, turn: _Turn) -> float:
        row = self.facts.get((crop, property_, condition))
        row = row or self.facts.get((ANY_CROP, property_, condition))
        if row is None:
            return float("nan")
        value = None if end == "typical" else row.number(end)
        return turn(row, row.typical() if value is None else value)

    def _emergence(self, crop: str) -> EmergenceTable | None:
        stand_in = self.words.get((crop, "emerges_as"))
        rows = self.emergence.get(crop if stand_in is None else stand_in["word"], ())
        days, none = dict[float, float](), list[float]()
        for row in rows:
            at = to_si(row.numbers["temperature"], row["temperature_unit"], "temperature")
            if row["property"] == "days":
                days[at - _ZERO_CELSIUS_K] = row.typical()
            elif row["property"] == "emerging":
                none.append(at - _ZERO_CELSIUS_K)
        if len(days) > 1:
            return EmergenceTable.of(days, tuple(none))
        heat = self._number(crop, "heat_to_emerge", "typical", "", _heat)
        base = self.temperature_c(crop, "emergence_base")
        return None if np.isnan(heat) else EmergenceTable.of_heat(base, heat)

    def _bulbing(self, crop: str, day_type: str | None, ripe: float) -> BulbingRule | None:
        if day_type is None or (crop, "bulbing_day_length", day_type) not in self.facts:
            return None
        leaf = self._number(crop, "bulbing_leaf_heat", "typical", "", _heat)
        own = self._number(crop, "bulbing_heat", "typical", "", _heat)
        kind: End = "typical" if day_type == "" else "low"  # the least of a type's cultivars
        longest = np.nan
        if day_type:
            longest = self._number(crop, "bulbing_day_length", "high", day_type, _hours)
        return BulbingRule(
            day_length_h=self._number(crop, "bulbing_day_length", kind, day_type, _hours),
            leaf_heat=leaf,
            bulb_heat=max(ripe - leaf, 0.0) if np.isnan(own) else own,
            ripening_days=self.days(crop, "bulb_ripening"),
            longest_h=longest,
        )

    def _bolting(self, crop: str) -> BoltingRule:
        cold = [self.temperature_c(crop, each) for each in _COLD]
        day_length = self._number(crop, "bolt_day_length", "low", "", _hours)

        def ends(property_: str) -> tuple[float, float]:
            return self.days(crop, property_, "low"), self.days(crop, property_, "high")

        return BoltingRule(
            cold_c=None if np.isnan(cold).any() else (cold[0], cold[1], cold[2], cold[3]),
            cold_days=ends("cold_days"),
            juvenile_days=float(np.nan_to_num(self.days(crop, "juvenile_days"))),
            heat_c=self.temperature_c(crop, "bolt_heat"),
            heat_days=ends("hot_days"),
            day_length_h=day_length,
            long_days=ends("long_days"),
        )


def _used(rows: Iterable[Row]) -> list[Row]:
    return [row for row in rows if row.used]


def _celsius(row: Row, value: float) -> float:
    return to_si(value, row["unit"], "temperature") - _ZERO_CELSIUS_K


def _difference(row: Row, value: float) -> float:
    return to_si(value, row["unit"], "temperature_difference")


def _days(row: Row, value: float) -> float:
    return to_si(value, row["unit"], "time") / _DAY_S


def _hours(row: Row, value: float) -> float:
    return to_si(value, row["unit"], "time") / _HOUR_S


def _heat(row: Row, value: float) -> float:
    """Degree days, whose unit is a temperature difference and a day: ``degF d``."""
    degree, _, time = row["unit"].partition(" ")
    difference = to_si(value, degree, "temperature_difference")
    return difference * to_si(1.0, time, "time") / _DAY_S
