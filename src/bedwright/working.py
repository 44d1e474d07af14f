"""Numbers that carry their working: what was put in, by which formula, from which source.

A science function is declared a formula with :func:`formula`. It stays a plain function of
numbers. :func:`work` calls it with :class:`Figure` inputs and returns a :class:`Figure` that
remembers them, so that every printed number can be traced to what the gardener stated.
"""

from __future__ import annotations

import dataclasses
import itertools
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

Origin = Literal["stated", "measured", "table", "assumed", "computed"]

_MOST_CORNERS = 8  # ranges of more inputs than this are not combined: 256 evaluations suffice


@dataclass(frozen=True)
class Source:
    """Where a number was read: a row of ``sources.csv``, the place in it, and what to know."""

    source_id: str
    place: str = ""
    note: str = ""


@dataclass(frozen=True)
class Figure:
    """A number with its unit, its range, where it came from and, if computed, how.

    ``inputs`` are the figures that went in; ``steps`` the intermediate values of a formula
    that shows them, as (name, value, unit).
    """

    name: str
    value: float
    unit: str
    origin: Origin
    low: float | None = None
    high: float | None = None
    sources: tuple[Source, ...] = ()
    note: str = ""
    formula: str = ""
    inputs: tuple[Figure, ...] = ()
    steps: tuple[tuple[str, float, str], ...] = ()

    @property
    def least(self) -> float:
        """The low end of the range, or the value where there is no range."""
        return self.value if self.low is None else self.low

    @property
    def most(self) -> float:
        """The high end of the range, or the value where there is no range."""
        return self.value if self.high is None else self.high

    def named(self, name: str, note: str = "") -> Figure:
        """The same figure under another name."""
        return dataclasses.replace(self, name=name, note=note or self.note)

    def ranged(self, low: float, high: float) -> Figure:
        """The same figure with a stated range."""
        return dataclasses.replace(self, low=low, high=high)


@dataclass(frozen=True)
class FormulaInfo:
    """What a formula says of itself.

    ``inputs`` maps each parameter to (kind of quantity, unit of the engine); parameters that are
    words or tables have kind ``word`` or ``table``. ``result`` is (kind, unit).
    """

    name: str
    words: str
    inputs: dict[str, tuple[str, str]]
    result: tuple[str, str]
    sources: tuple[Source, ...]
    example: dict[str, str] = field(default_factory=dict)


def formula(
    words: str,
    *,
    result: tuple[str, str],
    sources: tuple[Source, ...],
    example: dict[str, str] | None = None,
    **inputs: tuple[str, str],
) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Declare a function of the engine as a formula that can be worked and shown alone."""

    def declare(function: Callable[..., Any]) -> Callable[..., Any]:
        info = FormulaInfo(function.__name__, words, inputs, result, sources, example or {})
        function.__formula__ = info  # type: ignore[attr-defined]
        return function

    return declare


def info_of(function: Callable[..., Any]) -> FormulaInfo:
    """What a declared formula says of itself. Raises TypeError for any other function."""
    info = getattr(function, "__formula__", None)
    if not isinstance(info, FormulaInfo):
        raise TypeError(f"{getattr(function, '__name__', function)!r} is not declared a formula")
    return info


def work(
    function: Callable[..., Any],
    name: str = "",
    *,
    note: str = "",
    settings: dict[str, Any] | None = None,
    sources: tuple[Source, ...] = (),
    **figures: Figure,
) -> Figure:
    """Call a formula with figures, given by the names of its inputs, and keep the working.

    ``settings`` are inputs without a unit (a word, a table row). Where inputs have ranges the
    result's range runs over their ends (every combination, which is right for a formula that
    rises or falls with each input alone).
    """
    return work_on(function, figures, name, note=note, settings=settings, sources=sources)


def work_on(
    function: Callable[..., Any],
    figures: Mapping[str, Figure],
    name: str = "",
    *,
    note: str = "",
    settings: dict[str, Any] | None = None,
    sources: tuple[Source, ...] = (),
) -> Figure:
    """As :func:`work`, for figures that come as a mapping."""
    info = info_of(function)
    fixed = settings or {}
    middle = function(**{key: each.value for key, each in figures.items()}, **fixed)
    ranged = [key for key, each in figures.items() if each.low is not None or each.high is not None]
    low = high = None
    if ranged and len(ranged) <= _MOST_CORNERS:
        ends = [
            _value(
                function(
                    **{key: each.value for key, each in figures.items()}
                    | dict(zip(ranged, corner, strict=True)),
                    **fixed,
                )
            )
            for corner in itertools.product(
                *((figures[key].least, figures[key].most) for key in ranged)
            )
        ]
        low, high = min(*ends, _value(middle)), max(*ends, _value(middle))
    elif hasattr(middle, "low") and hasattr(middle, "high"):
        low, high = float(middle.low), float(middle.high)
    return Figure(
        name=name or info.name,
        value=_value(middle),
        unit=info.result[1],
        origin="computed",
        low=low,
        high=high,
        sources=info.sources + sources,
        note=note,
        formula=info.name,
        inputs=tuple(each.named(key) if not each.name else each for key, each in figures.items()),
        steps=_steps(middle),
    )


def _value(result: Any) -> float:
    return float(getattr(result, "value", result))


def _steps(result: Any) -> tuple[tuple[str, float, str], ...]:
    if not dataclasses.is_dataclass(result) or isinstance(result, type):
        return ()
    return tuple(
        (each.name, float(getattr(result, each.name)), str(each.metadata.get("unit", "")))
        for each in dataclasses.fields(result)
        if each.name not in ("value", "low", "high")
        and isinstance(getattr(result, each.name), int | float)
    )


def step(unit: str) -> Any:
    """A field of a formula's record that is shown as an intermediate value in ``unit``."""
    return field(metadata={"unit": unit})


def total(name: str, parts: list[Figure], unit: str, note: str = "") -> Figure:
    """The sum of figures of one unit, ranges added end to end."""
    wrong = [each.name for each in parts if each.unit != unit]
    if wrong:
        raise ValueError(f"{', '.join(wrong)} cannot be added in {unit}")
    ranged = any(each.low is not None or each.high is not None for each in parts)
    return Figure(
        name=name,
        value=sum(each.value for each in parts),
        unit=unit,
        origin="computed",
        low=sum(each.least for each in parts) if ranged else None,
        high=sum(each.most for each in parts) if ranged else None,
        note=note,
        formula="sum",
        inputs=tuple(parts),
    )
