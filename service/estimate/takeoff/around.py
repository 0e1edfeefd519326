"""Runs around openings: casing legs and heads, picture frames, stools, aprons, plinth blocks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.takeoff import casings
from service.estimate.takeoff.casings import Frame, Reach
from service.estimate.takeoff.framed import block_figure, member_figures
from service.estimate.takeoff.hand import casing_edges, flat_hand
from service.estimate.takeoff.model import UPRIGHT, Backing, Edge, End, Joint, Member, Run, Side
from service.estimate.takeoff.openings import depth_below, foot_of, layers_around, stands_on_stool
from service.estimate.takeoff.saw import RIGHT_ANGLE_DEG, Lay, off_square, settings
from service.firm import Position
from service.problems import Code
from service.survey import CornerKind, Framing, OpeningKind, OutsideJoint
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from service.estimate.figures import Figure
    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.rules import TakeoffRules
    from service.estimate.takeoff.seats import Seat
    from service.firm import Assembly, Layer, PriceList, Profile
    from service.problems import Problems
    from service.survey import Opening, Wall
    from service.units import Length, Units


@dataclass(frozen=True, slots=True)
class Dressing:
    """One opening with all that goes around it.

    Attributes:
        shape, wall, opening, place: where it is; `place` counts the room's openings from 1.
        assembly: what is ordered for it; `layers` its members by position.
        frame: sizes that the lengths come from.
        block: how the height of a plinth block was worked out, None without one.
    """

    shape: RoomShape
    wall: Wall
    opening: Opening
    place: int
    assembly: Assembly
    layers: Mapping[Position, tuple[Layer, Profile]]
    frame: Frame
    block: Figure | None = None

    @property
    def has_stool(self) -> bool:
        """True for a window on a stool and apron."""
        return stands_on_stool(self.opening, self.layers)

    @property
    def is_framed(self) -> bool:
        """True for a window cased on all four sides."""
        return self.opening.kind is OpeningKind.WINDOW and not self.has_stool

    @property
    def outer_start(self) -> Length:
        """Where the casing's outer edge begins along the wall."""
        return self.opening.from_left - self.frame.reveal - self.frame.casing_width

    @property
    def head_height(self) -> Length:
        """Outer edge of the head casing above the floor."""
        return self.opening.height + self.frame.reveal + self.frame.casing_width

    @property
    def foot(self) -> Length:
        """Lower end of the opening above the floor: a window's sill, or its stool's top."""
        return foot_of(self.opening)

    @property
    def lowest(self) -> Length:
        """Lower edge of the trim above the floor."""
        if not self.has_stool and not self.is_framed:
            return ZERO
        return self.foot - depth_below(self.opening, self.layers, self.frame.reveal)


def runs_around(
    shape: RoomShape, seats: Mapping[str, Mapping[Position, Seat]], price_list: PriceList, rules: TakeoffRules,
    problems: Problems,
) -> Iterator[Run]:  # fmt: skip
    """Runs of the trim around a room's openings, unnumbered, opening by opening, side by side.

    Args:
        shape: the room.
        seats: layers along its walls, by wall name; a plinth block's height follows the base.
        price_list: assemblies, profiles, reveal and stool horn.
        rules: plinth heights.
        problems: collects casings that do not fit their wall and assemblies that lack a member.
    """
    walls = {wall.name: wall for wall in shape.room.walls}
    for place, opening in enumerate(shape.room.openings, 1):
        assembly = price_list.assemblies.get(opening.casing or "")
        if assembly is None:
            continue
        base = seats[opening.wall].get(Position.BASE)
        dressing = _dressing(shape, walls[opening.wall], place, assembly, base, price_list, rules)
        if _is_complete(dressing, price_list, problems):
            horn = price_list.settings.stool_horn or ZERO
            _fit_checked(dressing, horn, price_list.settings.units, problems)
            for side in range(1, opening.sides + 1):
                yield from _members(dressing, side, horn)


