"""Records of the takeoff stage."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

from service.estimate.figures import INCH, Figure, given
from service.units import ZERO

if TYPE_CHECKING:
    from service.firm import AdhesiveUse, Layer, Position, Profile
    from service.survey import CornerKind, FinishOrder, OpeningKind
    from service.units import Length


class Joint(StrEnum):
    """How an end of a piece is made."""

    MITER = "miter"
    COPE = "cope"
    BUTT = "butt"
    SCARF = "scarf"
    RETURN = "return"
    SQUARE = "square"


class Edge(StrEnum):
    """The edge of a piece that carries the long point.

    A ceiling layer has a `wall` and a `room` edge, a crown a `bottom` and a `top` edge, a casing an
    `outer` and an `inner` one; every other layer has a `back` (against the wall) and a `face`.
    """

    WALL = "wall"
    ROOM = "room"
    BOTTOM = "bottom"
    TOP = "top"
    BACK = "back"
    FACE = "face"
    OUTER = "outer"
    INNER = "inner"


OPPOSITE = {
    Edge.WALL: Edge.ROOM,
    Edge.ROOM: Edge.WALL,
    Edge.BOTTOM: Edge.TOP,
    Edge.TOP: Edge.BOTTOM,
    Edge.BACK: Edge.FACE,
    Edge.FACE: Edge.BACK,
    Edge.OUTER: Edge.INNER,
    Edge.INNER: Edge.OUTER,
}


def short_point(
    long_point: Length, setbacks: tuple[Length, Length], long_edges: tuple[Edge | None, Edge | None]
) -> Length:
    """Length of a piece's shortest edge.

    Ends that carry their long points on one edge both shorten the other edge; on opposite edges, as
    between an inside and an outside corner, each edge loses one end only. Negative: the ends cross.

    Source: plane geometry.

    Args:
        long_point: long point to long point. [Length]
        setbacks: long point less short point at the left and the right end. [Length, Length]
        long_edges: the edge that carries the long point at each, None where square.

    Returns:
        Length of the shortest edge. [Length]
    """
    left, right = long_edges
    if left is not None and OPPOSITE[left] is right:
        return long_point - max(setbacks)
    return long_point - setbacks[0] - setbacks[1]


class Member(StrEnum):
    """What a run is: a layer along a wall, or a part of the trim around an opening.

    A leg's left end is its foot and its right end its head; every other member reads left to right as
    one faces it.
    """

    ALONG = "along"
    LEFT_LEG = "left leg"
    RIGHT_LEG = "right leg"
    HEAD = "head"
    SILL = "sill"
    STOOL = "stool"
    APRON = "apron"
    LEFT_PLINTH = "left plinth"
    RIGHT_PLINTH = "right plinth"


UPRIGHT = frozenset({Member.LEFT_LEG, Member.RIGHT_LEG, Member.LEFT_PLINTH, Member.RIGHT_PLINTH})


class Side(StrEnum):
    """The operator's left or right, standing before the saw and facing its fence."""

    LEFT = "left"
    RIGHT = "right"

    @property
    def opposite(self) -> Side:
        """The other one."""
        return Side.LEFT if self is Side.RIGHT else Side.RIGHT


@dataclass(frozen=True, slots=True)
class Hand:
    """How a piece lies on the saw and which way the saw is set; `hand.py` derives it.

    Attributes:
        swing: where the handle of the table goes, None at miter 0.
        tilt: where the top of the blade leans, None at bevel 0.
        fence_edge: what lies against the fence.
        up: what looks up: the face lying flat, the bottom edge of a nested crown, the top edge of a board on edge.
        keep: the side of the blade on which the piece is.
    """

    swing: Side | None
    tilt: Side | None
    fence_edge: Edge
    up: Edge
    keep: Side


