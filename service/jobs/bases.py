"""Where a figure comes from: pointers of the job document rewritten to workbook cells."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.estimate.quote.ledger import Step
    from service.estimate.quote.model import Quote
    from service.problems import Cell

_SHEET = "sheet:"


def based_on_cells(quote: Quote, cells: Mapping[str, Cell]) -> Quote:
    """The quote with every `sheet:{pointer}` basis as `sheet:Walls!C5`; unchanged when no workbook is behind it."""
    if not cells:
        return quote
    return replace(
        quote,
        lines=tuple(replace(line, basis=_in_cells(line.basis, cells)) for line in quote.lines),
        options=tuple(replace(line, basis=_in_cells(line.basis, cells)) for line in quote.options),
        supplies=tuple(replace(row, basis=_in_cells(row.basis, cells)) for row in quote.supplies),
        labor=tuple(replace(row, basis=_in_cells(row.basis, cells)) for row in quote.labor),
        assumptions=tuple(replace(row, basis=_in_cell(row.basis, cells)) for row in quote.assumptions),
        ledger=replace(quote.ledger, steps=tuple(_step_in_cell(step, cells) for step in quote.ledger.steps)),
    )


def _step_in_cell(step: Step, cells: Mapping[str, Cell]) -> Step:
    return replace(step, source=_in_cell(step.source, cells)) if step.source.startswith(_SHEET) else step


def _in_cells(bases: tuple[str, ...], cells: Mapping[str, Cell]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(_in_cell(basis, cells) for basis in bases))


def _in_cell(basis: str, cells: Mapping[str, Cell]) -> str:
    cell = cells.get(basis.removeprefix(_SHEET)) if basis.startswith(_SHEET) else None
    return f"{_SHEET}{cell}" if cell else basis
