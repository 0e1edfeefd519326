"""Hand-made runs, plans and supplies for tests of fastening and labor. Firm, house and every price are invented."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from service.estimate.cuts.model import CutPlan, Cutting, Piece, Proof, Splice
from service.estimate.figures import Figure, given
from service.estimate.materials.buying import bought
from service.estimate.materials.model import Materials, RunFastening, SupplyRow
from service.estimate.materials.rules import Rules
from service.estimate.rooms import Closure, RoomShape
from service.estimate.takeoff.model import Backing, End, Joint, Run, Span
from service.firm import FinishState, Layer, Position, PriceList, Profile, Shape, Supply, SupplyKind
from service.problems import Problems
from service.survey import CornerKind, Room, Studs, Wall
from service.trade.book import TradeBook, overridden, shipped_book
from service.units import ZERO, Length
from tests.invented import SETTINGS

IN = Length.of
D = Decimal


def told(value: Fraction | Decimal | int | str | Length, unit: str = "each") -> Figure:
    """A figure that somebody set, for functions that work with figures; a length in inches."""
    number = value if isinstance(value, Length) else Fraction(value)
    return given("set by hand", number, unit, "sheet:/by-hand")


BOOK = shipped_book()
RULES = Rules.of(BOOK)
SQUARE = End(Joint.SQUARE, miter_deg=0.0, bevel_deg=0.0)
INSIDE = End(Joint.MITER, 90.0, 45.0, 0.0, corner=CornerKind.INSIDE)
OUTSIDE = End(Joint.MITER, 90.0, 45.0, 0.0, corner=CornerKind.OUTSIDE)
SCARF = End(Joint.SCARF, miter_deg=0.0, bevel_deg=45.0)

BOARD = Profile("board", "poplar board", Shape.FLAT, IN("5.5"), IN("0.75"), weight_lb_per_ft=D("0.8"))
WIDE = replace(BOARD, name="wide board", width=IN("9.25"))
CROWN = Profile("crown", "crown", Shape.SPRUNG, IN("4.625"), IN("0.625"), 38.0, weight_lb_per_ft=D("0.5"))
BASE = Profile("base", "base", Shape.MOLDED, IN("5.25"), IN("0.5625"), finish=FinishState.PRIMED)
SHOE = Profile("shoe", "shoe", Shape.MOLDED, IN("0.75"), IN("0.5"))


def supply(code: str, kind: SupplyKind, size: str, unit: str, price: str, **more: object) -> Supply:
    """A supply of invented make and price."""
    return Supply(code, f"invented {code}", kind, D(size), unit, D(price), **more)


def nail(length: str, diameter: str = "0.072", size: str = "1000", unit: str = "each") -> Supply:
    """A finish nail, 15 gauge unless said."""
    code = f"nail-{length}"
    return supply(code, SupplyKind.NAIL, size, unit, "30.00", length=IN(length), shank_diameter=IN(diameter))


NAILS = tuple(nail(length) for length in ("1.25", "1.5", "2", "2.25", "2.5", "3"))
FLUID_OUNCE = D(231) / D(128)
SUPPLIES = (
    *NAILS,
    supply("block", SupplyKind.BLOCK, "25", "each", "20.00"),
    supply("glue-plate", SupplyKind.OTHER, "10", "each", "8.00"),
    supply("adhesive", SupplyKind.ADHESIVE, "1", "cartridge", "7.00", volume_cu_in=D("10.1") * FLUID_OUNCE),
    supply("caulk", SupplyKind.SEALANT, "1", "cartridge", "5.00", volume_cu_in=D("10.1") * FLUID_OUNCE),
    supply("filler", SupplyKind.FILLER, "1", "pt", "9.00"),
    supply("primer", SupplyKind.PRIMER, "1", "gal", "30.00", coverage_sqft=D(500)),
    supply("paint", SupplyKind.PAINT, "1", "gal", "45.00", coverage_sqft=D(400)),
    supply("stain", SupplyKind.PAINT, "1", "qt", "20.00"),
)

PROTECTION = (
    supply("masking-tape", SupplyKind.OTHER, "1", "roll of 60 yd", "5.00"),
    supply("floor-covering", SupplyKind.OTHER, "1", "roll", "50.00", coverage_sqft=D(300)),
)


def price_list(*supplies: Supply, **settings: object) -> PriceList:
    """A price list with these supplies, or all of them."""
    chosen = supplies or SUPPLIES
    return PriceList(
        settings=replace(SETTINGS, **settings),
        wages={},
        payments=(),
        profiles={},
        stock=(),
        assemblies={},
        supplies={item.code: item for item in chosen},
        labor={},
    )


def without(code: str) -> PriceList:
    """The price list without one supply."""
    return price_list(*(item for item in SUPPLIES if item.code != code))


def centers(first: int, last: int, spacing: int = 16) -> tuple[Length, ...]:
    """Stud or joist centers."""
    return tuple(IN(x) for x in range(first, last + 1, spacing))


def run(
    position: Position = Position.CEILING,
    profile: Profile = BOARD,
    length: int | str = 160,
    *,
    at: tuple[Length, ...] = (),
    left: End = INSIDE,
    right: End = INSIDE,
    layer: dict[str, object] | None = None,
    backing: dict[str, object] | None = None,
    **more: object,
) -> Run:
    """One run on wall A of room 1 from its left end, backed at some places."""
    long_point = IN(length)
    facts: dict[str, object] = {
        "number": 1, "room": 1, "room_name": "Parlor", "wall": "A", "wall_pointer": "/rooms/0/walls/0",
        "trim_pointer": "/trim/0", "assembly": "built-up",
        "layer": Layer(**{"number": 1, "position": position, "profile": profile.name, **(layer or {})}), "profile": profile,
        "near": ZERO, "far": profile.width, "low": IN(90), "high": IN(95), "start": ZERO, "length": long_point,
        "cut_start": ZERO, "cut_length": long_point, "cut_short": long_point, "left": left, "right": right,
        "backing": Backing(at, **(backing or {})), "splice_at": (),
    }  # fmt: skip
    return Run(**{**facts, **more})


def crown(length: int = 160, *, blocks: bool = True, spacing: Length | None = None, **more: object) -> Run:
    """A crown on blocks at studs 0.75, 16, 32 … and at its right end, between a ceiling and a wall layer."""
    studs = (IN("0.75"), *centers(16, length - 16), IN(length) - IN("0.75"))
    facts: dict[str, object] = {
        "over_wall_layer": BOARD, "under_ceiling_layer": BOARD, "wall_studs": studs, "at": studs,
        "layer": {"number": 3, "has_blocks": blocks, "block_spacing": spacing},
    }  # fmt: skip
    return run(Position.CROWN, CROWN, length, **{**facts, **more})


def piece(of: Run, start: Length | None = None, length: Length | None = None, **more: object) -> Piece:
    """One piece of a run, the whole of it unless said."""
    facts: dict[str, object] = {
        "mark": f"1-{of.number:02d}", "run": of.number, "room": of.room, "room_name": of.room_name, "wall": of.wall,
        "assembly": of.assembly, "layer": of.layer.number, "position": of.position, "profile": of.profile.name,
        "long_point": length or of.cut_length, "short_point": length or of.cut_short,
        "start": start if start is not None else of.cut_start, "left": of.left, "right": of.right, "board": 1,
    }  # fmt: skip
    return Piece(**{**facts, **more})


def plan(*runs: Run, splices: tuple[Splice, ...] = (), pieces: tuple[Piece, ...] | None = None) -> CutPlan:
    """A plan of one piece a run, or of these pieces; boards and costs play no part in these stages."""
    cents = Decimal("0.00")
    cutting = Cutting(cents, cents, cents, cents, Fraction(0), cents, is_proven=False, proof=Proof.NONE, groups=())
    chosen = tuple(piece(item) for item in runs) if pieces is None else pieces
    return CutPlan(chosen, (), splices, cutting)


def room(height: str = "96", covering: str = "0.5", **more: object) -> Room:
    """A room with one wall that matters."""
    wall = Wall("/rooms/0/walls/0", "A", IN(160), CornerKind.INSIDE, 90.0, Studs(IN(16), IN(16)))
    return Room("/rooms/0", "Parlor", IN(height), IN(covering), IN(covering), (wall,), **more)


def shape(of: Room | None = None) -> RoomShape:
    """The room as the takeoff hands it on; its plan plays no part here."""
    closure = Closure(is_closed=True, gap=ZERO)
    return RoomShape(
        1, of or room(), (90.0,), (0.0,), (), is_island=False, is_open=False, closure=closure, area_sqft=100.0,
        perimeter=IN(160),
    )  # fmt: skip


def book_with(**values: str) -> TradeBook:
    """The trade book with some entries set: `fastening__nail_spacing="8"`."""
    named = {key.replace("__", ".").replace("_", "-"): (D(value), "test") for key, value in values.items()}
    return overridden(BOOK, named)[0]


def materials(
    *runs: Run,
    prices: PriceList | None = None,
    cuts: CutPlan | None = None,
    place: Room | None = None,
    problems: Problems | None = None,
    book: TradeBook = BOOK,
) -> Materials:
    """Materials of some runs; without a collector any error fails the test."""
    found = problems if problems is not None else Problems()
    result = bought((shape(place),), runs, cuts or plan(*runs), prices or price_list(), book, found)
    if problems is None:
        assert not found.has_errors, [problem.line() for problem in found.errors]
    return result or Materials((), ())


def only(*runs: Run, **more: object) -> RunFastening:
    """Fastening of the first of some runs."""
    return materials(*runs, **more).fastening[0]


def row(found: Materials, code: str) -> SupplyRow:
    """The row of one supply."""
    (supply_row,) = (item for item in found.supplies if item.code == code)
    return supply_row


def unbacked(*stretches: tuple[int, int]) -> dict[str, object]:
    """Backing with unbacked stretches."""
    return {"unbacked": tuple(Span(IN(start), IN(end)) for start, end in stretches)}
