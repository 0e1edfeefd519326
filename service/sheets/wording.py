"""Text as typed into cells, cleaned for the document and folded for comparing."""

from __future__ import annotations

import re
import unicodedata

_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_DROPPED = {0xFEFF: None, 0x200B: None, 0x200C: None, 0x200D: None, 0x2060: None, 0x00AD: None}
_CONTROLS = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")
_LONGEST_HEADING = 200
_LONGEST_SHOWN = 80
_PARENTHESIS = re.compile(r"\s*\([^()]*\)$")
_SPELLINGS = (
    ("moulding", "molding"), ("mitre", "miter"), ("centre", "center"), ("labour", "labor"), ("metre", "meter"),
)  # fmt: skip


def unescaped(text: str) -> str:
    """Text with the `_x000D_` escapes of Office Open XML undone.

    Source: ECMA-376 Part 1, 22.9.2.19 (ST_Xstring).
    """
    return _ESCAPED.sub(lambda match: chr(int(match[1], 16)), text)


def cleaned(text: str) -> str:
    """One line: escapes undone, zero-width and control characters dropped, white space collapsed, NFC."""
    return " ".join(_bare(text).split())


def cleaned_prose(text: str) -> str:
    """Like `cleaned`, line breaks kept."""
    lines = (" ".join(line.split()) for line in _bare(text).replace("\r\n", "\n").replace("\r", "\n").split("\n"))
    return "\n".join(lines).strip()


def _bare(text: str) -> str:
    return unicodedata.normalize("NFC", _CONTROLS.sub("", unescaped(text).translate(_DROPPED)))


def folded(text: str) -> str:
    """Key under which names, headings and words compare: cleaned and case-folded."""
    return cleaned(text).casefold()


def heading_key(text: str) -> str:
    """Key of a heading: folded, without trailing ` *` and parenthesis, British spellings turned American."""
    key = folded(text[:_LONGEST_HEADING])
    while (shorter := _PARENTHESIS.sub("", key.rstrip(" *:"))) != key:
        key = shorter
    for british, american in _SPELLINGS:
        key = key.replace(british, american)
    return key


def short(value: object) -> str:
    """What was found in a cell, on one line, for people."""
    text = cleaned(str(value)[:_LONGEST_HEADING])
    return text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 1] + "…"


def listed(text: str) -> list[str]:
    """Values of a cell that holds several with `;` between them."""
    return [part for part in (cleaned(part) for part in text.split(";")) if part]
