"""The one typeface of the documents, and which characters it can print.

Both faces ship with the program and are embedded; reportlab's built-in faces are never drawn with, because
they cannot be embedded and lack the fractions and primes of the trade.
"""

from __future__ import annotations

import unicodedata
from importlib import resources
from typing import Final
from xml.sax.saxutils import escape

from reportlab.graphics import shapes
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

REGULAR: Final = "TrimQuoteSans-Regular"
BOLD: Final = "TrimQuoteSans-Bold"
FAMILY: Final = "Trim Quote Sans"
MISSING: Final = "\N{WHITE SQUARE}"
NBSP: Final = "\N{NO-BREAK SPACE}"


def _registered() -> frozenset[int]:
    """Registers both faces with reportlab and answers the code points that both of them hold."""
    folder = resources.files(__package__) / "fonts"
    known: list[set[int]] = []
    for name in (REGULAR, BOLD):
        with resources.as_file(folder / f"{name}.ttf") as path:
            font = TTFont(name, str(path))
        pdfmetrics.registerFont(font)
        known.append(set(font.face.charToGlyph))
    pdfmetrics.registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD)
    shapes.STATE_DEFAULTS["fontName"] = REGULAR
    return frozenset(known[0] & known[1])


PRINTABLE: Final = _registered()


def printable(text: str) -> str:
    """Text that the typeface can draw, one line or more.

    Characters are composed first (NFC). White space of any kind becomes a space, a line break stays a line
    break, control and format characters are dropped, and what the typeface lacks is replaced, visibly, by an
    empty square.
    """
    composed = unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\r", "\n"))
    return "".join(_drawn(character) for character in composed)


def _drawn(character: str) -> str:
    if character in {"\n", NBSP}:
        return character
    if character == "\t" or unicodedata.category(character) in {"Zs", "Zl", "Zp"}:
        return " "
    if unicodedata.category(character) in {"Cc", "Cf"}:
        return ""
    return character if ord(character) in PRINTABLE else MISSING


def markup(text: str) -> str:
    """User text for a Paragraph: printable, with `&`, `<` and `>` as entities and line breaks kept."""
    return escape(printable(text)).replace("\n", "<br/>")


def one_line(text: str) -> str:
    """Printable text without line breaks, for drawings and page furniture."""
    return " ".join(printable(text).replace("\n", " ").split(" ")).strip()


def width(text: str, size_pt: float, *, bold: bool = False) -> float:
    """Width of a printed line. [pt]"""
    return float(pdfmetrics.stringWidth(text, BOLD if bold else REGULAR, size_pt))


def fitted(text: str, size_pt: float, room_pt: float, *, bold: bool = False) -> str:
    """The longest start of a text that fits a width, with an ellipsis when something was left out."""
    if width(text, size_pt, bold=bold) <= room_pt:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        fits = width(text[:middle].rstrip() + "…", size_pt, bold=bold) <= room_pt
        low, high = (middle, high) if fits else (low, middle - 1)
    return text[:low].rstrip() + "…"
