"""A form as a browser would send it: read from the page itself."""

from __future__ import annotations

from html.parser import HTMLParser

from django.urls import reverse


class Inputs(HTMLParser):
    """The fields of the first form of a page that is posted, as a browser would send them."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.sent: dict[str, list[str]] = {}
        self._open, self._name, self._forms = False, "", 0
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        if tag == "form":
            self._open = given.get("class") == "entry"
        if not self._open:
            return
        name = given.get("name", "")
        if tag == "input" and given.get("type") in ("checkbox", "radio"):
            if "checked" in given:
                self.sent.setdefault(name, []).append(given["value"])
        elif tag == "input":
            self.sent.setdefault(name, []).append(given.get("value") or "")
        elif tag in ("select", "textarea"):
            self._name = name
            self.sent.setdefault(name, [""])
        elif tag == "option" and "selected" in given:
            self.sent[self._name] = [given["value"] or ""]

    def handle_data(self, data):
        if self._open and self._name and self.get_starttag_text().startswith("<textarea"):
            self.sent[self._name] = [data.replace("\n", "\r\n")]

    def handle_endtag(self, tag):
        if tag == "form":
            self._open = False
        if tag in ("select", "textarea"):
            self._name = ""


def sent_of(page: str) -> dict[str, object]:
    """What the page's form sends as it stands."""
    return dict(Inputs(page).sent)


def form_of(client, address: str, at) -> dict[str, object]:
    """What a browser would send from the form of an item as it is shown."""
    return sent_of(client.get(reverse(address, args=[at])).content.decode())