def _dressing(
    shape: RoomShape, wall: Wall, place: int, assembly: Assembly, base: Seat | None, price_list: PriceList,
    rules: TakeoffRules,
) -> Dressing:  # fmt: skip
    opening = shape.room.openings[place - 1]
    layers = layers_around(assembly, price_list)
    is_window = opening.kind is OpeningKind.WINDOW
    casing = layers.get(Position.CASING)
    block = block_figure(base, rules) if Position.PLINTH in layers and not is_window else None
    frame = Frame(
        width=opening.width,
        height=opening.height - foot_of(opening),
        casing_width=casing[1].width if casing else ZERO,
        reveal=price_list.settings.casing_reveal,
        is_butted=casing is not None and casing[0].outside_joint is OutsideJoint.BUTT,
        plinth=block.length if block else ZERO,
    )
    return Dressing(shape, wall, opening, place, assembly, layers, frame, block)


def _is_complete(dressing: Dressing, price_list: PriceList, problems: Problems) -> bool:
    needed = [Position.CASING, *((Position.STOOL, Position.APRON) if dressing.has_stool else ())]
    missing = [str(position) for position in needed if position not in dressing.layers]
    if missing:
        problems.error(
            Code.ASSEMBLY_INCOMPLETE,
            f"{dressing.opening.pointer}/casing",
            f"{dressing.assembly.name} has no {' and no '.join(missing)} layer, which this {dressing.opening.kind} takes.",
            help="Choose an assembly that has it, or change Style.",
            found=dressing.assembly.name,
        )
    elif dressing.has_stool and price_list.settings.stool_horn is None:
        problems.error(
            Code.ASSEMBLY_INCOMPLETE,
            f"{dressing.opening.pointer}/style",
            "The firm's price list does not say how far a stool's horns reach.",
            help="Fill Stool horn on the Firm tab of the price list.",
            found=str(dressing.opening.style or ""),
        )
    else:
        return True
    return False


def _fit_checked(dressing: Dressing, horn: Length, units: Units, problems: Problems) -> None:
    """Refuse trim that would reach past a corner, the ceiling or the floor; an opening that itself does is another's fault."""
    wall, opening = dressing.wall, dressing.opening
    for member, past, what in _overreaches(dressing, horn):
        if past.inches > 0:
            found = getattr(opening, member)
            problems.error(
                Code.CASING_OUTSIDE_WALL,
                f"{opening.pointer}/{member}",
                f"The trim around the {opening.kind} on wall {wall.name} would reach "
                f"{past.text(units, denominator=16)} past the {what}.",
                help="Check From left, Width and the heights, or leave Casing blank and trim it by hand.",
                found=found.text(units) if found is not None else "",
            )


def _overreaches(dressing: Dressing, horn: Length) -> Iterator[tuple[str, Length, str]]:
    """How far the trim reaches past what bounds its wall, with the member to look at."""
    opening, length, ceiling = dressing.opening, dressing.wall.length, dressing.shape.room.ceiling_height
    more = horn if dressing.has_stool else ZERO
    end = dressing.outer_start + dressing.frame.out_to_out
    if opening.from_left + opening.width <= length:
        yield "from_left", max(more - dressing.outer_start, end + more - length), "corner"
    if opening.height <= ceiling:
        yield "height", dressing.head_height - ceiling, "ceiling"
    yield "sill_height", -dressing.lowest, "floor"


def _members(dressing: Dressing, side: int, horn: Length) -> Iterator[Run]:
    frame, opening = dressing.frame, dressing.opening
    leg = casings.frame_leg(frame) if dressing.is_framed else casings.leg(frame)
    foot_joint = Joint.MITER if dressing.is_framed and not frame.is_butted else Joint.BUTT
    head_joint = Joint.BUTT if frame.is_butted else Joint.MITER
    legs, across = (foot_joint, head_joint), (head_joint, head_joint)
    yield _run(dressing, side, Member.LEFT_LEG, leg, legs, _leg_foot(dressing))
    yield _run(dressing, side, Member.HEAD, casings.head(frame), across, opening.height + frame.reveal)
    yield _run(dressing, side, Member.RIGHT_LEG, leg, legs, _leg_foot(dressing))
    if dressing.is_framed:
        yield _run(dressing, side, Member.SILL, casings.head(frame), across, dressing.lowest)
    square = (Joint.SQUARE, Joint.SQUARE)
    if dressing.has_stool:
        under = dressing.foot - dressing.layers[Position.STOOL][1].thickness
        yield _run(dressing, side, Member.STOOL, casings.stool(frame, horn), square, under)
        yield _run(dressing, side, Member.APRON, casings.apron(frame), square, dressing.lowest)
    if frame.plinth:
        block = Reach(frame.plinth, frame.plinth)
        for member in (Member.LEFT_PLINTH, Member.RIGHT_PLINTH):
            yield _run(dressing, side, member, block, square, ZERO)


