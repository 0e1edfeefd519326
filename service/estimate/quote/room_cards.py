"""Rooms as they are drawn and walked: walls, framing, runs with their joints, openings, features."""

from __future__ import annotations

from dataclasses import replace
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING

from service.estimate.quote.model import (
    BlockLegs,
    ClosureCard,
    FeatureCard,
    JointCard,
    OpeningCard,
    PlanLine,
    PlanPoint,
    RoomCard,
    RunCard,
    WallCard,
)
from service.estimate.takeoff.framing import joist_lines, stud_centers
from service.survey import CornerKind
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterable

    from service.estimate.cuts.model import CutPlan
    from service.estimate.materials.model import RunFastening
    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.model import Run
    from service.survey import CeilingFeature, Opening, Wall

HUNDREDTH = Decimal("0.01")


def room_cards(
    shapes: Iterable[RoomShape], runs: Iterable[Run], plan: CutPlan, fastening: Iterable[RunFastening] = ()
) -> tuple[RoomCard, ...]:
    """All rooms, in the sheet's order."""
    held = {item.run: item for item in fastening}
    marks: dict[int, list[str]] = {}
    joints: dict[int, list[JointCard]] = {}
    for piece in plan.pieces:
        marks.setdefault(piece.run, []).append(piece.mark)
    for splice in plan.splices:
        joints.setdefault(splice.run, []).append(JointCard(splice.at, splice.on_glue_plate))
    cards: dict[int, list[RunCard]] = {}
    for run in runs:
        told = tuple(joints.get(run.number, ())), tuple(marks.get(run.number, ()))
        card = with_fastening(run_card(run, *told), held.get(run.number))
        cards.setdefault(run.room, []).append(card)
    return tuple(room_card(shape, tuple(cards.get(shape.number, ()))) for shape in shapes)


def room_card(shape: RoomShape, runs: tuple[RunCard, ...]) -> RoomCard:
    """One room of the quote, from its figure in plan and what was taken off in it."""
    room = shape.room
    return RoomCard(
        number=shape.number,
        name=room.name,
        area_sqft=area(shape.area_sqft),
        area_is_approximate=shape.area_sqft is not None and (shape.is_open or not shape.closure.is_closed),
        perimeter=shape.perimeter,
        ceiling_height=room.ceiling_height,
        closure=ClosureCard(shape.closure.is_closed, shape.closure.gap, shape.closure.suspects),
        walls=wall_cards(shape),
        openings=tuple(opening_card(opening) for opening in room.openings),
        joists=tuple(plan_line(start, end) for start, end in joist_lines(shape)),
        runs=runs,
        features=tuple(feature_card(feature) for feature in room.ceiling),
        notes=room.notes,
    )


def area(square_feet: float | None) -> Decimal | None:
    """Area to 0.01 sq ft, half up; None for an island, which has none."""
    return None if square_feet is None else Decimal(square_feet).quantize(HUNDREDTH, ROUND_HALF_UP)


def plan_line(start: tuple[float, float], end: tuple[float, float]) -> PlanLine:
    """A line in plan from drawn positions in inches; drawing snaps to 1/64", no piece is cut from it."""
    return PlanLine(_plan_point(start), _plan_point(end))


def _plan_point(point: tuple[float, float]) -> PlanPoint:
    x, y = point
    return PlanPoint(Length.measured(x).snapped(), Length.measured(y).snapped())


def wall_cards(shape: RoomShape) -> tuple[WallCard, ...]:
    """Walls as measured, each with its line in the adjusted plan."""
    lines = zip(shape.points, shape.points[1:], strict=False)
    return tuple(
        wall_card(wall, plan_line(start, end)) for wall, (start, end) in zip(shape.room.walls, lines, strict=True)
    )


def wall_card(wall: Wall, line: PlanLine) -> WallCard:
    """One wall; an open end has no corner to read."""
    reading = None if wall.corner is CornerKind.OPEN else wall.angle_deg
    return WallCard(wall.name, wall.length, wall.corner, reading, line, studs_within(wall), wall.notes)


def studs_within(wall: Wall) -> tuple[Length, ...]:
    """Measured stud centers within a wall, from its left end; none when the sheet does not tell them.

    Studs that an end or an opening always has are no measurement and are not drawn.
    """
    return tuple(at for at in stud_centers(wall.studs, wall.length) if ZERO <= at <= wall.length)


def opening_card(opening: Opening) -> OpeningCard:
    """An opening as measured."""
    return OpeningCard(
        wall=opening.wall,
        kind=opening.kind,
        from_left=opening.from_left,
        width=opening.width,
        height=opening.height,
        sill_height=opening.sill_height,
        notes=opening.notes,
        casing=opening.casing or "",
        style=opening.style,
        sides=opening.sides,
    )


def feature_card(feature: CeilingFeature) -> FeatureCard:
    """A ceiling feature as ordered."""
    return FeatureCard(
        feature=feature.feature,
        item=feature.item,
        notes=feature.notes,
        diameter=feature.diameter,
        weight_lb=feature.weight_lb,
        hangs_down=feature.hangs_down,
        remove_existing=feature.remove_existing,
        box_rated_for_fan=feature.box_rated_for_fan,
        nearest_wall=feature.nearest_wall,
    )


def run_card(run: Run, joints: tuple[JointCard, ...], pieces: tuple[str, ...]) -> RunCard:
    """One run with its backing, its splices and the marks of its pieces (its returns too)."""
    return RunCard(
        number=run.number,
        wall=run.wall,
        assembly=run.assembly,
        layer=run.layer.number,
        position=run.position,
        profile=run.profile.name,
        start=run.start,
        length=run.length,
        near=run.near,
        far=run.far,
        left=run.left,
        right=run.right,
        backed_at=run.backing.at,
        backed_all_along=run.backing.is_continuous,
        unbacked=sum((span.length for span in run.backing.unbacked), ZERO),
        unbacked_stretches=run.backing.unbacked,
        joints=joints,
        pieces=pieces,
        member=run.member,
        opening=run.opening,
        side=run.side,
        low=run.low,
        high=run.high,
    )


def with_fastening(card: RunCard, held: RunFastening | None) -> RunCard:
    """The run with what holds it; as it is where nothing was worked out."""
    if held is None:
        return card
    return replace(
        card,
        nails=dict(held.nails),
        cross_nailed=held.cross_nailed,
        blocks=held.blocks,
        block_legs=BlockLegs(*held.block_legs) if held.block_legs else None,
        glue_plates=held.glue_plates,
        adhesive=held.adhesive_length,
        holding_factor=factor_told(held.holding_factor),
    )


def factor_told(factor: float | None) -> Decimal | None:
    """A holding factor to 0.01, rounded down so that it never says more than was found."""
    return None if factor is None else Decimal(factor).quantize(HUNDREDTH, ROUND_FLOOR)