@dataclass(frozen=True, slots=True)
class End:
    """One end of a run or piece: joint and saw settings, degrees to 0.01, None where they do not apply.

    `miter_deg`, `bevel_deg` and `hand` are for the piece lying flat on the saw table; `nested_miter_deg` and
    `nested_hand` for one standing against the fence. A square end has no hand.
    """

    joint: Joint
    corner_deg: float | None = None
    miter_deg: float | None = None
    bevel_deg: float | None = None
    nested_miter_deg: float | None = None
    long_edge: Edge | None = None
    corner: CornerKind | None = None
    hand: Hand | None = None
    nested_hand: Hand | None = None


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a wall, from its left end."""

    start: Length
    end: Length

    @property
    def length(self) -> Length:
        """How long it is."""
        return self.end - self.start


@dataclass(frozen=True, slots=True)
class Backing:
    """Wood that nails of a run can reach, in wall coordinates (from the wall's left end).

    Attributes:
        at: where studs or joists are met.
        is_continuous: the edge of a joist runs under the whole of it.
        unbacked: stretches without any, in order.
        is_known: False when the sheet does not tell where the framing is.
        is_wood: False on steel studs or masonry: finish nails do not count there.
        on_plate: a top or bottom plate runs behind it all along and takes nails, no splices.
        layout: figures that the positions follow from, such as first stud and spacing.
        entries: trade-book entries that decide what there is and how it is nailed, such as how much of a joist must
            lie under a layer.
    """

    at: tuple[Length, ...]
    is_continuous: bool = False
    unbacked: tuple[Span, ...] = ()
    is_known: bool = True
    is_wood: bool = True
    on_plate: bool = False
    layout: tuple[Figure, ...] = field(default=(), compare=False)
    entries: tuple[str, ...] = field(default=(), compare=False)


@dataclass(frozen=True, slots=True, eq=False)
class RunFigures:
    """How a run's lengths were worked out: mitered long point to long point, as cut, and its short edge if it matters.

    `studs`: what the studs behind it follow from, such as first stud and spacing; `start` and `cut_start` where the
    mitered run and the real cut begin along the wall; `offsets` of its near and far edge from the wall's face.
    """

    length: Figure
    cut_length: Figure
    cut_short: Figure | None = None
    studs: tuple[Figure, ...] = ()
    start: Figure | None = None
    cut_start: Figure | None = None
    offsets: tuple[Figure, Figure] | None = None


@dataclass(frozen=True, slots=True)
class Run:
    """One layer along one wall, from corner to corner or between openings, before splicing.

    Attributes:
        number: unique in the job, from 1.
        room: number of the room, from 1; `room_name` and `wall` its names.
        wall_pointer, trim_pointer: members of the job document it came from.
        layer: the assembly's layer; `profile` what it is made of.
        near, far: offsets from the wall's face that the layer occupies. [Length]
        low, high: the height band it occupies above the finished floor. [Length]
        start: wall coordinate of its leftmost point; `length`: long point to long point, mitered
            whatever the joint is.
        cut_start, cut_length, cut_short: the same for the real cut; short point to short point.
        left, right: how it ends.
        backing: what nails reach.
        splice_at: wall coordinates where a joint may land on backing; `plate_at` where it may lie on a glue plate.
        over_wall_layer, under_ceiling_layer: whether those layers of the same build-up stand on this
            wall (a crown nails to them), else None.
        wall_studs: stud centers between the run's ends, end and opening studs included, whatever the layer nails to.
        top_edge: joists that the top edge of a crown without a ceiling layer reaches, else None.
        member: a layer along the wall, or a part of the trim around an opening; then `opening` is the
            opening's place in its room's list, from 1, `opening_kind` what it is, `side` 1 or 2, `start` is where the trim's outer edge
            begins along the wall, and lengths run along the member (up, for a leg). It is never spliced.
        left_setback, right_setback: long point less short point of the real cut at that end; together
            cut_length - cut_short.
        measured: how its lengths were worked out; None for a run that no sheet is behind.
        joint_entries: trade-book entries that decide how its ends are made and so how long it is.
    """

    number: int
    room: int
    room_name: str
    wall: str
    wall_pointer: str
    trim_pointer: str
    assembly: str
    layer: Layer
    profile: Profile
    near: Length
    far: Length
    low: Length
    high: Length
    start: Length
    length: Length
    cut_start: Length
    cut_length: Length
    cut_short: Length
    left: End
    right: End
    backing: Backing
    splice_at: tuple[Length, ...]
    over_wall_layer: Profile | None = None
    under_ceiling_layer: Profile | None = None
    wall_studs: tuple[Length, ...] = ()
    remove_existing: bool = False
    finish: FinishOrder | None = None
    coats: int | None = None
    notes: tuple[str, ...] = ()
    top_edge: Backing | None = None
    member: Member = Member.ALONG
    opening: int | None = None
    opening_kind: OpeningKind | None = None
    side: int = 1
    left_setback: Length = ZERO
    right_setback: Length = ZERO
    measured: RunFigures | None = field(default=None, compare=False)
    plate_at: tuple[Length, ...] = ()
    joint_entries: tuple[str, ...] = field(default=(), compare=False)

    @property
    def title(self) -> str:
        """The run in words: `crown on wall B of Parlor`."""
        part = str(self.position) if self.is_along_wall else f"{self.member} of {self.position}"
        return f"{part} on wall {self.wall} of {self.room_name}"

    @property
    def length_figure(self) -> Figure:
        """How the length was worked out. [Length]"""
        return self.measured.length if self.measured else self._told("length", self.length)

    @property
    def cut_figure(self) -> Figure:
        """How the length of the real cut was worked out. [Length]"""
        return self.measured.cut_length if self.measured else self._told("cut length", self.cut_length)

    @property
    def short_figure(self) -> Figure:
        """How the short edge of the real cut was worked out. [Length]"""
        short = self.measured.cut_short if self.measured else None
        return short or self._told("short edge", self.cut_short)

    @property
    def start_figure(self) -> Figure:
        """Where the mitered run begins along the wall. [Length]"""
        start = self.measured.start if self.measured else None
        return start or self._told("left-hand end", self.start)

    @property
    def cut_start_figure(self) -> Figure:
        """Where the real cut begins along the wall. [Length]"""
        start = self.measured.cut_start if self.measured else None
        return start or self._told("left-hand end", self.cut_start)

    @property
    def offset_figures(self) -> tuple[Figure, Figure]:
        """Offsets of its near and far edge from the wall's face. [Length, Length]"""
        found = self.measured.offsets if self.measured else None
        return found or (self._told("near edge", self.near), self._told("far edge", self.far))

    @property
    def stud_layout(self) -> tuple[Figure, ...]:
        """What the studs behind it follow from."""
        return self.measured.studs if self.measured else ()

    @property
    def framing_entries(self) -> tuple[str, ...]:
        """Trade-book entries that decide what its nails reach and how many there are at each place."""
        return tuple(dict.fromkeys((*self.backing.entries, *(self.top_edge.entries if self.top_edge else ()))))

    @property
    def splice_entries(self) -> tuple[str, ...]:
        """Trade-book entries that say where it may be joined when it is spliced, where no studs or joists do."""
        if self.backing.is_continuous:
            return ("joints.edge-grid",)
        return () if self.splice_at else ("joints.glue-plate-spacing",)

    def _told(self, what: str, length: Length) -> Figure:
        return given(f"{what} of the {self.title}", length, INCH, f"sheet:{self.wall_pointer}/length")

    @property
    def position(self) -> Position:
        """Where the layer sits."""
        return self.layer.position

    @property
    def is_along_wall(self) -> bool:
        """True for a layer along the wall, False for trim around an opening."""
        return self.member is Member.ALONG

    @property
    def adhesive(self) -> AdhesiveUse:
        """How the layer is glued."""
        return self.layer.adhesive

    @property
    def end(self) -> Length:
        """Wall coordinate of the rightmost point of the mitered run."""
        return self.start + self.length

    @property
    def cut_end(self) -> Length:
        """Wall coordinate of the rightmost point of the real cut."""
        return self.cut_start + self.cut_length
