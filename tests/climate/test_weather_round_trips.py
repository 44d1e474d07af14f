"""What is written in a format is read back; what is broken at random is told, never a crash."""

from collections.abc import Callable
from datetime import date
from functools import cache

import numpy as np
import pytest
import weather_writers as write
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.climate.checks import checked
from bedwright.climate.faults import WeatherError
from bedwright.climate.formats import read_weather
from bedwright.climate.limits import WeatherLimits, weather_limits
from bedwright.climate.record import DailyRecord, FloatArray
from bedwright.reference import Library
from bedwright.reports.weather_text import refusal, said
from bedwright.units import UnitSystem

_LIMITS = weather_limits(Library().rows("weather_limits"))
_ALL = "t_mean_c rain_mm radiation_mj_m2 humidity_max_percent humidity_min_percent wind_m_s".split()


@st.composite
def records(draw: st.DrawFn, others: tuple[str, ...] = ("rain_mm", "wind_m_s")) -> DailyRecord:
    """Days in tenths with gaps; the first and last day have a value, or a file would not.

    The values come from a drawn seed: drawing each would take a thousand times as long.
    """
    days, missing = draw(st.integers(1, 80)), draw(st.sampled_from([0.0, 0.1, 0.6]))
    dice = np.random.default_rng(draw(st.integers(0, 2**32)))

    def tenths(low: int, high: int) -> FloatArray:
        made = dice.integers(low, high, days) / 10
        made[dice.random(days) < missing] = np.nan
        return made

    high, low = tenths(-300, 500), tenths(-400, 300)
    high[[0, -1]] = [-35.5, 41.2]
    low[0] = -40.5
    more = {name: tenths(0, 1000) for name in others if draw(st.booleans())}
    for values in more.values():
        values[0] = 1.5  # an element without a value would not be in the file
    first = np.datetime64(draw(st.dates(date(1800, 1, 1), date(2100, 1, 1))))
    return DailyRecord("USC00000000", "", None, None, None, first, high, low, **more)


def same(found: DailyRecord, meant: DailyRecord, within: dict[str, float] | None = None) -> None:
    assert (found.first_day, found.days) == (meant.first_day, meant.days)
    assert found.elements().keys() == meant.elements().keys()
    for name, values in meant.elements().items():
        allowed = (within or {}).get(name, 0.0)
        np.testing.assert_allclose(found.elements()[name], values, rtol=0, atol=allowed)


