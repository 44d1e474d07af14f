"""Weather files in open formats: bytes in, a record and what is to be told out."""

from bedwright.climate.formats.assemble import WeatherFile
from bedwright.climate.formats.recognize import read_weather

__all__ = ["WeatherFile", "read_weather"]
