"""A strict reader of calendar files, by the words of RFC 5545 alone; it knows nothing of ours."""

import re
from dataclasses import dataclass, field
from datetime import date, datetime

# Section 3.1: a name, parameters, a value without control signs.
_LINE = re.compile(
    r"(?P<name>[A-Za-z0-9-]+)"
    r"(?P<params>(?:;[A-Za-z0-9-]+=(?:\"[^\"\x00-\x08\x0a-\x1f\x7f]*\"|[^\";:,\x00-\x1f\x7f]*)"
    r"(?:,(?:\"[^\"\x00-\x1f\x7f]*\"|[^\";:,\x00-\x1f\x7f]*))*)*)"
    r":(?P<value>[^\x00-\x08\x0a-\x1f\x7f]*)"
)
# Section 3.3.11: what may stand in a text.
_TEXT = re.compile(r"(?:[^\\;,\x00-\x08\x0a-\x1f\x7f]|\\[\\;,Nn])*")
_LIST = re.compile(rf"{_TEXT.pattern}(?:,{_TEXT.pattern})*")
_TEXTS = {"SUMMARY", "DESCRIPTION", "LOCATION", "UID", "STATUS", "TRANSP", "NAME"}
# Sections 3.6, 3.6.1: what must be there once, and what may be there once at most.
_MUST = {"VCALENDAR": {"PRODID", "VERSION"}, "VEVENT": {"UID", "DTSTAMP", "DTSTART"}}
_ONCE = {
    "CLASS", "CREATED", "DESCRIPTION", "DTSTART", "DTEND", "DTSTAMP", "GEO", "LAST-MODIFIED",
    "LOCATION", "ORGANIZER", "PRIORITY", "SEQUENCE", "STATUS", "SUMMARY", "TRANSP", "UID", "URL",
    "RECURRENCE-ID", "DURATION", "PRODID", "VERSION", "CALSCALE", "METHOD",
}  # fmt: skip
_MOST_OCTETS = 75


@dataclass
class Part:
    """A component: its properties as (name, parameters, value), and the parts within it."""

    name: str
    lines: list[tuple[str, str, str]] = field(default_factory=list)
    parts: list["Part"] = field(default_factory=list)

    def raw(self, name: str) -> str:
        (found,) = [value for each, _, value in self.lines if each == name]
        return found

    def text(self, name: str) -> str:
        found = re.sub(r"\\([Nn])", "\n", self.raw(name).replace("\\\\", "\0"))
        return re.sub(r"\\(.)", r"\1", found).replace("\0", "\\")

    def day(self, name: str) -> date:
        return datetime.strptime(self.raw(name), "%Y%m%d").date()


def read(content: bytes) -> Part:
    """The calendar in a file; AssertionError where the RFC is broken."""
    assert content.endswith(b"\r\n"), "the last line is not ended by CR LF"
    assert not re.search(rb"[^\r]\n|\r[^\n]", content), "a line is not ended by CR LF"
    physical = content[:-2].split(b"\r\n")
    assert all(physical), "a line is empty"
    assert max(map(len, physical)) <= _MOST_OCTETS, "a line is longer than 75 octets"
    for each in physical:
        each.decode("utf-8")  # no sign is cut in two
    unfolded = content[:-2].replace(b"\r\n ", b"").replace(b"\r\n\t", b"").decode("utf-8")
    root, open_parts = Part(""), []
    open_parts.append(root)
    for line in unfolded.split("\r\n"):
        found = _LINE.fullmatch(line)
        assert found, line
        name, params, value = found["name"].upper(), found["params"], found["value"]
        if name == "BEGIN":
            part = Part(value)
            open_parts[-1].parts.append(part)
            open_parts.append(part)
        elif name == "END":
            assert open_parts.pop().name == value
        else:
            open_parts[-1].lines.append((name, params, value))
    assert open_parts == [root] and [each.name for each in root.parts] == ["VCALENDAR"]
    (calendar,) = root.parts
    _check(calendar)
    return calendar


def _check(calendar: Part) -> None:
    for part in (calendar, *calendar.parts):
        names = [name for name, _, _ in part.lines]
        assert set(names) >= _MUST[part.name], part
        twice = {each for each in names if names.count(each) > 1} & _ONCE
        assert not twice, twice
        for name, _, value in part.lines:
            if name in _TEXTS or name.startswith("X-"):
                assert _TEXT.fullmatch(value), (name, value)
            elif name == "CATEGORIES":
                assert _LIST.fullmatch(value), value
    assert calendar.raw("VERSION") == "2.0"
    assert re.match(r"-//.+//.+//[A-Z]{2}$", calendar.raw("PRODID"))
    uids = [each.raw("UID") for each in calendar.parts]
    assert len(set(uids)) == len(uids), "an id stands twice"
    for event in calendar.parts:
        assert event.name == "VEVENT"
        params = {name: params for name, params, _ in event.lines}
        assert params["DTSTART"] == params["DTEND"] == ";VALUE=DATE"
        assert event.day("DTSTART") < event.day("DTEND")
        assert re.fullmatch(r"\d{8}T\d{6}Z", event.raw("DTSTAMP"))
        assert re.fullmatch(r"\d+", event.raw("SEQUENCE"))
        assert event.raw("STATUS") in ("CONFIRMED", "CANCELLED", "TENTATIVE")
        assert event.raw("TRANSP") in ("OPAQUE", "TRANSPARENT")