def _leg_foot(dressing: Dressing) -> Length:
    """Lower end of a leg above the floor: on the floor, a plinth or a stool; in a frame the sill's corner or upper edge."""
    if dressing.is_framed:
        return dressing.foot - dressing.frame.reveal if dressing.frame.is_butted else dressing.lowest
    return dressing.foot + dressing.frame.plinth


_POSITION_OF = {
    Member.STOOL: Position.STOOL,
    Member.APRON: Position.APRON,
    Member.LEFT_PLINTH: Position.PLINTH,
    Member.RIGHT_PLINTH: Position.PLINTH,
}


def _run(
    dressing: Dressing, side: int, member: Member, reach: Reach, joints: tuple[Joint, Joint], low: Length
) -> Run:  # fmt: skip
    layer, profile = dressing.layers[_POSITION_OF.get(member, Position.CASING)]
    is_wood = dressing.wall.framing is Framing.WOOD
    left, right = (_end(joint, member, end) for joint, end in zip(joints, Side, strict=True))
    mitered = sum(joint is Joint.MITER for joint in joints)
    setback = (reach.long - reach.short) / mitered if mitered else ZERO
    return Run(
        number=0,
        room=dressing.shape.number,
        room_name=dressing.shape.room.name,
        wall=dressing.wall.name,
        wall_pointer=dressing.wall.pointer,
        trim_pointer=dressing.opening.pointer,
        assembly=dressing.assembly.name,
        layer=layer,
        profile=profile,
        near=ZERO,
        far=profile.thickness,
        low=low,
        high=low + _rise(member, reach, profile),
        start=dressing.outer_start,
        length=reach.long.snapped(),
        cut_start=dressing.outer_start,
        cut_length=reach.long.snapped(),
        cut_short=reach.short.snapped(),
        left=left,
        right=right,
        backing=Backing(at=(), is_continuous=is_wood, is_wood=is_wood),
        splice_at=(),
        member=member,
        opening=dressing.place,
        opening_kind=dressing.opening.kind,
        side=side,
        left_setback=setback.snapped() if left.joint is Joint.MITER else ZERO,
        right_setback=setback.snapped() if right.joint is Joint.MITER else ZERO,
        measured=member_figures(
            dressing.opening, dressing.frame, member, reach, dressing.layers[Position.CASING][1], dressing.block
        ),
    )


def _rise(member: Member, reach: Reach, profile: Profile) -> Length:
    """Height that a member takes up: its length upright, its thickness as a stool, else its width."""
    if member in UPRIGHT:
        return reach.long
    return profile.thickness if member is Member.STOOL else profile.width


def _end(joint: Joint, member: Member, end: Side) -> End:
    """A casing lies flat and is mitered in its own plane, 45° at the square corner of its frame; else it is cut square."""
    if joint is not Joint.MITER:
        cut = off_square(Lay.CEILING, RIGHT_ANGLE_DEG)
        return End(joint, None, cut.miter_deg, cut.bevel_deg, cut.nested_miter_deg)
    cut = settings(Lay.CEILING, RIGHT_ANGLE_DEG)
    hand = flat_hand(casing_edges(member), end, Edge.OUTER, cut.miter_deg, cut.bevel_deg)
    return End(
        joint, RIGHT_ANGLE_DEG, cut.miter_deg, cut.bevel_deg, cut.nested_miter_deg, Edge.OUTER, CornerKind.OUTSIDE, hand
    )
