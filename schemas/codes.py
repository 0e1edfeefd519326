"""Every code of a fault explained: what it is called, what it means, a wrong and a right example.

The words stand in `codes.toml` beside this module, one table a code; the page `/problems/{code}` shows them.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from importlib import resources

from service.problems import Code


@dataclass(frozen=True, slots=True)
class Explanation:
    """Title and meaning of a code, and an example of what raises it and of what doesn't."""

    title: str
    meaning: str
    wrong: str
    right: str


def _explanations() -> dict[Code, Explanation]:
    words = tomllib.loads((resources.files(__package__) / "codes.toml").read_text("utf-8"))
    return {Code(code): Explanation(**table) for code, table in words.items()}


EXPLANATIONS = _explanations()
