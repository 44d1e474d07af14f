"""The years ahead and the light on the beds, kept beside the plans."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bedwright.planning.assignment.result import YearsAhead
from bedwright.planning.light_map import BedLight
from bedwright.web.models import Garden
from bedwright.web.plan_store import forget, keep_as, stored_as


@dataclass(frozen=True)
class GardenLight:
    """The light on every bed by its id; empty where the garden does not state its latitude."""

    beds: Mapping[str, BedLight]


def stored_years(key: str) -> YearsAhead | None:
    """The years ahead by the key of a plan; None where they are not found yet."""
    found = stored_as(key, "years")
    return found if isinstance(found, YearsAhead) else None


def first_years(key: str) -> YearsAhead | None:
    """The first plan of the years, shown while a better one is sought."""
    return stored_years(f"{key}-first")


def keep_years(key: str, years: YearsAhead, *, first: bool = False) -> None:
    """Keep the years ahead, or a first plan of them. Raises OSError."""
    keep_as(f"{key}-first" if first else key, "years", years)


def forget_years(key: str) -> None:
    """Forget the years kept under a key, the first plan too."""
    forget(key, "years")
    forget(f"{key}-first", "years")


def years_that_stand(garden: Garden) -> str:
    """The key of the last finished years of a garden's standing revision, whatever its day."""
    return f"standing-{garden.pk}"


def stored_light(key: str) -> GardenLight | None:
    """The light on the beds by the key of a plan; None where it is not worked out yet."""
    found = stored_as(key, "light")
    return found if isinstance(found, GardenLight) else None


def keep_light(key: str, light: GardenLight) -> None:
    """Keep the light on the beds. Raises OSError."""
    keep_as(key, "light", light)
