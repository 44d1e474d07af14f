"""The season plan: a garden document and a day in, what each bed gets out."""

from bedwright.season.blend import SeasonBlend, assessments, season_blend
from bedwright.season.make import season_plan
from bedwright.season.model import PLAN_FORMAT, BedPlan, SeasonPlan
from bedwright.season.totals import ShedTotal, revisions

__all__ = [
    "PLAN_FORMAT",
    "BedPlan",
    "SeasonBlend",
    "SeasonPlan",
    "ShedTotal",
    "assessments",
    "revisions",
    "season_blend",
    "season_plan",
]
