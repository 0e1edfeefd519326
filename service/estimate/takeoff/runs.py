"""The takeoff: every run of every layer on every wall, with its ends, backing and lawful joint positions."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from service.estimate.takeoff.around import runs_around
from service.estimate.takeoff.backing import WallFraming, backing_of, grid_along, joint_positions, top_edge_of
from service.estimate.takeoff.ends import end_at_corner, end_at_gap
from service.estimate.takeoff.fit import fit_checked
from service.estimate.takeoff.measured import between, starting, stud_layout
from service.estimate.takeoff.meetings import CornerSeats, meetings_of
from service.estimate.takeoff.model import Joint, Run, RunFigures, Side, Span, short_point
from service.estimate.takeoff.movement import movement_told
from service.estimate.takeoff.orders import casings_known, known_orders, misplaced_told, orders_of
from service.estimate.takeoff.remarks import remarks_told
from service.estimate.takeoff.seats import seats_of
from service.estimate.takeoff.stretches import gaps_of, gaps_told, stretches_of
from service.firm import Position
from service.survey import CornerKind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from service.estimate.figures import Figure
    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.corners import Reach
    from service.estimate.takeoff.ends import EndPlan
    from service.estimate.takeoff.meetings import Meetings
    from service.estimate.takeoff.model import End
    from service.estimate.takeoff.orders import RoomOrders
    from service.estimate.takeoff.rules import TakeoffRules
    from service.estimate.takeoff.seats import Seat
    from service.estimate.takeoff.stretches import Stretch
    from service.firm import PriceList, Profile
    from service.problems import Problems
    from service.survey import TrimOrder

Seats = dict[Position, "Seat"]


def taken_off(
    shapes: Sequence[RoomShape],
    trim: Sequence[TrimOrder],
    price_list: PriceList,
    rules: TakeoffRules,
    problems: Problems,
) -> tuple[Run, ...]:
    """Every run of the job, by room, wall, layer in hanging order, left to right; numbered from 1.

    Args:
        shapes: rooms in plan.
        trim: what is ordered on which walls.
        price_list: assemblies, profiles and the firm's ways.
        rules: framing and joint numbers.
        problems: collects every fault of orders, fit, ends and backing.
    """
    known = known_orders(trim, price_list, problems)
    misplaced_told(known, price_list.assemblies, problems)
    casings_known([shape.room for shape in shapes], price_list, problems)
    runs: list[Run] = []
    for shape in shapes:
        orders = orders_of(shape.room, known, price_list, problems)
        room = _RoomTrim.of(shape, orders, price_list, rules, problems)
        runs += room.runs()
        runs += runs_around(shape, room.seats_by_wall(), price_list, rules, problems)
    numbered = tuple(replace(run, number=number) for number, run in enumerate(runs, 1))
    remarks_told(numbered, shapes, price_list.settings, problems)
    if not problems.has_errors:
        movement_told(numbered, rules.wood, price_list.settings.units, problems)
    return numbered


@dataclass(frozen=True, slots=True)
class _RoomTrim:
    """One room with all that sits on its walls."""

    shape: RoomShape
    seats: tuple[Seats, ...]
    stretches: tuple[Mapping[Position, tuple[Stretch, ...]], ...]
    meetings: Meetings
    rules: TakeoffRules

    @classmethod
    def of(
        cls, shape: RoomShape, orders: RoomOrders, price_list: PriceList, rules: TakeoffRules, problems: Problems
    ) -> _RoomTrim:
        """Seat every ordered layer, cut the walls at openings and settle every corner."""
        room = shape.room
        seats = tuple(seats_of(orders[wall.name], room.ceiling_height) for wall in room.walls)
        stretches = []
        for wall, on_wall in zip(room.walls, seats, strict=True):
            fit_checked(on_wall, room, wall, price_list.settings.units, problems)
            gaps = gaps_of(room.openings, wall, price_list)
            gaps_told(gaps, on_wall, room, problems)
            stretches.append({position: stretches_of(seat, wall, gaps) for position, seat in on_wall.items()})
        corner_seats = CornerSeats(
            at_left=tuple(_reaching(s, c, 0) for s, c in zip(seats, stretches, strict=True)),
            at_right=tuple(_reaching(s, c, -1) for s, c in zip(seats, stretches, strict=True)),
        )
        meetings = meetings_of(shape, corner_seats, price_list.settings.inside_joint, rules, problems)
        return cls(shape, seats, tuple(stretches), meetings, rules)

    def seats_by_wall(self) -> dict[str, Seats]:
        """Layers along each wall, by its name."""
        return {wall.name: seats for wall, seats in zip(self.shape.room.walls, self.seats, strict=True)}

    def runs(self) -> Iterator[Run]:
        """Runs of the room, unnumbered."""
        for place, wall in enumerate(self.shape.room.walls):
            openings = tuple(o for o in self.shape.room.openings if o.wall == wall.name)
            framing = WallFraming.of(self.shape, place, openings, self.rules)
            for position, seat in self.seats[place].items():
                for stretch in self.stretches[place][position]:
                    yield self._run(seat, stretch, framing)

    def _run(self, seat: Seat, stretch: Stretch, framing: WallFraming) -> Run:
        left, right = self._ends(seat, stretch, framing.place)
        start, end = stretch.start + left.as_mitered.least, stretch.end - right.as_mitered.least
        cut = Span(stretch.start + left.cut.least, stretch.end - right.cut.least)
        backing = backing_of(seat, framing, cut, self.rules)
        on_wall = self.seats[framing.place]
        has_boards = seat.position is Position.CROWN
        what = f"{seat.position} on wall {framing.wall.name} of {self.shape.room.name}"
        return Run(
            number=0,
            room=self.shape.number,
            room_name=self.shape.room.name,
            wall=framing.wall.name,
            wall_pointer=framing.wall.pointer,
            trim_pointer=seat.ordered.order.pointer,
            assembly=seat.ordered.assembly,
            layer=seat.ordered.layer,
            profile=seat.profile,
            near=seat.near,
            far=seat.far,
            low=seat.low,
            high=seat.high,
            start=start,
            length=(end - start).snapped(),
            cut_start=cut.start,
            cut_length=cut.length.snapped(),
            cut_short=short_point(
                cut.length, (left.cut.skew, right.cut.skew), (left.end.long_edge, right.end.long_edge)
            ).snapped(),
            left=left.end,
            right=right.end,
            backing=backing,
            splice_at=joint_positions(seat, framing, backing, cut, self.rules.edge_grid),
            plate_at=grid_along(Span(cut.start, cut.start + cut.length.snapped()), self.rules.plate_spacing),
            over_wall_layer=_profile_at(on_wall, Position.WALL) if has_boards else None,
            under_ceiling_layer=_profile_at(on_wall, Position.CEILING) if has_boards else None,
            wall_studs=framing.studs_within(cut),
            remove_existing=seat.ordered.order.remove_existing and seat.ordered.is_first,
            finish=seat.ordered.order.finish,
            coats=seat.ordered.order.coats,
            top_edge=None if Position.CEILING in on_wall else top_edge_of(seat, framing, cut, self.rules),
            left_setback=left.cut.skew.snapped(),
            right_setback=right.cut.skew.snapped(),
            measured=RunFigures(
                length=run_length(what, stretch, left.as_mitered, right.as_mitered),
                cut_length=run_length(f"{what}, as cut", stretch, left.cut, right.cut),
                studs=stud_layout(framing.wall, self.rules.end_stud),
                start=starting(stretch.left_edge, left.as_mitered.least_figure),
                cut_start=starting(stretch.left_edge, left.cut.least_figure),
                offsets=seat.offset_figures,
            ),
            joint_entries=joint_entries(left.end, right.end),
        )

    def _ends(self, seat: Seat, stretch: Stretch, place: int) -> tuple[EndPlan, EndPlan]:
        left = (
            end_at_gap(seat, stretch.left_gap, Side.LEFT)
            if stretch.left_gap
            else end_at_corner(seat, self.meetings.left_of(place, seat.position), Side.LEFT)
        )
        right = (
            end_at_gap(seat, stretch.right_gap, Side.RIGHT)
            if stretch.right_gap
            else end_at_corner(seat, self.meetings.right_of(place, seat.position), Side.RIGHT)
        )
        return left, right


def joint_entries(*ends: End) -> tuple[str, ...]:
    """Trade-book entries that decided the joints of a run: the readings that are coped, where it meets an inside corner.

    Source: trade book `joints.cope-low`, `joints.cope-high`.
    """
    met = {Joint.COPE, Joint.MITER, Joint.BUTT, Joint.SQUARE}
    is_inside = any(end.corner is CornerKind.INSIDE and end.joint in met for end in ends)
    return ("joints.cope-low", "joints.cope-high") if is_inside else ()


def run_length(what: str, stretch: Stretch, left: Reach, right: Reach) -> Figure:
    """Long point to long point: the stretch less what the corners at both ends take. [Length]"""
    return between(what, stretch.left_edge, stretch.right_edge, left.least_figure, right.least_figure)


def _reaching(seats: Seats, stretches: Mapping[Position, tuple[Stretch, ...]], side: int) -> Seats:
    """Seats of a wall whose first (side 0) or last (side −1) stretch ends at the wall's corner."""
    found = {}
    for position, seat in seats.items():
        parts = stretches[position]
        if parts and (parts[side].left_gap if side == 0 else parts[side].right_gap) is None:
            found[position] = seat
    return found


def _profile_at(seats: Seats, position: Position) -> Profile | None:
    return seats[position].profile if position in seats else None
