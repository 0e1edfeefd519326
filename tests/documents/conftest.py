"""An invented quote, made by hand: Bram Tuckett's attic study on Heron Lane, trimmed by Larkrise Joinery.

People, places, firm and prices are invented. Nothing here is computed by the program under test except that
lengths and money are its own records.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest

from service.estimate.cuts.model import Cutting, Pattern, Piece, ProfileBoards, Proof, Purchase
from service.estimate.price import Line, LineKind, ScheduledPayment, Totals
from service.estimate.quote.model import (
    Assumption,
    Caution,
    ClosureCard,
    FeatureCard,
    FirmCard,
    JobCard,
    JointCard,
    NoticeCard,
    OpeningCard,
    PlanLine,
    PlanPoint,
    PriceListRef,
    Quote,
    RoomCard,
    RunCard,
    Status,
    SupplyCard,
    WallCard,
)
from service.estimate.takeoff.hand import EDGES_OF, flat_hand, nested_hand
from service.estimate.takeoff.model import Edge, End, Joint, Side, Span
from service.estimate.takeoff.saw import Lay
from service.firm import Position
from service.problems import Code, Problem, Severity
from service.survey import CornerKind, FeatureKind, OpeningKind
from service.units import ZERO, Length, Units

IN, OUT, OPEN = CornerKind.INSIDE, CornerKind.OUTSIDE, CornerKind.OPEN
L_WALLS = (
    ("A", "150 1/2", IN, 90.0),
    ("B", "192", IN, 90.0),
    ("C", "84", IN, 90.0),
    ("D", "72", OUT, 90.0),
    ("E", "66 1/2", IN, 90.0),
    ("F", "120", IN, 90.0),
)
LAYERS = (
    (Position.CEILING, "CB-512", "0", "5.5"),
    (Position.WALL, "WB-312", "0", "0.75"),
    (Position.CROWN, "CR-458", "0.75", "3.597"),
)
D = Decimal


def length(text):
    """Length from `150 1/2` or `5.5` inches."""
    return Length(sum((Fraction(part) for part in text.split()), Fraction(0)))


def walked(walls):
    """Corner points of a room walked wall by wall, the room on the right hand, the first wall going up the page."""
    x, y, heading, points = 0.0, 0.0, math.pi / 2, []
    for _, text, corner, angle in walls:
        start = x, y
        x, y = x + float(length(text)) * math.cos(heading), y + float(length(text)) * math.sin(heading)
        points.append((start, (x, y)))
        interior = angle if corner is IN else 360 - angle
        heading -= math.radians(180 - interior)
    return points


def point(xy):
    """A plan point from inches."""
    return PlanPoint(Length.measured(round(xy[0], 6)), Length.measured(round(xy[1], 6)))


def wall_cards(walls, notes=""):
    """Walls in plan, studs every 16 in from 14 in."""
    lines = walked(walls)
    return tuple(
        WallCard(
            name, length(text), corner, None if corner is OPEN else angle, PlanLine(point(line[0]), point(line[1])),
            tuple(Length.of(at) for at in range(14, int(length(text).inches), 16)), notes,
        )
        for (name, text, corner, angle), line in zip(walls, lines, strict=True)
    )  # fmt: skip


def end(position, corner, angle, side):
    """An end of a layer; crown settings of a 38° spring angle at a square corner."""
    if position is Position.CROWN:
        edge = Edge.BOTTOM if corner is IN else Edge.TOP
        flat = flat_hand(EDGES_OF[Lay.SPRUNG], side, edge, 31.62, 33.86)
        upright = nested_hand(Lay.SPRUNG, side, edge, 45.0)
        return End(Joint.MITER, angle, 31.62, 33.86, 45.0, edge, corner, flat, upright)
    if position is Position.CEILING:
        edge = Edge.WALL if corner is IN else Edge.ROOM
        return End(
            Joint.MITER, angle, 45.0, 0.0, None, edge, corner, flat_hand(EDGES_OF[Lay.CEILING], side, edge, 45.0, 0.0)
        )
    return End(Joint.BUTT, angle, None, None, None, None, corner)


SCARF = End(Joint.SCARF, None, 0.0, 45.0, None, Edge.BOTTOM, None)


def runs_and_pieces(number, walls, layers):
    """One run a wall and layer; a crown on a wall past 12 ft is spliced at its middle."""
    runs, pieces, count = [], [], 0
    for index, (name, text, corner, angle) in enumerate(walls):
        before = walls[index - 1]
        for layer, (position, profile, near, far) in enumerate(layers, start=1):
            size, joints = length(text), ()
            left, right = end(position, before[2], before[3], Side.LEFT), end(position, corner, angle, Side.RIGHT)
            if position is Position.CROWN and size > Length.of(144):
                joints = (JointCard(Length.of(94), on_glue_plate=False),)
            cuts = [ZERO, *(joint.at for joint in joints), size]
            marks = []
            for i, (start, stop) in enumerate(pairwise(cuts)):
                count += 1
                marks.append(f"{number}-{count:02d}")
                pieces.append(Piece(
                    marks[-1], len(runs) + 1, number, "", name, "Three-piece crown", layer, position, profile,
                    stop - start, stop - start - length(far), start,
                    left if i == 0 else SCARF, right if i == len(cuts) - 2 else SCARF, 0,
                ))  # fmt: skip
            along = position is Position.CEILING and name in {"B", "D"}
            runs.append(RunCard(
                number=len(runs) + 1, wall=name, assembly="Three-piece crown", layer=layer, position=position,
                profile=profile, start=ZERO, length=size, near=length(near), far=length(far), left=left, right=right,
                backed_at=() if along else tuple(Length.of(at) for at in range(14, int(size.inches), 16)),
                backed_all_along=along and name == "D",
                unbacked=size if along and name == "B" else ZERO,
                unbacked_stretches=(Span(Length.of(6), size - Length.of(6)),) if along and name == "B" else (),
                joints=joints, pieces=tuple(marks),
            ))  # fmt: skip
    return tuple(runs), pieces


def room_and_pieces(number=1, name="Attic study", walls=L_WALLS, layers=LAYERS, **more):
    """A room card with its runs, and its pieces."""
    runs, pieces = runs_and_pieces(number, walls, layers)
    ends = [(y, 120 if y < 67 else 192) for y in range(20, 150, 16)] if walls is L_WALLS else []
    joists = tuple(PlanLine(point((0, y)), point((x, y))) for y, x in ends)
    card = RoomCard(
        number=number, name=name, area_sqft=D("177.40"), area_is_approximate=False,
        perimeter=sum((length(text) for _, text, *_ in walls), ZERO), ceiling_height=Length.of("96"),
        closure=ClosureCard(closed=True, gap=ZERO, suspects=()), walls=wall_cards(walls),
        openings=(), joists=joists,
        runs=runs, features=(), notes="",
    )  # fmt: skip
    card = replace(card, **more)
    return card, [replace(piece, room_name=name) for piece in pieces]


def boards_for(pieces, kerf="1/8"):
    """Boards of 16 ft, or of the longest piece; first fit. Answers pieces with their board and boards by profile."""
    stock = max(Length.of(192), *(piece.long_point for piece in pieces))
    profiles, placed = [], {}
    for profile in dict.fromkeys(piece.profile for piece in pieces):
        shelves = []
        for piece in sorted((p for p in pieces if p.profile == profile), key=lambda p: -p.long_point.inches):
            need = piece.long_point + length(kerf)
            shelf = next((s for s in shelves if s[0] + need <= stock + length(kerf)), None)
            if shelf is None:
                shelf = [ZERO, []]
                shelves.append(shelf)
            shelf[0] += need
            shelf[1].append(piece)
            placed[piece.mark] = next(i for i, item in enumerate(shelves, 1) if item is shelf)
        patterns = tuple(_pattern(i, shelf[1], length(kerf), stock) for i, shelf in enumerate(shelves, 1))
        purchase = Purchase(stock, len(patterns), D("31.20"), D("31.20") * len(patterns))
        profiles.append(ProfileBoards(profile, (purchase,), patterns, D("31.20") * len(patterns), 0))
    return [replace(piece, board=placed[piece.mark]) for piece in pieces], tuple(profiles)


def _pattern(number, pieces, kerf, stock):
    used = sum((piece.long_point for piece in pieces), ZERO)
    kerfs = kerf * (len(pieces) - 1)
    rest = stock - used - kerfs
    offcut = rest if rest >= Length.of(24) else ZERO
    return Pattern(number, stock, tuple(p.mark for p in pieces), kerfs, offcut, rest - offcut)


def line(number, code, room, kind, words, quantity, unit, amount, cost="10.00"):  # noqa: PLR0913, PLR0917 - a line's own members
    """One line of the quote."""
    quantity, amount = D(quantity), D(amount)
    for_one = (amount / quantity).quantize(D("0.01"))
    return Line(
        number, code, room, kind, words, quantity, unit, "FOT", for_one, amount, None if cost is None else D(cost), ()
    )


def lines_for(rooms):
    """Boards and labor by room, adhesive and trips for the job, an allowance, a discount."""
    found = []
    for room in rooms:
        for code, kind, words, quantity, unit, amount in (
            ("CB-512", LineKind.MATERIAL, "Ceiling board 1 × 6, poplar", "57.08", "ft", "214.06"),
            ("WB-312", LineKind.MATERIAL, "Wall board 1 × 4, poplar", "57.08", "ft", "142.70"),
            ("CR-458", LineKind.MATERIAL, "Crown 4⅝″, poplar", "57.08", "ft", "388.15"),
            ("set-up", LineKind.LABOR, "Protection, tools in and out", "1.5", "h", "121.50"),
            ("cut-miter", LineKind.LABOR, "Ends mitered", "4.2", "h", "340.20"),
            ("hang-crown", LineKind.LABOR, "Crown hung", "6.1", "h", "494.10"),
            ("paint", LineKind.LABOR, "Painted, each coat", "3.9", "h", "315.90"),
        ):
            found.append(line(len(found) + 1, code, room.name, kind, words, quantity, unit, amount))
    for args in (
        ("AD-10", None, LineKind.MATERIAL, "Construction adhesive", "6", "package of 10.1 fl oz", "48.30"),
        ("trip", None, LineKind.LABOR, "Round trips", "2", "h", "98.00"),
    ):
        found.append(line(len(found) + 1, *args))
    found.append(
        line(
            len(found) + 1,
            "extra",
            rooms[0].name,
            LineKind.ALLOWANCE,
            "Corbel under the beam",
            "2",
            "each",
            "130.00",
            None,
        )
    )
    found.append(line(len(found) + 1, "discount", None, LineKind.DISCOUNT, "Discount", "1", "lot", "-60.00", None))
    return tuple(found)


def totals_for(lines):
    """Totals around the lines; the cost side is made of figures that occur nowhere else."""
    before = sum((item.amount for item in lines), D("0.00"))
    taxable = sum((item.amount for item in lines if item.kind is LineKind.MATERIAL), D("0.00"))
    tax = (taxable * D("0.0825")).quantize(D("0.01"))
    zero = D("0.00")
    total = before + tax
    return Totals(
        D("707.07"), D("77.77"), D("784.84"), D("517.17"), zero, D("1302.01"), D("260.40"), D("1562.41"), D("46.87"),
        D("321.86"), D("130.00"), D("60.00"), zero, before, taxable, tax, total, (total * D("0.3")).quantize(D("0.01")),
    )  # fmt: skip


FIRM = FirmCard(
    name="Larkrise Joinery", address="14 Quarry Row, Pell Harbor", phone="555-0142", email="desk@larkrise.example",
    license_number="PH-20418", lead_certificate="", time_zone="America/New_York", paper="Letter", document_word="quote",
    notices=(
        NoticeCard("Goods stay ours until they are paid for.", None, beside_signature=False),
        NoticeCard("You may cancel this within the days the firm states here.\nAsk us for the form.", D(12), beside_signature=True),
    ),
)  # fmt: skip
JOB = JobCard(
    "Attic study", "Bram Tuckett", "bram@tuckett.example", "555-0177", "3 Heron Lane, Pell Harbor", "Ida Voss",
    date(2026, 11, 18), 1931, occupied=True, notes="Key under the blue pot.",
)  # fmt: skip
ASSUMPTIONS = (
    Assumption("Tear-out and disposal: taking off existing trim is not included, nor is its disposal.", "sheet:/trim"),
    Assumption(
        "Painting: we paint the new trim in every room, 2 coats; nail holes are filled, edges are caulked.",
        "sheet:/trim",
    ),
    Assumption("Spare boards: none are included; boards are bought by the cut list.", ""),
    Assumption("Waste share of adhesive: 0.1 share.", "trade:sealing.adhesive-waste", internal=True),
    Assumption("Hours to fill one nail hole: 0.01 h.", "trade:labor.fill", internal=True),
)
CAUTIONS = (
    Caution("lead", "The house was built before 1978. Treat old paint as lead paint until a test says otherwise.", ()),
    Caution(
        "ladder", "Overhead work: use a ladder or platform rated for the load on a firm, level floor.", ("Attic study",)
    ),
    Caution("saw", "Power saw: guards in place, hands out of the line of the blade.", ()),
)


def made_quote(cards=None, **more):
    """A whole quote around rooms (the attic study when none are handed in)."""
    if cards is None:
        opening = OpeningCard(
            "F", OpeningKind.DOOR, Length.of("60"), Length.of("32"), Length.of("80"), None, "opens in"
        )
        window = OpeningCard(
            "B", OpeningKind.WINDOW, Length.of("70"), Length.of("36"), Length.of("80"), Length.of("30"), ""
        )
        feature = FeatureCard(FeatureKind.MEDALLION, "MD-20", "centered on the beam")
        cards = [room_and_pieces(openings=(opening, window), features=(feature,), notes="Sloped floor by wall B.")]
    rooms = tuple(card for card, _ in cards)
    pieces, boards = boards_for([piece for _, found in cards for piece in found])
    lines = lines_for(rooms)
    totals = totals_for(lines)
    rest = totals.total - totals.deposit
    option = line(
        99, "extra", rooms[0].name, LineKind.OPTION, "Second coat of varnish on the beam", "1", "lot", "240.00", None
    )
    zero = D("0.00")
    quote = Quote(
        schema=1, id="0190f0a0-0000-7000-8000-000000000042", number="Q-0042", revision=2, status=Status.ISSUED,
        created_at=datetime(2026, 11, 25, 3, 30, tzinfo=UTC), valid_until=date(2026, 12, 25), currency="USD",
        units=Units.IMPERIAL, price_list=PriceListRef("standard", 3), firm=FIRM, job=JOB, rooms=rooms,
        pieces=tuple(pieces), boards=boards,
        cutting=Cutting(zero, zero, zero, zero, Fraction(0), zero, is_proven=False, proof=Proof.NONE, groups=()),
        supplies=(
            SupplyCard("N-2", "nail", "Finish nail 2″, 15 gauge", D(410), "each", D("0.05"), D(1000), 1, D("569.5"), D("18.40"), D("18.40"), ()),
            SupplyCard("AD-10", "adhesive", "Construction adhesive", D("51.2"), "fl oz", D("0.1"), D("10.1"), 6, D("4.28"), D("6.10"), D("36.60"), ()),
            SupplyCard("PT-1", "paint", "Trim enamel", D("0.61"), "gal", D("0.1"), D(1), 1, D("0.33"), D("62.00"), D("62.00"), ()),
        ),
        labor=(), labor_hours=D("17.7"), crew_days=D("1.2"), lines=lines, totals=totals, options=(option,),
        payment_schedule=(
            ScheduledPayment("when the work is booked", D("0.3"), totals.deposit),
            ScheduledPayment("when the work is done", D("0.7"), rest),
        ),
        assumptions=ASSUMPTIONS,
        warnings=(
            Problem(Code.BACKING_UNKNOWN, Severity.WARNING, "/rooms/0/walls/1", "Wall B has no studs on the sheet.", "Find them before nailing."),
            Problem(Code.TAXED_TWICE, Severity.WARNING, "", "Material tax of $12.00 and sales tax are both charged."),
        ),
        cautions=CAUTIONS,
    )  # fmt: skip
    return replace(quote, **more)


@pytest.fixture(scope="session")
def quote():
    """The attic study, issued, revision 2."""
    return made_quote()


@pytest.fixture(scope="session")
def make_quote():
    """Makes a quote; keyword arguments replace its members, rooms come from `make_room`."""
    return made_quote


@pytest.fixture(scope="session")
def make_room():
    """Makes a room card and its pieces from walls `(name, inches, corner, angle)`."""
    return room_and_pieces
