"""How one end of a layer is made: its joint, its saw settings and how far each edge reaches."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from service.estimate.takeoff.corners import Reach, against, mitered
from service.estimate.takeoff.hand import EDGES_OF, flat_hand, nested_hand
from service.estimate.takeoff.measured import BARE_WALL, setback
from service.estimate.takeoff.model import Edge, End, Joint
from service.estimate.takeoff.ring import Meeting
from service.estimate.takeoff.saw import RIGHT_ANGLE_DEG, Settings, lay_of, off_square, settings
from service.estimate.takeoff.seats import standing_before
from service.firm import Position
from service.survey import CornerKind, OpenEnd, OpeningKind

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.estimate.figures import Figure
    from service.estimate.takeoff.model import Side
    from service.estimate.takeoff.seats import Seat
    from service.estimate.takeoff.stretches import Gap

RETURNED_WHEN_BLANK = frozenset({Position.CROWN, Position.CAP, Position.RAIL})
SOLID = frozenset({OpeningKind.CABINET, OpeningKind.FIREPLACE})


@dataclass(frozen=True, slots=True)
class EndPlan:
    """One end worked out.

    Attributes:
        end: joint and settings.
        cut: where the edges of the real cut stop, back from the stretch's end.
        as_mitered: where they would stop if the corner were mitered.
    """

    end: End
    cut: Reach
    as_mitered: Reach


@dataclass(frozen=True, slots=True)
class CornerSide:
    """A corner as one of its two walls meets it.

    Attributes:
        kind: inside, outside or open.
        reading_deg: what the angle finder reads. [deg]
        interior_deg: angle inside the room, None where open. [deg]
        neighbor: seats on the other wall that reach this corner.
        meeting: what happens to the layer there.
        runs_through: this wall's piece goes in first.
        angle: how `interior_deg` follows from the reading.
    """

    kind: CornerKind
    reading_deg: float
    interior_deg: float | None
    neighbor: Mapping[Position, Seat]
    meeting: Meeting
    runs_through: bool
    angle: Figure | None = None


def end_at_corner(seat: Seat, corner: CornerSide, side: Side) -> EndPlan:
    """The left or right end of a layer at a corner of the room."""
    if corner.interior_deg is None:
        return open_end(seat, CornerKind.OPEN, side)
    mate = corner.neighbor.get(seat.position)
    if mate is None:
        return _without_mate(seat, corner, corner.interior_deg, side)
    plain = told(mitered(corner.interior_deg, seat.offsets, mate.offsets), seat, mate.offset_figures, corner)
    match corner.meeting:
        case Meeting.COPE:
            return _coped(seat, mate, corner, plain, side)
        case Meeting.BUTT:
            return _butted(seat, mate, corner, plain, side)
        case _:
            return EndPlan(_mitered_end(seat, corner, Joint.MITER, plain, side), plain, plain)


def end_at_gap(seat: Seat, gap: Gap, side: Side) -> EndPlan:
    """The end of a layer at an opening: it dies into casing, cabinet or fireplace, else it ends openly."""
    if gap.is_cased or gap.opening.kind in SOLID:
        return EndPlan(_square_end(seat, Joint.BUTT, None), Reach(), Reach())
    return open_end(seat, CornerKind.OPEN, side)


def open_end(seat: Seat, kind: CornerKind, side: Side) -> EndPlan:
    """The end of a layer where nothing stands: returned for crown, cap and rail unless Ends says otherwise.

    A return's finished face stands at the end, never beyond; its settings are an outside 90's.
    """
    blank = OpenEnd.RETURN if seat.position in RETURNED_WHEN_BLANK else OpenEnd.BUTT
    ends = seat.ordered.order.ends or blank
    if ends is not OpenEnd.RETURN:
        return EndPlan(_square_end(seat, Joint(ends.value), kind), Reach(), Reach())
    reach = Reach(near=seat.far - seat.near)
    cut = settings(lay_of(seat.position), RIGHT_ANGLE_DEG, seat.profile.spring_angle_deg)
    return EndPlan(_end(seat, Joint.RETURN, RIGHT_ANGLE_DEG, cut, reach, kind, side), reach, reach)


def _without_mate(seat: Seat, corner: CornerSide, interior_deg: float, side: Side) -> EndPlan:
    if corner.kind is CornerKind.OUTSIDE:
        return open_end(seat, CornerKind.OUTSIDE, side)
    before = standing_before(seat, corner.neighbor)
    face = before.offset_figures[1] if before else BARE_WALL
    reach = _against(interior_deg, seat, face, corner)
    joint = Joint.SQUARE if interior_deg == RIGHT_ANGLE_DEG else Joint.BUTT
    return EndPlan(_leaning_end(seat, corner, joint, reach, side), reach, reach)


def _coped(seat: Seat, mate: Seat, corner: CornerSide, plain: Reach, side: Side) -> EndPlan:
    if not corner.runs_through:
        return EndPlan(_mitered_end(seat, corner, Joint.COPE, plain, side), plain, plain)
    behind = _against(corner.interior_deg or 0.0, seat, mate.offset_figures[0], corner).squared()
    return EndPlan(_square_end(seat, Joint.SQUARE, corner.kind, corner.reading_deg), behind, plain)


def _butted(seat: Seat, mate: Seat, corner: CornerSide, plain: Reach, side: Side) -> EndPlan:
    interior = corner.interior_deg or 0.0
    reach = _against(interior, seat, mate.offset_figures[0 if corner.runs_through else 1], corner)
    same = seat.lines_up_with(mate)
    return EndPlan(_leaning_end(seat, corner, Joint.BUTT, reach, side), reach, plain if same else reach)


def _against(interior_deg: float, seat: Seat, face: Figure, corner: CornerSide) -> Reach:
    return told(against(interior_deg, seat.offsets, face.length), seat, (face, face), corner)


def told(reach: Reach, seat: Seat, others: tuple[Figure, Figure], corner: CornerSide) -> Reach:
    """The reach with the figures behind it: where each edge meets the next wall's layer."""
    if corner.angle is None:
        return reach
    angle, ends = corner.angle, ("near edge at the corner", "far edge at the corner")
    near, far = (
        setback(what, value, own, other, angle)
        for what, value, own, other in zip(ends, (reach.near, reach.far), seat.offset_figures, others, strict=True)
    )
    return replace(reach, why=(near, far))


