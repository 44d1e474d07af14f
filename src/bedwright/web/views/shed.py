"""The shed: what all beds take, what to buy, what is on hand and what it costs."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.garden.edit import add_item, remove_item, replace_item
from bedwright.web.documents import faults_of_saving
from bedwright.web.standing import Standing, tables
from bedwright.web.stock_forms import StockFields, shown, stated, typed
from bedwright.web.views.common import page, with_standing

_NEW = "new"


@with_standing
def shed(request: HttpRequest, standing: Standing) -> HttpResponse:
    """What is taken from the shed and what is bought, then each line with its form."""
    counted = standing.document.garden.stock
    lines = [
        (at, each, counted[at].on_hand if at < len(counted) else each.on_hand)
        for at, each in enumerate(standing.stated.garden.stock)
    ]
    return page(request, "shed.html", standing, lines=lines)


@with_standing
def line(request: HttpRequest, standing: Standing, at: str) -> HttpResponse:
    """One line of the shed, or a new one: its form, and saving it."""
    stock = standing.stated.garden.stock
    if at != _NEW and not (at.isdecimal() and int(at) < len(stock)):
        raise Http404
    if request.method != "POST":
        fields = StockFields() if at == _NEW else shown(stock[int(at)])
        return _form(request, standing, at, fields, [])
    fields = typed(request.POST.dict())
    made, faults = stated(fields, standing.stated.garden.garden.currency)
    if faults:
        return _form(request, standing, at, fields, faults)
    text = standing.revision.text
    if at == _NEW:
        text = add_item(text, ("stock",), made)
        change = _("{material} put into the shed").format(material=made["material"])
    else:
        text = replace_item(text, ("stock", int(at)), made)
        change = _("{material} in the shed changed").format(material=made["material"])
    return _saved(request, standing, text, change, at, fields)


@require_POST
@with_standing
def remove(request: HttpRequest, standing: Standing, at: int) -> HttpResponse:
    """Take a line out of the shed."""
    stock = standing.stated.garden.stock
    if at >= len(stock):
        raise Http404
    change = _("{material} taken out of the shed").format(material=stock[at].material)
    text = remove_item(standing.revision.text, ("stock", at))
    return _saved(request, standing, text, change, str(at), shown(stock[at]))


def _saved(
    request: HttpRequest,
    standing: Standing,
    text: str,
    change: str,
    at: str,
    fields: StockFields,
) -> HttpResponse:
    """Save the text against the revision that the form was made from, or show what is wrong."""
    faults = faults_of_saving(
        standing.garden,
        text,
        read_from=request.POST.get("read_from", ""),
        change=change,
        user=request.user,
    )
    if faults:
        return _form(request, standing, at, fields, faults)
    messages.success(request, change)
    return redirect("shed")


def _form(
    request: HttpRequest, standing: Standing, at: str, fields: StockFields, faults: list[str]
) -> HttpResponse:
    names = sorted({row["name"].lower() for row in tables().rows("materials")})
    own = [each.material for each in standing.stated.garden.material]
    context = {
        "at": at,
        "fields": fields,
        "faults": faults,
        "names": [*own, *names],
        "package_units": fields.units(standing.system, fields.package_unit),
        "on_hand_units": fields.units(standing.system, fields.on_hand_unit),
        "currency": standing.stated.garden.garden.currency,
        "read_from": standing.revision.pk,
    }
    return render(request, "web/stock.html", context, status=422 if faults else 200)


URLS = [
    path("shed/", shed, name="shed"),
    path("shed/<str:at>/", line, name="stock"),
    path("shed/<int:at>/remove/", remove, name="stock-remove"),
]
