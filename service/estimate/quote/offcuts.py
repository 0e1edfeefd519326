"""Labels for the rack: what is written on an offcut, so that it is found again and used first."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from service.estimate.cuts.model import Pattern
    from service.estimate.quote.model import Quote
    from service.units import Units


def source_name(quote: Quote) -> str:
    """Where its offcuts come from: `quote 12`, `quote 12 rev. 2`, or the job's name while it has no number."""
    if not quote.number:
        return quote.job.job_name
    word = quote.firm.document_word.strip().lower() or "quote"
    return f"{word} {quote.number}{f' rev. {quote.revision}' if quote.revision > 1 else ''}"


def offcut_label(profile: str, pattern: Pattern, source: str, units: Units) -> str | None:
    """`CR-458 · 2′ 7 3/8″ · quote 12 · board 3`, unique in a quote; None where the board leaves no offcut to keep.

    Args:
        profile: its name.
        pattern: the board it is left of.
        source: where it comes from, empty where that has no name.
        units: how the length is told.
    """
    if not pattern.offcut:
        return None
    parts = (profile, pattern.offcut.text(units), source, f"board {pattern.number}")
    return " · ".join(part for part in parts if part)
