"""Why a cell has no spelling."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from service.problems import Code


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a cell has no spelling: code, what is wrong, what to type, what was found."""

    code: Code
    detail: str
    help: str
    found: str
