"""bedwright: what each bed needs, worked from a soil report, with its working shown."""

__version__ = "0.1.0"
