"""Words by which our own tab, notes and colors are known again."""

from __future__ import annotations

import re

FAULTS_TAB = "Faults found"
TITLE = "Faults found when this sheet was checked"
"""First cell of our tab: a tab of the same name that starts otherwise is the user's own."""

NOTE_START = "—— Sheet check ——"
NOTE_END = "—— end of sheet check ——"
"""A user's words before and after these lines of a note are kept; some programs drop a note's author."""

AUTHOR = "Sheet check"
RULE_TOKEN = f'N("{FAULTS_TAB}")=0'
"""Part of each of our conditional formats' formulas; always true, because N of a text is 0 (OpenFormula 6.13.26)."""

_OWN_NAME = re.compile(rf"{re.escape(FAULTS_TAB)}(?: [2-9])?", re.IGNORECASE)


def is_faults_tab(name: str) -> bool:
    """True for the name of the tab that a marked copy lists its faults on."""
    return _OWN_NAME.fullmatch(name.strip()) is not None


def free_name(names: set[str]) -> str:
    """Name for our tab beside the user's own tabs; names compare without case."""
    taken = {name.casefold() for name in names}
    numbered = (f"{FAULTS_TAB} {number}" for number in range(2, 10))
    return next((name for name in (FAULTS_TAB, *numbered) if name.casefold() not in taken), f"{FAULTS_TAB} 9")
