"""What a bed offers its crops as a form: its parts, a trellis that stands on it, its water."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.http import Http404
from django.utils.translation import gettext as _

from bedwright.garden.model import Bed
from bedwright.web.forms_of_parts import Paper
from bedwright.web.part_forms import Group, Item, PartForm, maker
from bedwright.web.standing import Standing

_MOST_PARTS = 12


class BedForm(PartForm):
    """A bed that stands in the document; its size and soil are left to the document's own page,
    new beds to the first steps."""

    table, back, address = "bed", "garden", "bed-form"
    names = ("parts", "trellis", "water_zone")

    def titles(self) -> tuple[str, str]:
        """The words over the form and on the button that takes out."""
        return _("A bed"), _("Take the bed out")

    def begun(self, standing: Standing, asked: Mapping[str, str]) -> dict[str, str]:
        """There is no form of a new bed here. Raises Http404."""
        raise Http404

    def stated(self, standing: Standing, at: int) -> dict[str, str]:
        """What the form shows for a bed."""
        bed: Bed = standing.stated.garden.bed[at]
        return {
            "parts": str(bed.parts),
            "trellis": "yes" if bed.trellis else "",
            "water_zone": bed.water_zone or "",
        }

    def read(self, standing: Standing, paper: Paper, held: Item | None) -> dict[str, Any]:
        """The bed's fields as the document states them. Raises Http404 for a bed that is gone."""
        if held is None:
            raise Http404
        parts = paper.whole("parts", 1, _MOST_PARTS)
        if parts is None and not paper.faults:
            paper.fault("parts", _("Say in how many parts the bed is planted: 1 is all of it."))
        return {
            "parts": parts if parts != 1 else None,
            "trellis": True if paper.text("trellis") else None,
            "water_zone": paper.text("water_zone") or None,
        }

    def groups(self, standing: Standing, paper: Paper) -> list[Group]:
        """The fields of a bed."""
        of = maker(paper)
        zones = [each.id for each in standing.stated.garden.water_zone]
        named = dict.fromkeys([*zones, *filter(None, [paper.text("water_zone")])])
        return [
            Group(
                "",
                [
                    of("parts", _("Parts along it that may bear crops of their own"), "number",
                       hint=_("1 is the whole bed; 2 are its halves."), required=True),
                    of("trellis", _("A trellis stands on it"), "check"),
                    of("water_zone", _("Watered by the zone"), "choice",
                       choices=[("", _("none")), *((each, each) for each in named)]),
                ],
            ),
        ]  # fmt: skip

    def lists(self, standing: Standing) -> dict[str, Sequence[str]]:
        """No field offers known words."""
        return {}

    def called(self, item: Item) -> str:
        """A bed by its id."""
        return _("Bed {bed}").format(bed=item["id"])
