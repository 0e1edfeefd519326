"""What was measured in a room, in tables with room to write beside it: walls, openings, what hangs on the ceiling."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.documents.features import feature_name, weight_text
from service.documents.fonts import NBSP, markup
from service.documents.openings import casing_text, opening_names, opening_size, runs_around
from service.documents.styles import FIELD_NOTE, FIELD_SECTION, FIGURE, FIGURE_BOLD, HEADING_CELL, heading, marked, said
from service.documents.tables import GRID, MIDDLE, table
from service.documents.walkthrough import wall_rows
from service.documents.words import length_text, size_text
from service.survey import BoxRating, FeatureKind

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from reportlab.platypus import Flowable

    from service.estimate.quote.model import FeatureCard, OpeningCard, Quote, RoomCard
    from service.units import Units

LEAST_ROW_PT = 22.0
BOX_WORDS = {BoxRating.YES: "yes", BoxRating.NO: "no", BoxRating.UNKNOWN: "not known"}
Cells = list["Flowable | str"]


def measured(room: RoomCard, quote: Quote, width_pt: float) -> list[Flowable]:
    """Tables of walls, openings and ceiling features, those that the room has."""
    return [*_walls(room, quote, width_pt), *_openings(room, quote, width_pt), *_features(room, quote, width_pt)]


def _walls(room: RoomCard, quote: Quote, width_pt: float) -> list[Flowable]:
    names = ("wall", "measured", "corner at right", "re-measured", "angle read", "notes")
    rows: list[Cells] = [
        [said(name, FIGURE_BOLD), said(length, FIGURE), said(corner, FIGURE), "", "", said(notes, FIELD_NOTE)]
        for name, length, corner, notes in wall_rows(room, quote)
    ]
    return _titled("Walls as measured", names, rows, (96, 78, 92, 74, 60), width_pt)


def _openings(room: RoomCard, quote: Quote, width_pt: float) -> list[Flowable]:
    """One row an opening: where, how large, which casing on which sides, and the marks of its members."""
    names = ("opening", "wall", "size", "from left", "casing and pieces around it", "re-measured")
    numbered = zip(opening_names(room), room.openings, strict=True)
    rows = [_opening_row(room, place, item, name, quote.units) for place, (name, item) in enumerate(numbered, 1)]
    if not rows:
        return []
    fixed = (62.0, 30.0, 84.0, 56.0)
    rest = width_pt - sum(fixed) - 70
    return _titled("Openings as measured", names, rows, (*fixed, rest), width_pt)


def _opening_row(room: RoomCard, place: int, item: OpeningCard, name: str, units: Units) -> Cells:
    parts = [markup(casing_text(item)), *_sides(room, place)] if item.casing else ["no casing"]
    parts += [markup(item.notes)] if item.notes else []
    return [
        said(name, FIELD_NOTE),
        said(item.wall, FIGURE_BOLD),
        said(opening_size(item, units), FIELD_NOTE),
        said(length_text(item.from_left, units), FIELD_NOTE),
        marked("<br/>".join(parts), FIELD_NOTE),
        "",
    ]


def _sides(room: RoomCard, place: int) -> Iterator[str]:
    runs = runs_around(room, place)
    sides = sorted({run.side for run in runs})
    for side in sides:
        told = [
            f"{run.member.value.replace(' ', NBSP)}{NBSP}<b>{markup(', '.join(run.pieces))}</b>"
            for run in runs
            if run.side == side and run.pieces
        ]
        yield f"{f'side{NBSP}{side}: ' if len(sides) > 1 else ''}{' · '.join(told)}"


def _features(room: RoomCard, quote: Quote, width_pt: float) -> list[Flowable]:
    names = ("what hangs there", "diameter", "weight", "hangs down", "nearest wall", "re-measured", "notes")
    rows = [_feature_row(item, quote) for item in room.features]
    return _titled("On the ceiling", names, rows, (112, 50, 46, 54, 58, 66), width_pt) if rows else []


def _feature_row(item: FeatureCard, quote: Quote) -> Cells:
    units = quote.units
    sizes = (
        size_text(item.diameter, units) if item.diameter else "–",
        weight_text(item.weight_lb, units) if item.weight_lb is not None else "–",
        size_text(item.hangs_down, units) if item.hangs_down else "–",
        length_text(item.nearest_wall, units) if item.nearest_wall else "–",
    )
    notes = [
        "Take the old one down first." if item.remove_existing else "",
        f"Box rated for a fan: {BOX_WORDS[item.box_rated_for_fan]}." if item.feature is FeatureKind.FAN else "",
        item.notes,
    ]
    told = " ".join(note for note in notes if note)
    return [
        said(feature_name(item, quote), FIELD_NOTE),
        *(said(size, FIGURE) for size in sizes),
        "",
        said(told, FIELD_NOTE),
    ]


def _titled(
    title: str, names: Sequence[str], rows: Sequence[Cells], fixed: Sequence[float], width_pt: float
) -> list[Flowable]:
    cells: list[Cells] = [[said(name, HEADING_CELL) for name in names], *rows]
    heights: list[float | None] = [None, *[LEAST_ROW_PT] * len(rows)]
    widths = (*fixed, width_pt - sum(fixed))
    return [*heading(title, FIELD_SECTION), table(cells, widths, *GRID, *MIDDLE, headed=True, heights=heights)]
