"""Hand-made runs, stock and settings for tests of the cutting stage. Firm, house and every price are invented."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from service.estimate.cuts.boards import Board
from service.estimate.cuts.model import Piece
from service.estimate.cuts.plan import cut_plan
from service.estimate.cuts.shelf import Choice
from service.estimate.takeoff.model import Backing, Edge, End, Joint, Run
from service.firm import (
    FirmSettings,
    Layer,
    Position,
    PriceList,
    Profile,
    ProfitMethod,
    SalesTaxOn,
    Shape,
    Stock,
)
from service.problems import Code, Problems
from service.survey import CornerKind, InsideJoint
from service.units import ZERO, Length, Units

if TYPE_CHECKING:
    from service.estimate.cuts.model import CutPlan

IN = Length.of
JOINT_COST = Decimal("6.00")
SQUARE = End(Joint.SQUARE, miter_deg=0.0, bevel_deg=0.0)
INSIDE = End(Joint.MITER, 90.0, 45.0, 0.0, None, Edge.WALL, CornerKind.INSIDE)
OUTSIDE = End(Joint.MITER, 90.0, 45.0, 0.0, None, Edge.ROOM, CornerKind.OUTSIDE)
RETURN = End(Joint.RETURN, 90.0, 45.0, 0.0, None, Edge.ROOM, CornerKind.OUTSIDE)

SETTINGS = FirmSettings(
    name="Sandpiper Trim (invented)",
    currency="USD",
    units=Units.IMPERIAL,
    time_zone="America/Denver",
    valid_for_days=30,
    burden_share=Decimal(0),
    overhead_share=Decimal(0),
    profit_method=ProfitMethod.MARKUP,
    profit_rate=Decimal(0),
    contingency_share=Decimal(0),
    material_tax_rate=Decimal(0),
    sales_tax_rate=Decimal(0),
    sales_tax_on=SalesTaxOn.NOTHING,
    crew_size=2,
    productive_hours_a_day=Decimal(7),
    kerf=ZERO,
    end_trim=ZERO,
    shortest_piece=IN(24),
    shortest_offcut_to_keep=IN(24),
    joint_stagger=IN(24),
    scarf_angle_deg=45.0,
    inside_joint=InsideJoint.MITER,
    casing_reveal=ZERO,
)


def profile(name: str = "board", thickness: str = "3/4", shape: Shape = Shape.FLAT, spring: float | None = None):
    """A profile of invented make, 5 1/2" wide."""
    return Profile(name, f"invented {name}", shape, IN("11/2"), IN(thickness), spring)


def run(  # noqa: PLR0913 - a record of that many members, each named by its caller
    number: int = 1,
    length: str | int = 144,
    *,
    start: str | int = 0,
    of: Profile | None = None,
    room: int = 1,
    wall: str = "A",
    layer: int = 1,
    position: Position = Position.CEILING,
    studs: tuple[str | int, ...] = (),
    left: End = SQUARE,
    right: End = SQUARE,
    setbacks: tuple[str | int, str | int] = (0, 0),
    near: str | int = 0,
    far: str | int = "11/2",
    assembly: str = "plain",
) -> Run:
    """A run along a wall; studs are where its joints may land."""
    one = of or profile()
    at = tuple(IN(stud) for stud in studs)
    return Run(
        number=number,
        room=room,
        room_name=f"Room {room}",
        wall=wall,
        wall_pointer=f"/rooms/{room - 1}/walls/{ord(wall) - 65}",
        trim_pointer="/trim/0",
        assembly=assembly,
        layer=Layer(layer, position, one.name),
        profile=one,
        near=IN(near),
        far=IN(far),
        low=ZERO,
        high=ZERO,
        start=IN(start),
        length=IN(length),
        cut_start=IN(start),
        cut_length=IN(length),
        cut_short=IN(length) - IN(setbacks[0]) - IN(setbacks[1]),
        left=left,
        right=right,
        backing=Backing(at),
        splice_at=at,
        plate_at=tuple(IN(start) + IN(8) * k for k in range(1, int(IN(length) / IN(8)) + 1)),
        left_setback=IN(setbacks[0]),
        right_setback=IN(setbacks[1]),
    )


def piece(
    mark: str,
    length: str | int,
    left: End = SQUARE,
    right: End = SQUARE,
    setbacks: tuple[str | int, str | int] = (0, 0),
    of: str = "board",
) -> Piece:
    """A piece of a ceiling board; setbacks are long point less short point at its left and right end."""
    return Piece(
        mark=mark, run=1, room=1, room_name="Room 1", wall="A", assembly="plain", layer=1, position=Position.CEILING,
        profile=of, long_point=IN(length), short_point=IN(length), start=ZERO, left=left, right=right,
        left_setback=IN(setbacks[0]), right_setback=IN(setbacks[1]),
    )  # fmt: skip


def board(feet: str | int, *pieces: Piece, price: str = "1.00", trim: str = "0", is_offcut: bool = False) -> Board:
    """A board of so many feet with its pieces."""
    length = IN(feet) * 12
    return Board(Choice(length, length - IN(trim), Decimal(price), None, is_offcut), pieces)


def stock(feet: str | int, price: str, *, of: str = "board", available: int | None = None, is_offcut: bool = False):
    """A stock length in feet."""
    return Stock(of, IN(feet) * 12, Decimal(price), available, is_offcut)


def by_the_foot(*feet: int, of: str = "board", per_foot: str = "1.00") -> tuple[Stock, ...]:
    """Stock lengths at one price a foot."""
    return tuple(stock(one, str(Decimal(per_foot) * one), of=of) for one in feet)


def price_list(*rows: Stock, **changes: object) -> PriceList:
    """A price list of stock rows; settings may be changed by name."""
    return PriceList(
        settings=replace(SETTINGS, **changes),
        wages={},
        payments=(),
        profiles={},
        stock=rows,
        assemblies={},
        supplies={},
        labor={},
    )


def planned(runs, prices: PriceList, problems: Problems | None = None) -> CutPlan:
    """The plan of runs that must have one."""
    found = problems if problems is not None else Problems()
    plan = cut_plan(tuple(runs), prices, JOINT_COST, found)
    assert plan is not None, [problem.line() for problem in found]
    return plan


def refused(runs, prices: PriceList) -> Problems:
    """The faults of runs that must have no plan."""
    found = Problems()
    assert cut_plan(tuple(runs), prices, JOINT_COST, found) is None
    assert found.has_errors
    return found


def codes(problems: Problems) -> list[Code]:
    """Codes of problems, in order."""
    return [problem.code for problem in problems]


def bought(plan: CutPlan, of: str = "board") -> dict[Length, int]:
    """Boards of a profile by length."""
    (boards,) = (one for one in plan.boards if one.profile == of)
    counts: dict[Length, int] = {}
    for purchase in boards.purchases:
        counts[purchase.length] = counts.get(purchase.length, 0) + purchase.count
    return counts


def lengths(plan: CutPlan) -> list[Length]:
    """Long points of all pieces, in order."""
    return [piece.long_point for piece in plan.pieces]


def joints(plan: CutPlan, number: int = 1) -> list[Length]:
    """Joint positions of one run."""
    return [splice.at for splice in plan.splices if splice.run == number]
