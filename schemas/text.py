"""How text is cleaned, compared and shown: one rule for headings, names and list members."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence

_ESCAPED_CONTROL = re.compile(r"_x00(09|0a|0d)_", re.IGNORECASE)
_LINE_BREAK = re.compile(r"\r\n|[\r\n\v\f\N{LINE SEPARATOR}\N{PARAGRAPH SEPARATOR}]")
_DROPPED = dict.fromkeys(map(ord, "\N{ZERO WIDTH SPACE}\N{WORD JOINER}\N{ZERO WIDTH NO-BREAK SPACE}"))
_SHOWN_CHARACTERS = 80
_SHOWN_BITS = 200


def cleaned(text: str, *, keep_lines: bool = False) -> str:
    """Text as it is kept: spreadsheet escapes undone, invisible spacers dropped, white space collapsed, NFC.

    Args:
        text: as typed.
        keep_lines: leave line breaks (addresses, notes), each line trimmed.
    """
    plain = _ESCAPED_CONTROL.sub(lambda match: chr(int(match[1], 16)), text).translate(_DROPPED)
    lines = _LINE_BREAK.split(plain)
    joined = ("\n" if keep_lines else " ").join(" ".join(line.split()) for line in lines)
    return unicodedata.normalize("NFC", joined.strip() if keep_lines else " ".join(joined.split()))


def folded(text: str) -> str:
    """Key under which two spellings are the same name: cleaned, format characters dropped, case-folded, NFC."""
    visible = "".join(char for char in cleaned(text) if unicodedata.category(char) != "Cf")
    return unicodedata.normalize("NFC", " ".join(visible.split()).casefold())


def strange_character(text: str) -> str | None:
    """Name of the first character that no printed page can carry (control, lone surrogate, noncharacter), if any."""
    for char in text:
        point = ord(char)
        control = unicodedata.category(char) in {"Cc", "Cs"} and char != "\n"
        if control or point & 0xFFFE == 0xFFFE or 0xFDD0 <= point <= 0xFDEF:  # noqa: PLR2004 - Unicode noncharacters
            return f"U+{point:04X}"
    return None


def shown(value: object) -> str:
    """What was found, as short text for people; never fails, whatever stood there."""
    if isinstance(value, str):
        return _shortened(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) and value.bit_length() > _SHOWN_BITS:
        return "a very large number"
    if isinstance(value, (int, float)):
        return str(value)
    return _kind(value)


def _kind(value: object) -> str:
    if value is None:
        return "null"
    if isinstance(value, Mapping):
        return "an object"
    return "a list" if isinstance(value, Sequence) else f"a {type(value).__name__}"


def _shortened(text: str) -> str:
    printable = "".join("\N{REPLACEMENT CHARACTER}" if strange_character(char) else char for char in text[:200])
    plain = " ".join(printable.split())
    return plain if len(plain) <= _SHOWN_CHARACTERS else plain[: _SHOWN_CHARACTERS - 1] + "…"
