"""Two season plans beside each other: what changes from one to the other."""

from bedwright.reports.differences.compare import plan_differences
from bedwright.reports.differences.model import PlanDifferences

__all__ = ["PlanDifferences", "plan_differences"]
