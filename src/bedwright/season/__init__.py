"""The season plan: a garden document and a day in, what each bed gets out."""

from bedwright.season.make import assessments, season_plan
from bedwright.season.model import PLAN_FORMAT, BedPlan, SeasonPlan, ShedTotal
from bedwright.season.totals import revisions

__all__ = [
    "PLAN_FORMAT",
    "BedPlan",
    "SeasonPlan",
    "ShedTotal",
    "assessments",
    "revisions",
    "season_plan",
]
