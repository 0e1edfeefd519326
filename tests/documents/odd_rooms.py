"""Invented rooms of odd shapes, trimmed at ceiling and floor: what a plan has to cope with."""

from __future__ import annotations

import math
from functools import cache
from itertools import combinations
from typing import TYPE_CHECKING

from shapely import Polygon, box

from service.documents.plans import plans_by_level
from service.survey import CeilingFeature, FeatureKind, WindowStyle
from service.units import Length
from tests.invented import bay, inches, joists, opening, order, room, t_shape, wall
from tests.pipeline.estimates import quote_of, survey_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.documents.plan_look import Look
    from service.documents.plans import Plan
    from service.estimate.quote.model import Quote
    from service.survey import Room


def u_shape(**more: object) -> Room:
    """A U: two outside corners in the notch between its arms."""
    return room(
        wall("A", "18'"), wall("B", "14'"), wall("C", "5'"), wall("D", "8'", "outside"), wall("E", "8'", "outside"),
        wall("F", "8'"), wall("G", "5'"), wall("H", "14'"), **more,
    )  # fmt: skip


def octagon(**more: object) -> Room:
    """Eight walls of 6 ft, every corner 135°."""
    return room(*(wall(name, "6'", "inside", 135.0) for name in "ABCDEFGH"), **more)


def breast(**more: object) -> Room:
    """A breast 18" deep, 60" wide, in a wall of 15 ft."""
    return room(
        wall("A", "5'"), wall("B", '18"', "outside"), wall("C", "5'", "outside"), wall("D", '18"'), wall("E", "5'"),
        wall("F", "12'"), wall("G", "15'"), wall("H", "12'"), **more,
    )  # fmt: skip


def jog(**more: object) -> Room:
    """A wall set back by 2 in halfway."""
    return room(
        wall("A", "7'", "outside"), wall("B", '2"', first="1"), wall("C", "7'"), wall("D", "12'"), wall("E", "14'"),
        wall("F", '142"'), **more,
    )  # fmt: skip


def cut_corner(**more: object) -> Room:
    """A corner cut at 45°."""
    slant = Length.measured(math.hypot(36.0, 36.0)).snapped()
    return room(
        wall("A", "11'", "inside", 135.0), wall("B", slant.text(), "inside", 135.0), wall("C", "9'"),
        wall("D", "14'"), wall("E", "12'"), **more,
    )  # fmt: skip


def half_wall(**more: object) -> Room:
    """An open plan: a half wall 5" thick comes 6 ft into the room from wall A."""
    return room(
        wall("A", "10'"), wall("B", "6'", "outside"), wall("C", '5"', "outside", first="1"), wall("D", "6'"), wall("E", "9'"),
        wall("F", "13'"), wall("G", '233"'), wall("H", "13'"), **more,
    )  # fmt: skip


def column(**more: object) -> Room:
    """A wrapped column: an island of four walls of 14 in."""
    return room(*(wall(name, '14"', "outside", first="4") for name in "NWSE"), name="Column", **more)


def opened() -> dict[str, object]:
    """A door and a window on wall A's neighbours, joists over the room, something on the ceiling."""
    fan = CeilingFeature("/rooms/0/ceiling/0", FeatureKind.MEDALLION, "medallion-24", nearest_wall=inches("6'"))
    return {"joists": joists("A", "10"), "ceiling": (fan,)}


ODD = {
    "T": t_shape(**opened(), openings=(
        opening("A", "window", "3'", '36"', '80"', sill_height=inches("30"), casing="Casing", style=WindowStyle.PICTURE_FRAME),
        opening("A", "cased opening", "11'", '60"', '82"', casing="Casing", sides=2),
    )),
    "U": u_shape(**opened(), openings=(opening("H", "door", "4'", '32"', '80"', casing="Casing"),)),
    "octagon": octagon(**opened(), openings=(
        opening("C", "window", "1'", '40"', '80"', sill_height=inches("30"), casing="Window casing with stool"),
        opening("E", "door", '18"', '30"', '80"', casing="Casing on plinth blocks"),
    )),
    "breast": breast(**opened(), openings=(opening("C", "fireplace", '16"', '28"', '36"'),)),
    "bay": bay(**opened(), openings=(
        opening("C", "window", '6"', '36"', '80"', sill_height=inches("24"), casing="Casing"),
        opening("H", "door", "3'", '32"', '80"', casing="Casing, butted head"),
    )),
    "jog": jog(**opened()),
    "cut corner": cut_corner(**opened()),
    "half wall": half_wall(**opened()),
    "column": column(),
}  # fmt: skip


@cache
def odd_quote(shape: str) -> Quote:
    """One odd room with crown, base, cap and shoe, priced by the sample price list; a ceiling board can't turn the jog."""
    crown = "Plain crown" if shape == "jog" else "Three-piece crown"
    return quote_of(survey_of(ODD[shape], trim=(order(crown), order("Base, cap and shoe"))))


def drawings(quote: Quote, look: Look) -> Iterator[Plan]:
    """Plans of all rooms of a quote, as the field sheet has them."""
    pieces = {piece.mark: piece for piece in quote.pieces}
    for card in quote.rooms:
        yield from plans_by_level(
            card, pieces, quote.units, look, width_pt=520.0, most_height_pt=330.0, tallest_pt=600.0
        )


def unreadable(drawn: Plan) -> list[str]:
    """Labels without a place, out of the frame or over another one, by a general geometry library (shapely)."""
    frame, shapes = box(*drawn.frame), {label.key: Polygon(label.corners) for label in drawn.labels}
    outside = [key for key, shape in shapes.items() if not frame.contains(shape)]
    over = [f"{one} over {other}" for one, other in combinations(shapes, 2) if shapes[one].intersects(shapes[other])]
    return [*drawn.unplaced, *outside, *over]
