"""What the database holds: documents by revision, files, work to be done."""

from bedwright.web.models.garden import Garden, GardenFile, Revision
from bedwright.web.models.job import Job

__all__ = ["Garden", "GardenFile", "Job", "Revision"]