def _mitered_end(seat: Seat, corner: CornerSide, joint: Joint, reach: Reach, side: Side) -> End:
    cut = settings(lay_of(seat.position), corner.reading_deg, seat.profile.spring_angle_deg)
    return _end(seat, joint, corner.reading_deg, cut, reach, corner.kind, side)


def _leaning_end(seat: Seat, corner: CornerSide, joint: Joint, reach: Reach, side: Side) -> End:
    cut = off_square(lay_of(seat.position), corner.interior_deg or 0.0, seat.profile.spring_angle_deg)
    return _end(seat, joint, corner.reading_deg, cut, reach, corner.kind, side)


def _square_end(seat: Seat, joint: Joint, kind: CornerKind | None, reading_deg: float | None = None) -> End:
    cut = off_square(lay_of(seat.position), RIGHT_ANGLE_DEG)
    return End(joint, reading_deg, cut.miter_deg, cut.bevel_deg, cut.nested_miter_deg, corner=kind)


def _end(
    seat: Seat, joint: Joint, corner_deg: float, cut: Settings, reach: Reach, kind: CornerKind, side: Side
) -> End:  # fmt: skip
    lay, edge, (miter, bevel, nested) = lay_of(seat.position), long_edge(seat, reach), cut
    return End(
        joint, corner_deg, miter, bevel, nested, edge, kind,
        hand=flat_hand(EDGES_OF[lay], side, edge, miter, bevel),
        nested_hand=nested_hand(lay, side, edge, nested),
    )  # fmt: skip


def long_edge(seat: Seat, reach: Reach) -> Edge | None:
    """The edge that carries the long point, None on a square end."""
    if reach.near == reach.far:
        return None
    near, far = {
        Position.CEILING: (Edge.WALL, Edge.ROOM),
        Position.CROWN: (Edge.BOTTOM, Edge.TOP),
    }.get(seat.position, (Edge.BACK, Edge.FACE))
    return near if reach.near < reach.far else far
