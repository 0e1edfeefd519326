"""What holds each run of a room: nails, blocks, adhesive, and what of it hangs on adhesive until that has cured."""

from __future__ import annotations

from collections import Counter
from decimal import ROUND_FLOOR, Decimal
from typing import TYPE_CHECKING

from reportlab.platypus import Spacer

from service.documents.fonts import NBSP, markup
from service.documents.openings import opening_of
from service.documents.plan_look import LAYER_WORDS
from service.documents.styles import FIELD_NOTE, FIELD_SECTION, FIGURE, HEADING_CELL, heading, marked, said
from service.documents.tables import GRID, MIDDLE, Command, table
from service.documents.words import count_text, length_text, plain, size_text
from service.firm import Position
from service.units import ZERO, Units

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from reportlab.platypus import Flowable

    from service.estimate.quote.model import Quote, RoomCard, RunCard
    from service.units import Length

TENTH = Decimal("0.1")
TABLE_PT = 170.0
CODE_PT = 8.5
TIGHT: tuple[Command, ...] = (("TOPPADDING", (0, 1), (-1, -1), 0), ("BOTTOMPADDING", (0, 1), (-1, -1), 2))
RIPPED_TO = 16
NAMES = ("where", "nails", "blocks behind it", "adhesive", "holding")
FIXED_PT = (96.0, 104.0, 66.0, 104.0)
NOTE = (
    "Nails by supply code. Legs of a block: on the wall × on the ceiling. Adhesive: length of bead, all beads together. "
    "Holding: what nails in wood hold over the weight of the board and what hangs on it; pull-through of their heads is "
    "not checked."
)
Cells = list["Flowable | str"]
Spot = tuple[str, str, str]


def fastening(room: RoomCard, quote: Quote, width_pt: float) -> list[Flowable]:
    """One row a layer and wall, and one a layer around an opening; nothing for a room without trim.

    Args:
        room: with its runs.
        quote: for its units.
        width_pt: of the page. [pt]
    """
    rows = [_row(spot, runs, quote.units) for spot, runs in _by_spot(room).items() if _is_held(runs)]
    if not rows:
        return []
    first, *others = FIXED_PT
    widths = (first, width_pt - sum(FIXED_PT), *others)
    cells: list[Cells] = [[said(name, HEADING_CELL) for name in NAMES], *rows]
    grid = table(cells, widths, *GRID, *MIDDLE, *TIGHT, headed=True)
    return [*heading("Fastening", FIELD_SECTION, TABLE_PT), said(NOTE, FIELD_NOTE), Spacer(1, 3), grid]


def _by_spot(room: RoomCard) -> dict[Spot, list[RunCard]]:
    """Runs of one layer on one wall, or around one opening, together; in the order in which they are listed."""
    spots: dict[Spot, list[RunCard]] = {}
    for run in room.runs:
        spot = (run.wall, opening_of(run, room), LAYER_WORDS[run.position])
        spots.setdefault(spot, []).append(run)
    return spots


def _is_held(runs: Iterable[RunCard]) -> bool:
    return any(run.nails or run.adhesive or run.blocks or run.glue_plates for run in runs)


def _row(spot: Spot, runs: Sequence[RunCard], units: Units) -> Cells:
    wall, opening, position = spot
    where = f"{opening}, {position}" if opening else position
    return [
        marked(f"<b>{markup(wall)}</b> {markup(where)}", FIELD_NOTE),
        marked(nails_text(runs), FIGURE),
        said(blocks_text(runs, units), FIELD_NOTE),
        said(adhesive_text(runs, units), FIELD_NOTE),
        marked("<br/>".join(holding_texts(runs)), FIELD_NOTE),
    ]


def nails_text(runs: Iterable[RunCard]) -> str:
    """`28 finish-15-250, 16 brad-18-150` as markup, the counts bold; a dash for none."""
    counts: Counter[str] = Counter()
    for run in runs:
        counts.update(run.nails)
    told = (f'<b>{count:,}</b>{NBSP}<font size="{CODE_PT}">{markup(code)}</font>' for code, count in counts.items())
    return ", ".join(told) or "–"


def blocks_text(runs: Sequence[RunCard], units: Units) -> str:
    """`9 of 2 1/2″ × 1 15/16″`, glue plates after them; a dash for none."""
    count, plates = sum(run.blocks for run in runs), sum(run.glue_plates for run in runs)
    legs = next((run.block_legs for run in runs if run.block_legs), None)
    size = f" of {_ripped(legs.wall, units)} ×{NBSP}{_ripped(legs.ceiling, units)}" if legs else ""
    parts = [f"{count}{size}"] if count else []
    parts += [count_text(plates, "glue plate")] if plates else []
    return "; ".join(parts) or "–"


def _ripped(leg: Length, units: Units) -> str:
    """A leg as a block is ripped: to the nearest sixteenth, or in millimeters."""
    return size_text(leg, units) if units is Units.METRIC else leg.inch_text(RIPPED_TO).replace(" ", NBSP)


def adhesive_text(runs: Iterable[RunCard], units: Units) -> str:
    """`26′ 8″` of bead; a dash for none."""
    length = sum((run.adhesive for run in runs), ZERO)
    return length_text(length, units) if length else "–"


def holding_texts(runs: Sequence[RunCard]) -> list[str]:
    """`holds 12.9 times its weight`, and where adhesive alone holds, that it is propped until that has cured."""
    factors = [run.holding_factor for run in runs if run.holding_factor is not None]
    told = [_factor_text(min(factors))] if factors else []
    crossed = sum(run.cross_nailed for run in runs)
    if crossed:
        is_overhead = any(run.position is Position.CEILING for run in runs)
        held = "prop it" if is_overhead else "they hold"
        told.append(f"{crossed}{NBSP}nails in crossed pairs; {held} until the adhesive has cured")
    return told or ["–"]


def _factor_text(factor: Decimal) -> str:
    """The factor to a tenth, rounded down; one below 1 in bold."""
    times = plain(factor.quantize(TENTH, ROUND_FLOOR), 1)
    return f"holds {times} times its weight" if factor >= 1 else f"<b>holds only {times} of its weight</b>"
