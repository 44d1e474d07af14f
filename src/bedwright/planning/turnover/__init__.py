"""What stands in a bed that is needed: what is left in it, where it goes, and by when."""

from bedwright.planning.turnover.model import Turnover
from bedwright.planning.turnover.standing import turnovers

__all__ = ["Turnover", "turnovers"]
