"""Measured drawings: the garden and its beds to scale, as SVG text for page and print."""

from bedwright.drawings.bed_plan import bed_drawing
from bedwright.drawings.garden_plan import garden_drawing
from bedwright.drawings.hatching import BedState
from bedwright.drawings.light_strip import LightStrip
from bedwright.drawings.rows import Row

__all__ = ["BedState", "LightStrip", "Row", "bed_drawing", "garden_drawing"]
