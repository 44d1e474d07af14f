"""Reading pictures back without a library: the words of a PDF, the grays of a PNG."""

import re
import struct
import zlib


def pdf_words(data: bytes) -> str:
    """All text of a PDF, through each face's map from glyphs to characters."""
    objects = {
        int(found[1]): found[2] for found in re.finditer(rb"(\d+) 0 obj(.*?)endobj", data, re.S)
    }

    def stream(body: bytes) -> bytes:
        raw = re.search(rb"stream\r?\n(.*)\r?\nendstream", body, re.S)
        if raw is None:
            return b""
        return zlib.decompress(raw[1]) if b"FlateDecode" in body else raw[1]

    faces = {}
    for name, number in re.findall(rb"/(fo?\d+) (\d+) 0 R", data):
        to_unicode = re.search(rb"/ToUnicode (\d+) 0 R", objects[int(number)])
        if to_unicode:
            faces[name] = _mapping(stream(objects[int(to_unicode[1])]))
    words, face = "", {}
    for body in objects.values():
        if b"/Type /Font" in body or b"/Subtype /Image" in body or b"FontFile" in body:
            continue
        for line in _shown(stream(body)):
            if isinstance(line, tuple):
                face = faces.get(line[0], {})
            else:
                words += "".join(face.get(code, "") for code in line)
    return words


def _mapping(cmap: bytes) -> dict[int, str]:
    found = {}
    for block in re.findall(rb"beginbfchar(.*?)endbfchar", cmap, re.S):
        for glyph, text in re.findall(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>", block):
            found[int(glyph, 16)] = bytes.fromhex(text.decode()).decode("utf-16-be")
    for block in re.findall(rb"beginbfrange(.*?)endbfrange", cmap, re.S):
        for first, last, text in re.findall(rb"<(\w+)>\s*<(\w+)>\s*<(\w+)>", block):
            for at in range(int(first, 16), int(last, 16) + 1):
                found[at] = chr(int(text, 16) + at - int(first, 16))
    return found


def _shown(content: bytes):
    for found in re.finditer(rb"/(fo?\d+) [\d.]+ Tf|<([0-9A-Fa-f]+)>|\(((?:\\.|[^\\)])*)\)",
                             content, re.S):  # fmt: skip
        if found[1]:
            yield (found[1],)
            continue
        raw = bytes.fromhex(found[2].decode()) if found[2] else _unescaped(found[3] or b"")
        yield [int.from_bytes(raw[at : at + 2], "big") for at in range(0, len(raw) - 1, 2)]


def _unescaped(raw: bytes) -> bytes:
    plain = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}

    def one(found):
        body = found[1]
        return bytes([int(body, 8) & 255]) if body.isdigit() else plain.get(body, body)

    return re.sub(rb"\\([0-7]{1,3}|.)", one, raw, flags=re.S)


def png_size(data: bytes) -> tuple[int, int]:
    return struct.unpack(">II", data[16:24])


def png_grays(data: bytes) -> list[bytes]:
    """Rows of gray values (ITU-R BT.601) of an 8-bit RGB or RGBA picture on white."""
    wide, high = png_size(data)
    channels = {2: 3, 6: 4}[data[25]]
    packed, at = b"", 8
    while at < len(data):
        size, kind = struct.unpack(">I4s", data[at : at + 8])
        packed += data[at + 8 : at + 8 + size] if kind == b"IDAT" else b""
        at += 12 + size
    raw, stride = zlib.decompress(packed), wide * channels
    rows, before = [], bytearray(stride)
    for row in range(high):
        kind = raw[row * (stride + 1)]
        line = bytearray(raw[row * (stride + 1) + 1 : (row + 1) * (stride + 1)])
        for i in range(stride):
            left = line[i - channels] if i >= channels else 0
            up, corner = before[i], before[i - channels] if i >= channels else 0
            if kind == 1:
                line[i] = (line[i] + left) & 255
            elif kind == 2:
                line[i] = (line[i] + up) & 255
            elif kind == 3:
                line[i] = (line[i] + (left + up) // 2) & 255
            elif kind == 4:
                p = left + up - corner
                a, b, c = abs(p - left), abs(p - up), abs(p - corner)
                near = left if a <= b and a <= c else up if b <= c else corner
                line[i] = (line[i] + near) & 255
        before = line
        rows.append(
            bytes(
                round(0.299 * line[i] + 0.587 * line[i + 1] + 0.114 * line[i + 2])
                for i in range(0, stride, channels)
            )
        )
    return rows
