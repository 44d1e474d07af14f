"""Photographs of the journal: made smaller, encoded anew, without place or any other data."""

from __future__ import annotations

import hashlib
import io
import warnings
from pathlib import Path
from typing import IO, Any

from django.core.files import File
from django.utils.translation import gettext as _

from bedwright.garden import write_whole
from bedwright.web.home import home
from bedwright.web.models import Garden, Photograph

MOST_BYTES = 25_000_000  # no telephone writes more
_MOST_PIXELS = 110_000_000  # telephones count to 108 million
_LONGEST_SIDE = 1600  # pixels: shows a leaf's spots, and a season of them fits on a disk
_QUALITY = 82
_FORMATS = ("JPEG", "PNG", "WEBP")  # what telephones write; a JPEG of two pictures counts as one


class PhotographRefused(ValueError):
    """A file that is no photograph to be kept, with the reason in words."""


def keep_photograph(garden: Garden, stream: IO[Any] | File[Any], size: int) -> Photograph:
    """Keep a photograph: at most 1600 pixels long, upright, as a JPEG of the picture alone.

    Raises PhotographRefused for what is too large or no picture, OSError where it can't be
    written.
    """
    if size > MOST_BYTES:
        raise PhotographRefused(_("The photograph is larger than 25 MB. Send a smaller one."))
    data, width, height = _smaller(stream.read(MOST_BYTES + 1))
    digest = hashlib.sha256(data).hexdigest()
    path = photograph_path(digest)
    if not path.exists():
        write_whole(path, data)
    found, _made = Photograph.objects.get_or_create(
        garden=garden,
        digest=digest,
        defaults={"width": width, "height": height, "size": len(data)},
    )
    return found


def photograph_path(digest: str) -> Path:
    """Where a photograph lies, by its digest of 64 hexadecimal digits."""
    if len(digest) != 64 or not set(digest) <= set("0123456789abcdef"):
        raise ValueError("not a digest")
    return home().photographs / f"{digest}.jpg"


def _smaller(data: bytes) -> tuple[bytes, int, int]:
    from PIL import Image, ImageOps, UnidentifiedImageError

    refused = _("This file is no photograph that can be read. Send a JPEG, PNG or WebP picture.")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)  # counted below
            opened = Image.open(io.BytesIO(data), formats=_FORMATS)
        if opened.width * opened.height > _MOST_PIXELS:
            raise PhotographRefused(
                _("The photograph has more pixels than can be opened safely. Send a smaller one.")
            )
        opened.draft("RGB", (_LONGEST_SIDE, _LONGEST_SIDE))  # a JPEG is decoded small at once
        upright = ImageOps.exif_transpose(opened)
        upright.thumbnail((_LONGEST_SIDE, _LONGEST_SIDE), Image.Resampling.LANCZOS)
        # Onto a new sheet: nothing but the picture goes along (comments would, else).
        sheet = Image.new("RGB", upright.size, "white")
        clear = upright.convert("RGBA") if "A" in upright.getbands() else upright.convert("RGB")
        sheet.paste(clear, mask=clear if clear.mode == "RGBA" else None)
    except Image.DecompressionBombError:
        raise PhotographRefused(
            _("The photograph has more pixels than can be opened safely. Send a smaller one.")
        ) from None
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, EOFError) as fault:
        if isinstance(fault, PhotographRefused):
            raise
        raise PhotographRefused(refused) from None
    made = io.BytesIO()
    sheet.save(made, "JPEG", quality=_QUALITY, optimize=True)
    return made.getvalue(), *sheet.size
