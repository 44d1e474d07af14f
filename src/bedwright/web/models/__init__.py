"""What the database holds: documents by revision, files, work, journal, calendars, sign-ins."""

from bedwright.web.models.calendar import GardenCalendar
from bedwright.web.models.garden import Garden, GardenFile, Revision
from bedwright.web.models.job import Job
from bedwright.web.models.journal import Entry, EntryHistory, Photograph
from bedwright.web.models.sign_in import SignInTry

__all__ = [
    "Entry",
    "EntryHistory",
    "Garden",
    "GardenCalendar",
    "GardenFile",
    "Job",
    "Photograph",
    "Revision",
    "SignInTry",
]
