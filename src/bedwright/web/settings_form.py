"""The garden's place and limits as a form: what it shows, and what the document then states."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from bedwright.garden.edit import EditError, set_field, unset_field, value_at
from bedwright.garden.faults import Path
from bedwright.web.forms_of_parts import Field, Paper, number_and_unit
from bedwright.web.standing import Standing

CURRENCIES = ("USD", "EUR", "AUD", "GBP", "CAD", "NZD", "ZAR")
SYSTEMS = ("US customary", "metric")
FIELDS: dict[Path, str] = {
    **{("garden", name): name for name in
       ("name", "note", "latitude", "longitude", "elevation", "time_zone", "units", "currency")},
    **{("limits", name): name for name in
       ("organic_only", "budget", "avoid", "risk_accepted", "most_materials", "tolerance",
        "yield_kept")},
}  # fmt: skip
_USUAL: dict[str, Any] = {  # what holds where the document says nothing
    "units": "US customary", "currency": "USD", "organic_only": False,
    "risk_accepted": "2 years of 10", "most_materials": 5,
}  # fmt: skip
_SHARES = {"elevation": "length", "tolerance": "fraction", "yield_kept": "fraction"}
_WORDS = ("name", "note", "latitude", "longitude", "time_zone", "units", "currency")


def stated(standing: Standing) -> dict[str, str]:
    """What the form shows for what the document states."""
    garden = standing.stated.garden
    place, limits = garden.garden, garden.limits
    text = standing.revision.text
    shown = {name: str(_there(text, ("garden", name)) or "") for name in _WORDS}
    shown["units"], shown["currency"] = place.units.value, place.currency
    for name, quantity in (
        ("elevation", place.elevation),
        ("tolerance", limits.tolerance if _there(text, ("limits", "tolerance")) else None),
        ("yield_kept", limits.yield_kept if _there(text, ("limits", "yield_kept")) else None),
    ):
        number, unit = number_and_unit(quantity, _SHARES[name], standing.system)
        shown |= {name: number, f"{name}_unit": unit}
    shown["budget"] = limits.budget.text.split()[0] if limits.budget else ""
    shown["avoid"] = ", ".join(limits.avoid)
    shown["organic_only"] = "yes" if limits.organic_only else ""
    shown["risk_accepted"] = f"{limits.risk_accepted} years of 10"
    shown["most_materials"] = str(limits.most_materials)
    return shown


def written(text: str, paper: Paper) -> str:
    """The document's text with what the form says; what can't be read is noted in ``paper``."""
    said: dict[str, Any] = {name: paper.text(name) or None for name in _WORDS}
    said |= {name: paper.amount(name, kind) for name, kind in _SHARES.items()}
    said["organic_only"] = paper.text("organic_only") == "yes"
    said["risk_accepted"] = paper.text("risk_accepted") or None
    most = paper.text("most_materials")
    if most and not most.isdecimal():
        paper.fault("most_materials", _("Write a whole number from 1 to 12."))
    said["most_materials"] = int(most) if most.isdecimal() else None
    said["avoid"] = [
        each.strip() for each in paper.text("avoid").split(",") if each.strip()
    ] or None
    paper_money = Paper({**paper.typed, "budget_unit": paper.text("currency")})
    said["budget"] = paper_money.amount("budget", "money")
    for each in paper_money.faults.get("budget", ()):
        paper.fault("budget", each)
    if not said["name"]:
        paper.fault("name", _("Give the garden a name."))
    if paper.faults:
        return text
    for path, name in FIELDS.items():
        there, value = _there(text, path), said[name]
        if value is None:
            text = unset_field(text, path)
        elif there is not None or value != _USUAL.get(name):
            text = set_field(text, path, value)
    return text


def shown_fields(paper: Paper) -> dict[str, Field]:
    """The fields of the form."""

    def of(name: str, label: str, kind: str = "text", **more: Any) -> Field:
        return Field(name, label, paper.text(name), kind, faults=paper.faults.get(name, ()), **more)

    return {
        "name": of("name", _("Name of the garden"), required=True),
        "note": of("note", _("Note"), "area"),
        "latitude": of("latitude", _("Latitude"), hint=_("In words, such as 46.1 N. A map tells "
                       "it. It gives day length and season.")),
        "longitude": of("longitude", _("Longitude"), hint=_("Such as 119.2 W.")),
        "elevation": of("elevation", _("Elevation"), "number", unit=paper.text("elevation_unit")),
        "time_zone": of("time_zone", _("Time zone"), hint=_("Such as America/Los_Angeles; left "
                        "empty, this computer's.")),
        "units": of("units", _("Units you think in"), "choice",
                    choices=[(SYSTEMS[0], _("US customary: pounds, inches")),
                             (SYSTEMS[1], _("metric: kilograms, centimeters"))]),
        "currency": of("currency", _("Currency"), "choice",
                       choices=[(each, each) for each in CURRENCIES],
                       hint=_("All prices of the document are in it.")),
        "organic_only": of("organic_only", _("Only what organic growers may use"), "check"),
        "budget": of("budget", _("What you are ready to spend this year"), "number",
                     unit=paper.text("currency")),
        "avoid": of("avoid", _("Materials you don't want"), hint=_("Names with commas between.")),
        "risk_accepted": of("risk_accepted", _("How often a date may come too early or too late"),
                            "choice", choices=_risks(paper.text("risk_accepted"))),
        "most_materials": of("most_materials", _("Materials you care to weigh out for a bed, at "
                             "most"), "number"),
        "tolerance": of("tolerance", _("How far an amount may miss what the bed needs"), "number",
                        unit=paper.text("tolerance_unit"), hint=_("Usual: 10 %.")),
        "yield_kept": of("yield_kept", _("How much of the yield must be kept where salt holds it "
                         "back"), "number", unit=paper.text("yield_kept_unit"),
                         hint=_("Usual: 90 %.")),
    }  # fmt: skip


def _risks(stands: str) -> list[tuple[str, str]]:
    texts = [f"{n} years of 10" for n in range(6)]
    words = {text: _("%(n)d years in ten") % {"n": n} for n, text in enumerate(texts)}
    words[texts[0]], words[texts[1]] = _("never, as far as can be"), _("1 year in ten")
    known = dict.fromkeys((*texts, *([stands] if stands else [])))
    return [(each, words.get(each, each)) for each in known]


def _there(text: str, path: Path) -> Any:
    try:
        return value_at(text, path)
    except EditError:
        return None
