"""What a mistyped word most likely means. A guess is only ever offered, never taken."""

from __future__ import annotations

import re
import unicodedata
from difflib import get_close_matches
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

_LIKE = str.maketrans({
    "\N{MULTIPLICATION SIGN}": "x", "\N{FRACTION SLASH}": "/", "\N{PRIME}": "'", "\N{DOUBLE PRIME}": '"',
    "\N{RIGHT SINGLE QUOTATION MARK}": "'", "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
})  # fmt: skip
_WORDS = re.compile(r"[^\W_]+(?:[/.][^\W_]+)*")
_FILLERS = frozenset({"no", "nr", "number", "the", "of"})
_FIGURES = re.compile(r"\d+")
_LONGEST = 80
MOST_GUESSED = 200
"""Guessing is slow, and no answer carries more problems."""
LIKENESS = 0.6
HEADING_LIKENESS = 0.7


def nearest(text: str, choices: Iterable[str], likeness: float = LIKENESS) -> str | None:
    """The choice that a mistyped text most likely means; None when nothing is near.

    The same words in other dress come first (`Crown 2` is `Crown no. 2`), then the likest with the same figures
    (`Crwn 2` is no `Crown 3`), then the likest.
    """
    wanted = plain_words(text[:_LONGEST])
    by_key: dict[str, str] = {}
    for choice in choices:
        by_key.setdefault(plain_words(choice), choice)
    if wanted in by_key or not wanted:
        return by_key.get(wanted)
    figures = _FIGURES.findall(wanted)
    alike = [key for key in by_key if _FIGURES.findall(key) == figures]
    found = get_close_matches(wanted, alike, 1, likeness) or get_close_matches(wanted, by_key, 1, likeness)
    return by_key[found[0]] if found else None


@lru_cache(maxsize=4096)
def plain_words(text: str) -> str:
    """Words of a name without case, marks, typographic dress and fillers: `Crown – No. 2` → `crown 2`."""
    spaced = "".join(f" {char}" if unicodedata.category(char) == "No" else char for char in text)
    plain = unicodedata.normalize("NFKC", spaced).translate(_LIKE)
    visible = "".join(char for char in plain if unicodedata.category(char) != "Cf").casefold()
    words = _WORDS.findall(visible)
    return " ".join([word for word in words if word not in _FILLERS] or words)