# A file of a year or more is made and read in each case: a fifth of the other rooms' counts.
_CASES = settings(max_examples=max(25, settings().max_examples // 5))


@_CASES
@given(records())
def test_dly_written_and_read_is_the_same_to_the_last_bit(record: DailyRecord):
    same(read_weather(write.dly(record), "", _LIMITS).record, record)


@_CASES
@given(records())
def test_by_station_written_and_read_is_the_same(record: DailyRecord):
    same(read_weather(write.by_station(record), "", _LIMITS).record, record)


@_CASES
@given(records())
def test_an_access_file_written_and_read_is_the_same(record: DailyRecord):
    same(read_weather(write.access(record), "", _LIMITS, "tenths").record, record)


@_CASES
@given(records())
def test_metric_summaries_written_and_read_are_the_same(record: DailyRecord):
    same(read_weather(write.metric(record), "", _LIMITS, "metric").record, record)


@_CASES
@given(records())
def test_standard_summaries_are_the_same_to_half_a_unit(record: DailyRecord):
    half = {"t_max_c": 0.2778, "t_min_c": 0.2778, "rain_mm": 0.1271, "wind_m_s": 0.00224}

    same(read_weather(write.standard(record), "", _LIMITS, "standard").record, record, half)


@_CASES
@given(records(tuple(_ALL)), st.sampled_from([(",", "."), (";", ","), (";", "."), ("\t", ".")]))
def test_named_columns_written_and_read_are_the_same(record: DailyRecord, signs: tuple[str, str]):
    same(read_weather(write.named(record, *signs), "", _LIMITS).record, record)


@_CASES
@given(records())
def test_all_formats_tell_the_same_story(record: DailyRecord):
    texts = [(write.dly, None), (write.by_station, None), (write.access, "tenths"),
             (write.metric, "metric"), (write.named, None)]  # fmt: skip
    for made, units in texts:
        same(read_weather(made(record), "", _LIMITS, units).record, record)


@cache
def invented(made: Callable[[DailyRecord], bytes]) -> bytes:
    return made(_INVENTED)


WRITERS = [write.dly, write.by_station, write.access, write.metric, write.standard, write.named]
_WAVE, _AT = np.cos(np.arange(400) / 58), np.arange(400)
_INVENTED = DailyRecord(
    "USC00000000", "", None, None, None, np.datetime64("2023-01-01"),
    np.round(18 - 15 * _WAVE, 1), np.round(6 - 14 * _WAVE, 1), None, np.where(_AT % 4, 0.0, 2.5),
)  # fmt: skip


def read_and_said(data: bytes) -> tuple[DailyRecord | None, list[str]]:
    """The record, if there is one, and every sentence about it, in both systems of units."""
    try:
        file = read_weather(data, "file", _LIMITS)
        made = checked(file.record, _LIMITS)
    except WeatherError as error:
        assert error.faults
        return None, refusal(error.faults, "file", UnitSystem.US).splitlines()
    found = [*file.faults, *made.faults]
    for system in UnitSystem:
        assert all(said(each, system) for each in found)
    return made.record, [said(each, UnitSystem.US) for each in found]


@pytest.mark.parametrize("made", WRITERS)
@_CASES
@given(data=st.data())
def test_bytes_changed_at_random_never_crash(
    made: Callable[[DailyRecord], bytes], data: st.DataObject
):
    text = bytearray(invented(made))
    slips = st.tuples(st.integers(0, len(text) - 1), st.integers(0, 255))
    for at, byte in data.draw(st.lists(slips, min_size=1, max_size=12)):
        text[at] = byte

    read_and_said(bytes(text))


@pytest.mark.parametrize("made", WRITERS)
@_CASES
@given(data=st.data())
def test_a_file_cut_off_anywhere_never_crashes(
    made: Callable[[DailyRecord], bytes], data: st.DataObject
):
    text = invented(made)

    record, sentences = read_and_said(text[: data.draw(st.integers(0, len(text)))])

    assert record is not None or sentences


@_CASES
@given(st.binary(max_size=400), st.sampled_from(WRITERS))
def test_any_bytes_at_all_never_crash(anything: bytes, made: Callable[[DailyRecord], bytes]):
    read_and_said(anything)
    head = invented(made)
    read_and_said(head[:300] + anything + head[300:])


@pytest.mark.parametrize("made", WRITERS)
@_CASES
@given(row=st.integers(1, 300), letter=st.sampled_from("abcxyz?!"))
def test_a_letter_in_a_number_is_always_told(
    made: Callable[[DailyRecord], bytes], row: int, letter: str
):
    """The last digit of the maximum of some line becomes a letter."""
    lines = invented(made).decode().split("\n")
    quiet = len(read_and_said("\n".join(lines).encode())[1])
    if made is write.dly:
        at = row % 14
        lines[at] = lines[at][:25] + letter + lines[at][26:]
    else:
        at = row
        place = {write.by_station: 3, write.access: 6, write.named: 1}.get(made, 2)
        separated = lines[at].split(",")
        if made is write.access:
            place += 1  # the name holds a comma
        cell = separated[place]
        digit = max(n for n, each in enumerate(cell) if each.isdigit())
        separated[place] = cell[:digit] + letter + cell[digit + 1 :]
        lines[at] = ",".join(separated)

    _, sentences = read_and_said("\n".join(lines).encode())

    assert len(sentences) == quiet + 1
    assert any("no numbers" in each for each in sentences)


def test_the_limits_are_whole(library: Library):
    found = weather_limits(library.rows("weather_limits"))

    assert isinstance(found, WeatherLimits)
    with pytest.raises(LookupError, match="impossible_share"):
        weather_limits([])
