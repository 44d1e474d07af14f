"""The one face of charts, drawings and print: its files, how wide its words are, what it lacks."""

from __future__ import annotations

import struct
from functools import lru_cache
from importlib import resources
from pathlib import Path

FAMILY = "Atkinson Hyperlegible"
_PACKAGE = "fontpkg_atkinson_hyperlegible"
_REGULAR, _BOLD = "AtkinsonHyperlegible-Regular.ttf", "AtkinsonHyperlegible-Bold.ttf"


class FaceError(RuntimeError):
    """The face is not there, or it lacks a sign: words would vanish in print."""


def face_folder() -> Path:
    """The folder of the face's files. Raises FaceError where one is missing."""
    try:
        folder = Path(str(resources.files(_PACKAGE))) / "files"
    except ModuleNotFoundError:
        raise FaceError(
            f"the face {FAMILY} is not installed: install fontpkg-atkinson-hyperlegible"
        ) from None
    for name in (_REGULAR, _BOLD):
        if not (folder / name).is_file():
            raise FaceError(f"the face {FAMILY} has no file {name}: install it again")
    return folder


@lru_cache(maxsize=4096)  # a drawing asks for the same words over and over
def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width of a line of text [px] at a size [px]. A sign that the face lacks counts as wide."""
    glyphs, advances, per_em = _metrics(_BOLD if bold else _REGULAR)
    wide = per_em
    units = sum(advances[glyphs[ord(each)]] if ord(each) in glyphs else wide for each in text)
    return units / per_em * size


def lacking(text: str) -> str:
    """The signs of a text that the face lacks, each once; empty where it has all."""
    known = [_metrics(name)[0] for name in (_REGULAR, _BOLD)]
    return "".join(
        dict.fromkeys(
            each for each in text if each not in "\n" and any(ord(each) not in k for k in known)
        )
    )


def wrapped(text: str, width: float, size: float, *, bold: bool = False) -> list[str]:
    """A text in lines no wider than ``width`` [px]; a single word may be wider."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, bold=bold) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


@lru_cache
def _metrics(name: str) -> tuple[dict[int, int], tuple[int, ...], int]:
    """Glyph of each character, advance of each glyph, units per em, read from the TrueType file."""
    data = (face_folder() / name).read_bytes()
    count = struct.unpack_from(">H", data, 4)[0]
    tables = {
        data[at : at + 4].decode("ascii"): struct.unpack_from(">I", data, at + 8)[0]
        for at in range(12, 12 + 16 * count, 16)
    }
    per_em: int = struct.unpack_from(">H", data, tables["head"] + 18)[0]
    long_metrics: int = struct.unpack_from(">H", data, tables["hhea"] + 34)[0]
    glyph_count: int = struct.unpack_from(">H", data, tables["maxp"] + 4)[0]
    advances = [
        int(struct.unpack_from(">H", data, tables["hmtx"] + 4 * at)[0])
        for at in range(long_metrics)
    ]
    advances += advances[-1:] * (glyph_count - long_metrics)
    return _characters(data, tables["cmap"]), tuple(advances), per_em


def _characters(data: bytes, cmap: int) -> dict[int, int]:
    """The character map in format 4, which every TrueType face of the basic plane carries."""
    for at in range(struct.unpack_from(">H", data, cmap + 2)[0]):
        start = cmap + struct.unpack_from(">I", data, cmap + 8 + 8 * at)[0]
        if struct.unpack_from(">H", data, start)[0] == 4:
            break
    else:
        raise FaceError(f"the face {FAMILY} has no character map that can be read")
    twice = struct.unpack_from(">H", data, start + 6)[0]
    count = twice // 2

    def column(offset: int, kind: str = "H") -> tuple[int, ...]:
        return struct.unpack_from(f">{count}{kind}", data, start + offset)

    lasts, firsts = column(14), column(16 + twice)
    deltas, ranges = column(16 + 2 * twice, "h"), column(16 + 3 * twice)
    found: dict[int, int] = {}
    for segment, (first, last) in enumerate(zip(firsts, lasts, strict=True)):
        for code in range(first, min(last, 0xFFFE) + 1):
            glyph = code
            if ranges[segment]:
                place = start + 16 + 3 * twice + 2 * segment + ranges[segment] + 2 * (code - first)
                glyph = struct.unpack_from(">H", data, place)[0]
                if glyph == 0:
                    continue
            glyph = (glyph + deltas[segment]) & 0xFFFF
            if glyph:
                found[code] = glyph
    return found
