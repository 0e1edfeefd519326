"""The room that a blank room sheet shows as its example, in both systems.

It names assemblies that no price list has, so that a row that was only half typed over is refused, never priced.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.units import Units

if TYPE_CHECKING:
    from collections.abc import Mapping

Row = dict[str, str]
Rows = tuple[Row, ...]

NAME = "Example room"
CROWN, BASE, CASING = "Example crown", "Example base", "Example casing"


def _rows(headings: str, *rows: tuple[str, ...]) -> Rows:
    """Rows by heading; every first cell is the room's name, blank texts are left out."""
    names = ("Room", *headings.split("|"))
    return tuple({name: text for name, text in zip(names, (NAME, *row), strict=True) if text} for row in rows)


_ROOM = "Ceiling height|Wall covering|Ceiling covering|Joists parallel to|First joist|Joist spacing|Ceiling shape"
_WALL = "Wall|Length|Corner|Angle|First stud|Stud spacing"
_OPENING = "Wall|Opening|From left|Width|Height|Sill height|Casing|Style|Sides"
_TRIM = "Walls|Assembly|Inside joint|Remove existing|Finish|Coats"
_FEATURE = "Feature|Item|Diameter|Weight|Nearest wall"
_EXTRA = "Description|Quantity|Unit|Unit price|Kind"

_IMPERIAL: Mapping[str, Rows] = {
    "Rooms": _rows(_ROOM, ("8' 1\"", '1/2"', '5/8"', "A", '14"', '16"', "flat")),
    "Walls": _rows(
        _WALL,
        ("A", "12' 6 1/2\"", "inside", "90", '15 1/4"', '16"'), ("B", "10' 2\"", "inside", "90", '14 1/2"', '16"'),
        ("C", "12' 6 1/2\"", "inside", "90", '15 1/4"', '16"'), ("D", "10' 2\"", "inside", "90", '14 1/2"', '16"'),
    ),
    "Openings": _rows(
        _OPENING,
        ("A", "door", "3' 2\"", '32"', '80"', "", CASING, "", "1"),
        ("C", "window", "4' 6\"", '36"', '82"', '30"', CASING, "picture frame", ""),
    ),
    "Trim": _rows(_TRIM, ("all", CROWN, "cope", "no", "paint", "2"), ("A;C", BASE, "", "yes", "", "")),
    "Ceiling": _rows(_FEATURE, ("medallion", "Example medallion", '24"', "4", "5' 1\"")),
    "Extras": _rows(_EXTRA, ("Example: patch one outlet hole", "1", "each", "35", "allowance")),
}  # fmt: skip

_METRIC: Mapping[str, Rows] = {
    "Rooms": _rows(_ROOM, ("2450", "12.5", "15", "A", "350", "400", "flat")),
    "Walls": _rows(
        _WALL,
        ("A", "3820", "inside", "90", "380", "400"), ("B", "3100", "inside", "90", "360", "400"),
        ("C", "3820", "inside", "90", "380", "400"), ("D", "3100", "inside", "90", "360", "400"),
    ),
    "Openings": _rows(
        _OPENING,
        ("A", "door", "965", "813", "2032", "", CASING, "", "1"),
        ("C", "window", "1380", "900", "2080", "760", CASING, "picture frame", ""),
    ),
    "Trim": _IMPERIAL["Trim"],
    "Ceiling": _rows(_FEATURE, ("medallion", "Example medallion", "610", "1.8", "1550")),
    "Extras": _IMPERIAL["Extras"],
}  # fmt: skip


def examples(tab: str) -> Mapping[Units, Rows]:
    """A tab's example rows by units."""
    return {Units.IMPERIAL: _IMPERIAL[tab], Units.METRIC: _METRIC[tab]}
