"""What the page of one line shows: its steps as a tree, each told in full once."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Mapping

_TRADE, _SHEET, _LIST, _GEOMETRY = "trade:", "sheet:", "list:", "geometry:"
_OPEN_LEVELS = 3


@dataclass(frozen=True, slots=True)
class Node:
    """One step on the page.

    `number`: of the step; `what`, `text`, `says` as answered; `source` in words for a given figure. `is_told` is False
    where the step was told above already. `is_open`: shown without a click.
    """

    number: int
    what: str
    text: str
    says: str
    source: str
    is_told: bool
    is_open: bool
    below: tuple[Node, ...] = ()


@dataclass(slots=True)
class _Teller:
    steps: Mapping[int, Mapping[str, Any]]
    told: set[int] = field(default_factory=set)

    def node(self, number: int, level: int = 0) -> Node:
        step = self.steps[number]
        is_told = number not in self.told
        self.told.add(number)
        below = tuple(self.node(operand, level + 1) for operand in step["of"]) if is_told else ()
        source = source_words(step.get("source", ""))
        return Node(number, step["what"], step["text"], step["says"], source, is_told, level < _OPEN_LEVELS, below)


def story_view(story: Mapping[str, Any]) -> dict[str, Any]:
    """Words of the page: the trees of a line's quantity and amount.

    Args:
        story: as `/v1/quotes/{id}/explain` answers it.
    """
    teller = _Teller({step["step"]: step for step in story["steps"]})
    amount = teller.node(story["amount"])
    quantity = teller.node(story["quantity"])
    return {"story": story, "amount": amount, "quantity": quantity}


def source_words(source: str) -> str:
    """Where a given figure stands, in words: `cell Walls!C3`, `trade book, fastening.nails-per-stud`."""
    if source.startswith(_TRADE):
        return f"trade book, {source.removeprefix(_TRADE)}"
    if source.startswith(_SHEET):
        place = source.removeprefix(_SHEET)
        return f"room sheet, {place}" if place.startswith("/") else f"cell {place}"
    if source.startswith(_LIST):
        return f"price list, {source.removeprefix(_LIST).replace('/', ' · ')}"
    if source.startswith(_GEOMETRY):
        return f"geometry, {source.removeprefix(_GEOMETRY).replace('-', ' ')}"
    return source.replace(":", ", ")
