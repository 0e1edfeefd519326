"""Text as the XML of a workbook holds it."""

from __future__ import annotations

import re

_ILLEGAL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
_LOOKS_ESCAPED = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")


def escaped(text: str) -> str:
    """Text for element content and attributes: markup escaped, characters that XML forbids dropped (XML 1.0, 2.2)."""
    legal = _ILLEGAL.sub("", text).replace("\r\n", "\n").replace("\r", "\n")
    return legal.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


def cell_text(text: str) -> str:
    """Escaped, and `_x000D_` kept as these seven characters (ECMA-376 Part 1, 22.9.2.19)."""
    return _LOOKS_ESCAPED.sub("_x005F_", escaped(text))


def unescaped(text: str) -> str:
    """A stored text as the spreadsheet program shows it: `_x000D_` is a carriage return, `_x005F_` an underscore."""
    return _ESCAPED.sub(lambda match: chr(int(match[1], 16)), text)


def attribute(text: str) -> str:
    """A whole attribute value in quotation marks, line ends kept as references."""
    return '"' + escaped(text).replace("\n", "&#10;").replace("\t", "&#9;") + '"'


def named(xml: str, prefix: str) -> str:
    """XML written with `~` before each element name, with the prefix a part uses for its own namespace."""
    return xml.replace("<~", f"<{prefix}").replace("</~", f"</{prefix}")
