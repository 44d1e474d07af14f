"""What the pages are served beside their own files: the face, made small, and the chart bundle.

Both are made once from installed packages into the site's folder; nothing comes from elsewhere.
"""

from __future__ import annotations

from pathlib import Path

from bedwright.face import face_folder
from bedwright.garden import write_whole
from bedwright.web.home import Home

_FACES = {"Regular": "face-regular.woff2", "Bold": "face-bold.woff2", "Italic": "face-italic.woff2"}
# Latin with its accents, punctuation, arrows, fractions, comparison and superscript signs.
_SIGNS = (
    "U+0020-017F,U+2010-2027,U+2030-203A,U+2070-209F,U+20AC,U+2150-215F,U+2190-2193,"
    "U+2212,U+2248,U+2264-2265"
)
_MARK = "made-by.txt"


def make_assets(home: Home) -> bool:
    """Make what lacks in ``cache/made`` and gather all static files; whether anything was made."""
    from importlib.metadata import version

    from bedwright import __version__

    folder = home.cache / "made"
    packages = ("fontpkg-atkinson-hyperlegible", "fonttools", "vl-convert-python", "django-htmx")
    mark = " ".join([__version__, _sum(), *(f"{each} {version(each)}" for each in packages)])
    try:
        done = (folder / _MARK).read_text(encoding="utf-8") == mark
    except OSError:
        done = False
    if done:
        return False
    _faces(folder / "faces")
    _charts(folder / "charts")
    from django.core.management import call_command

    call_command("collectstatic", interactive=False, verbosity=0, clear=True)
    write_whole(folder / _MARK, mark)
    return True


def _sum() -> str:
    """A digest of our own static files, so that a new version is gathered again."""
    import hashlib

    found = hashlib.sha256()
    root = Path(__file__).parent / "static"
    for each in sorted(path for path in root.rglob("*") if path.is_file()):
        found.update(str(each.relative_to(root)).encode() + each.read_bytes())
    return found.hexdigest()[:16]


def _faces(folder: Path) -> None:
    import io

    from fontTools.subset import Options, Subsetter, load_font, parse_unicodes, save_font

    for weight, name in _FACES.items():
        options = Options(flavor="woff2", layout_features=["*"], notdef_outline=True)
        font = load_font(str(face_folder() / f"AtkinsonHyperlegible-{weight}.ttf"), options)
        subsetter = Subsetter(options)
        subsetter.populate(unicodes=parse_unicodes(_SIGNS))
        subsetter.subset(font)
        stream = io.BytesIO()
        save_font(font, stream, options)
        write_whole(folder / name, stream.getvalue())


def _charts(folder: Path) -> None:
    """The bundle that draws charts in the browser, made in a child process."""
    import subprocess
    import sys

    script = (
        "import sys, vl_convert; sys.stdout.buffer.write("
        "vl_convert.javascript_bundle('window.vegaEmbed = vegaEmbed;').encode())"
    )
    made = subprocess.run(
        [sys.executable, "-c", script], check=True, capture_output=True, timeout=120
    )
    write_whole(folder / "charts.js", made.stdout)
