"""A crop that failed: written down from its bed's page as the document states it, taken back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.garden import Document, GardenError, Want
from bedwright.garden.edit import add_item, remove_item, set_field, unset_field
from bedwright.garden.failed import open_wants
from bedwright.language import named
from bedwright.reference.library import fold
from bedwright.reports.days_said import day_year_words
from bedwright.web.forms_of_parts import Paper, save
from bedwright.web.models import Garden
from bedwright.web.part_forms import Group, Item, items, maker
from bedwright.web.standing import Standing, read
from bedwright.web.views.common import with_standing

_TABLE = "history"
_SHOWN = timedelta(days=366)  # how long a loss may be taken back from its bed's page
_HALF_YEAR, _YEAR = 6, 12  # months
_LONGEST = 400  # letters of the gardener's own words; a note of the document holds 500
_BARE = frozenset({"bed", "part", "year", "crop", "failed", "note"})


@dataclass(frozen=True)
class Failure:
    """A loss that the document states, by its place in the history."""

    at: int
    crop: str
    on: date
    note: str


@dataclass(frozen=True)
class _Growing:
    """A crop that may have failed: its word in the document, its key, its day if one is stated."""

    word: str
    key: str
    start: date | None


def failures_of(standing: Standing, bed: str) -> list[Failure]:
    """The losses of a bed in the last twelve months, as the document states them."""
    return [
        Failure(at, _named(each.crop or ""), each.failed, each.note or "")
        for at, each in enumerate(standing.stated.garden.history)
        if each.bed == bed and each.failed is not None and standing.as_of - each.failed < _SHOWN
    ]


def still_wanted(standing: Standing, bed: str) -> list[Want]:
    """What the document wants of a bed, without what failed on it."""
    return [want for _at, want in _open_wants(standing.document, bed)]


def may_have_failed(standing: Standing, bed: str) -> bool:
    """Whether a crop is planned for a bed by today, or grows there."""
    return bool(_growing(standing, bed))


@with_standing
def failed(request: HttpRequest, standing: Standing, bed_id: str) -> HttpResponse:
    """The form that says which crop of a bed was lost, when and to what; and saving it."""
    if all(each.id != bed_id for each in standing.stated.garden.bed):
        raise Http404
    growing = {each.word: each for each in _growing(standing, bed_id)}
    if request.method != "POST":
        only = next(iter(growing)) if len(growing) == 1 else ""
        begun = Paper({"crop": only, "failed": standing.as_of.isoformat()})
        return _shown(request, standing, bed_id, list(growing), begun)
    paper = Paper.of(request.POST)
    grown, on = growing.get(paper.text("crop")), paper.day("failed")
    if grown is None:
        paper.fault("crop", _("Say which crop failed."))
    if on is None and "failed" not in paper.faults:
        paper.fault("failed", _("Say on which day it was lost."))
    if on is not None and on > standing.as_of:
        paper.fault("failed", _("This day is still to come: write it down when it is here."))
    note = _note(paper)
    if grown is None or on is None or paper.faults:
        return _shown(request, standing, bed_id, list(growing), paper)
    text, fields = _written(standing, bed_id, grown, on, note)
    crop = _named(grown.word)
    try:
        made = read(standing.garden, text, standing.as_of)
    except GardenError as error:
        paper.take(error, fields)
    else:
        if (early := _too_early(standing, made, bed_id, grown)) is not None:
            paper.fault("failed", early)
    change = _("{crop} in bed {bed} failed on {day}").format(
        crop=crop, bed=bed_id, day=on.isoformat()
    )
    if paper.faults or not save(request, standing, paper, text, change, fields):
        return _shown(request, standing, bed_id, list(growing), paper)
    messages.success(
        request,
        _("Written down: {crop} failed. Nothing more is planned for it; the bed is planned anew "
          "from that day.").format(crop=crop),
    )  # fmt: skip
    return redirect("bed", bed_id)


@require_POST
@with_standing
def taken_back(request: HttpRequest, standing: Standing, bed_id: str, at: int) -> HttpResponse:
    """Take a loss back: the document says again what it said before."""
    paper = Paper.of(request.POST)
    if paper.text("read_from") != str(standing.revision.pk):  # the place may be another's now
        said = _("The garden was changed meanwhile ({change}). Look at it, and try again.")
        messages.error(request, said.format(change=standing.revision.change))
        return redirect("bed", bed_id)
    held = items(standing.revision.text, _TABLE)
    if at >= len(held) or held[at].get("bed") != bed_id or "failed" not in held[at]:
        raise Http404
    crop = _named(str(held[at].get("crop", "")))
    change = _("{crop} in bed {bed} did not fail").format(crop=crop, bed=bed_id)
    text = _as_before(standing.garden, standing.revision.text, at)
    if save(request, standing, paper, text, change, {}):
        messages.success(request, _("Taken back: {crop} did not fail.").format(crop=crop))
    else:
        for _name, each in paper.on_top:
            messages.error(request, _("Not taken back. {why}").format(why=each))
    return redirect("bed", bed_id)


def _named(word: str) -> str:
    """A crop as it is called here, from its word in the document."""
    return named(word.replace("_", " "))


def _reasons() -> dict[str, str]:
    """What crops are lost to, in plain words."""
    return {
        "frost": _("Frost"),
        "heat": _("Heat"),
        "dry": _("Too dry"),
        "wet": _("Too wet, or flooded"),
        "storm": _("Hail, wind or heavy rain"),
        "not up": _("It did not come up"),
        "insects": _("Insects, slugs or mites"),
        "animals": _("Birds, rabbits, deer or other animals"),
        "disease": _("Disease"),
        "weeds": _("Weeds"),
        "bolted": _("It bolted"),
        "mishap": _("A mishap: mown, trodden, sprayed"),
        "other": _("Something else"),
    }


def _note(paper: Paper) -> str:
    reasons, reason, words = _reasons(), paper.text("reason"), paper.text("words")
    if len(words) > _LONGEST:
        paper.fault(
            "words",
            _("These are {count} letters: {most} are the most. Keep the rest for the "
              "journal.").format(count=len(words), most=_LONGEST),
        )  # fmt: skip
    if reason not in reasons:
        paper.fault("reason", _("Say what it was lost to; “Something else” will do."))
        return ""
    if reason == "other":
        if not words:
            paper.fault("words", _("Say in a few words what it was."))
        return words
    return f"{reasons[reason]}. {words}".strip()


def _growing(standing: Standing, bed: str) -> list[_Growing]:
    """What is planned for a bed by today, then what grows there without being wanted."""
    found: dict[str, _Growing] = {}
    document = standing.document
    if not document.garden.want and (plan := standing.plan()) is not None:
        document = plan.document  # what the wishes ask for, put on beds by the years ahead
    for at, want in _open_wants(document, bed):
        if _by_now(want, standing):
            key = document.key("want", at, "crop")
            found.setdefault(key, _Growing(want.crop, key, want.set_out))
    for at, season in enumerate(standing.document.garden.history):
        ended = season.failed is not None or season.harvested is not None
        if season.bed == bed and season.crop and season.year >= standing.as_of.year and not ended:
            key = standing.document.key(_TABLE, at, "crop")
            found.setdefault(key, _Growing(season.crop, key, None))
    return list(found.values())


def _open_wants(document: Document, bed: str) -> list[tuple[int, Want]]:
    return [(at, document.garden.want[at]) for at in open_wants(document.garden).get(bed, ())]


def _written(
    standing: Standing, bed: str, grown: _Growing, on: date, note: str
) -> tuple[str, dict[Any, str]]:
    """The document with the loss, in the season that tells of the crop or in one of its own."""
    text, year = standing.revision.text, _season(standing, bed, grown, on)
    keys = standing.stated.keys
    at = next(
        (
            at
            for at, each in enumerate(standing.stated.garden.history)
            if (each.bed, each.year, each.failed) == (bed, year, None)
            and keys.get((_TABLE, at, "crop")) == grown.key
        ),
        None,
    )
    if at is None:
        item = {"bed": bed, "year": year, "crop": grown.word, "failed": on, "note": note}
        text = add_item(text, (_TABLE,), item)
        at = len(items(text, _TABLE)) - 1
    else:
        before = standing.stated.garden.history[at].note
        text = set_field(text, (_TABLE, at, "failed"), on)
        text = set_field(text, (_TABLE, at, "note"), f"{before} {note}" if before else note)
    names = {"failed": "failed", "year": "failed", "crop": "crop", "note": "words"}
    return text, {(_TABLE, at, name): field for name, field in names.items()}


def _season(standing: Standing, bed: str, grown: _Growing, on: date) -> int:
    """The season that a loss belongs to, by the year of its harvest, as the journal counts it."""
    told = [
        each.year
        for at, each in enumerate(standing.document.garden.history)
        if each.bed == bed
        and each.failed is None
        and each.year in (on.year, on.year + 1)
        and standing.document.keys.get((_TABLE, at, "crop")) == grown.key
    ]
    if told:
        return min(told)
    latitude = standing.document.garden.garden.latitude
    south = latitude is not None and latitude.si < 0
    if grown.start is None or grown.start > on:
        return on.year + (1 if south and on.month > _HALF_YEAR else 0)
    ends = round(standing.library.parameter("season_ends_month", "month").value)
    ends = (ends - 1 + _HALF_YEAR) % _YEAR + 1 if south else ends
    return grown.start.year + (1 if grown.start.month > ends else 0)


def _too_early(standing: Standing, made: Document, bed: str, grown: _Growing) -> str | None:
    """That no planting stood there on the day, where the crop is wanted on the bed."""
    open_before = dict(_open_wants(standing.stated, bed))
    own = [
        each
        for at, each in open_before.items()
        if standing.stated.key("want", at, "crop") == grown.key and _by_now(each, standing)
    ]
    days = [each.set_out for each in own if each.set_out is not None]
    if not days or len(dict(_open_wants(made, bed))) < len(open_before):
        return None
    said = _("{crop} is set out or sown here on {day} by the document: no planting of it stood "
             "here then. Correct this day, or the crop's own date at Crops and dates.")  # fmt: skip
    return said.format(crop=_named(grown.word), day=day_year_words(min(days)))


def _by_now(want: Want, standing: Standing) -> bool:
    return want.set_out is None or want.set_out <= standing.as_of


def _as_before(garden: Garden, text: str, at: int) -> str:
    """The text with the season at a place as it stood before its loss was written down."""
    item = items(text, _TABLE)[at]
    known, before = _stood(garden, item)
    if known and before is None and set(item) <= _BARE:
        return remove_item(text, (_TABLE, at))
    note = item.get("note") if not known else (before or {}).get("note")
    text = unset_field(text, (_TABLE, at, "failed"))
    here = (_TABLE, at, "note")
    return unset_field(text, here) if note is None else set_field(text, here, note)


def _stood(garden: Garden, item: Item) -> tuple[bool, Item | None]:
    """The season as the newest revision without its loss has it, None where it has none; first,
    whether there is such a revision."""

    def same(each: Item) -> bool:
        return (
            all(each.get(name) == item.get(name) for name in ("bed", "part", "year"))
            and fold(str(each.get("crop", ""))) == fold(str(item.get("crop", "")))
            and each.get("failed") in (None, item["failed"])
        )

    kept = garden.revisions.filter(number__isnull=False).order_by("-number")
    for text in kept.values_list("text", flat=True).iterator():
        found = [each for each in items(text, _TABLE) if same(each)]
        if not any("failed" in each for each in found):
            return True, found[0] if found else None
    return False, None


def _shown(
    request: HttpRequest, standing: Standing, bed: str, crops: list[str], paper: Paper
) -> HttpResponse:
    """The form with what was typed and what is wrong with it."""
    of = maker(paper)
    group = Group(
        "",
        [
            of("crop", _("Which crop"), "one", choices=[(each, _named(each)) for each in crops]),
            of("failed", _("Lost on"), "date", required=True,
               hint=_("From this day on the bed is free, and is planned anew.")),
            of("reason", _("What it was lost to"), "one", choices=list(_reasons().items()),
               hint=_("A disease or pest that stays in the soil is written down at Rotation too, "
                      "so that its hosts stay away.")),
            of("words", _("In your own words"), "area"),
        ],
    )  # fmt: skip
    later = [
        (_named(each.crop), each.set_out)
        for _at, each in _open_wants(standing.document, bed)
        if each.set_out is not None and each.set_out > standing.as_of
    ]
    stands = [
        _named(each.crop)
        for each in standing.document.garden.standing
        if each.bed == bed and each.crop not in crops
    ]
    wrong = bool(paper.faults or paper.by_whom)
    context: dict[str, Any] = {
        "paper": paper, "groups": [group], "bed_id": bed, "crops": crops, "later": later,
        "stands": stands,
        "read_from": standing.revision.pk,
    }  # fmt: skip
    return render(request, "web/bed_failed.html", context, status=422 if wrong else 200)


URLS = [
    path("bed/<str:bed_id>/failed/", failed, name="bed-failed"),
    path("bed/<str:bed_id>/failed/<int:at>/undo/", taken_back, name="bed-failed-undo"),
]
