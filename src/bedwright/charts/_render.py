"""The child process that turns specifications into pictures; it alone loads the renderer.

Reads one JSON object from standard input and writes one to standard output (see ``export``).
"""

from __future__ import annotations

import base64
import json
import re
import sys
from typing import Any

VEGA_LITE = "6.4"
_NO_NETWORK: list[str] = []
_MOST_DRAWN = 40
_FACES = re.compile(rb"/FontName /[A-Z]+\+([A-Za-z-]+)")
_RESOURCES = re.compile(rb"(?:[ ]+/[A-Za-z]+[0-9]+ [0-9]+ 0 R\n){2,}")


def _picture(spec: dict[str, Any], form: str, ppi: float) -> bytes:
    import vl_convert

    if form == "svg":
        text = vl_convert.vegalite_to_svg(spec, vl_version=VEGA_LITE, allowed_base_urls=_NO_NETWORK)
        return text.encode("utf-8")
    if form == "png":
        return vl_convert.vegalite_to_png(
            spec, vl_version=VEGA_LITE, allowed_base_urls=_NO_NETWORK, ppi=ppi
        )
    return _pdf(spec)


def _pdf(spec: dict[str, Any]) -> bytes:
    """A PDF in one order of its parts: the renderer numbers its faces as its hashing has it.

    It is drawn again until they stand by name, which two faces do every second time.
    """
    import vl_convert

    made = b""
    for _ in range(_MOST_DRAWN):
        made = vl_convert.vegalite_to_pdf(spec, vl_version=VEGA_LITE, allowed_base_urls=_NO_NETWORK)
        faces = _FACES.findall(made)
        if faces == sorted(faces):
            break
    return _RESOURCES.sub(_in_order, made)


def _in_order(found: re.Match[bytes]) -> bytes:
    """The resources of a PDF in one order: the renderer lists them as its hashing has it.

    The lines only change places, so that every offset in the file stays right.
    """
    return b"".join(sorted(found[0].splitlines(keepends=True)))


def _main() -> None:
    import vl_convert

    asked = json.load(sys.stdin)
    vl_convert.register_font_directory(asked["fonts"])
    made = [
        base64.b64encode(_picture(asked["specs"][name], form, asked["ppi"])).decode("ascii")
        for name, form in asked["pictures"]
    ]
    sys.stdout.write(json.dumps(made))


if __name__ == "__main__":
    _main()
