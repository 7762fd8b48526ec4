"""The typefaces that travel with the package, so that degrees and accents come out anywhere."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from io import BytesIO

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from tempwitness.report.wording import plain

__all__ = ["BOLD", "REGULAR", "drawable", "fitted", "register", "text_width"]

REGULAR = "TempwitnessSans"
BOLD = "TempwitnessSans-Bold"

_FILES = {REGULAR: "DejaVuSansCondensed.ttf", BOLD: "DejaVuSansCondensed-Bold.ttf"}
_REPLACEMENT = "\ufffd"


@cache
def register() -> frozenset[int]:
    """Make the typefaces known to reportlab once; return the characters that both can draw."""
    folder = files("tempwitness.report") / "fonts"
    known: list[frozenset[int]] = []
    for name, file in _FILES.items():
        font = TTFont(name, BytesIO((folder / file).read_bytes()))
        pdfmetrics.registerFont(font)
        known.append(frozenset(font.face.charToGlyph))
    pdfmetrics.registerFontFamily(
        REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD
    )
    return known[0] & known[1]


def drawable(text: str) -> str:
    """Put a visible sign in place of every character that the typeface does not have."""
    line = plain(text)
    if line.isascii():
        return line
    known = register()
    return "".join(c if ord(c) in known else _REPLACEMENT for c in line)


def text_width(text: str, size: float, font: str = REGULAR) -> float:
    """Return the width of a text set in one line [pt]."""
    register()
    return float(pdfmetrics.stringWidth(text, font, size))


def fitted(text: str, width: float, size: float, font: str = REGULAR) -> str:
    """Shorten a text with an ellipsis until it fits a width [pt]."""
    line = drawable(text)
    if text_width(line, size, font) <= width:
        return line
    low, high = 0, len(line)
    while low < high:
        middle = (low + high + 1) // 2
        fits = text_width(line[:middle] + "…", size, font) <= width
        low, high = (middle, high) if fits else (low, middle - 1)
    return line[:low] + "…" if low else ""
