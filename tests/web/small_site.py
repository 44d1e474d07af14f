"""A garden of two beds in May for the pages: something to do, to clear, to pick and to buy."""

from bedwright.web import jobs
from bedwright.web.models import Garden, Job
from bedwright.web.standing import standing_of
from planning.work.work_gardens import garden

AS_OF = "2027-05-03"
_WANTS = (
    '[[want]]\ncrop = "tomato"\nbeds = ["A"]\nset_out = 2027-05-24\n'
    '[[want]]\ncrop = "carrot"\nbeds = ["B"]\nset_out = 2027-06-01\n'
)
_MORE = """
[animals]
kinds = ["goats", "ducks"]
[[standing]]
bed = "A"
crop = "kale"
pick_per_week = "3 lb"
[[crop]]
crop = "kale"
price = "3 USD"
per = "1 lb"
[[wish]]
crop = "tomato"
a_week = "60 lb"
from_day = "07-26"
to_day = "09-26"
[[supply]]
item = "twine"
on_hand = "300 ft"
[[supply]]
item = "seed"
crop = "carrot"
package = "10 g"
price = "4 USD"
[[labor_done]]
task = "sow trays"
bed = "A"
crop = "tomato"
on = 2027-04-01
"""


def small_text(hours: int = 12) -> str:
    """The garden's document, with so many hours a week."""
    return garden(_WANTS, f"hours_per_week = {hours}", ("A", "B"), more=_MORE)


def small_garden(text: str = "") -> Garden:
    """The garden in the database, with its plan made as the worker makes it."""
    from bedwright.web.documents import make_garden

    made = make_garden(text or small_text(), "Small", None, change="made")
    replan(made)
    return made


def replan(made: Garden, kind: str = "plan") -> None:
    """Do what the worker would do for the garden as it stands now."""
    standing = standing_of(made)
    key = standing.key if kind == "plan" else standing.work_key
    job = jobs.ask(made, kind, key, revision=standing.revision.pk)
    jobs.run(job)
    job.refresh_from_db()
    assert job.state == Job.State.DONE, job.fault
