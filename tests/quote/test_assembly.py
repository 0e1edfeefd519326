"""The quote put together from the stages' records. Firm, house, people and prices are invented."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from shapely.geometry import LineString, Point, Polygon

from service.estimate.cuts.model import Splice
from service.estimate.quote.assembly import assembled
from service.estimate.quote.model import Heading, PlanLine, Quote, RoomCard, Status
from service.estimate.quote.room_cards import area, room_cards, studs_within
from service.estimate.rooms import RoomRules, RoomShape, shaped_rooms
from service.estimate.takeoff.model import Member
from service.firm import Notice
from service.problems import Code, Problems
from service.survey import CeilingFeature, CornerKind, ExtraKind, FeatureKind, Opening, OpeningKind, Room, Studs
from service.trade.book import shipped_book
from service.units import Length, Units
from tests.price.examples import (
    boards,
    extra,
    hours,
    inches,
    labor,
    materials,
    piece,
    plan,
    price,
    price_list,
    room,
    run,
    supply,
    survey,
    wall,
)

if TYPE_CHECKING:
    from service.estimate.price import Priced

HEADING = Heading(
    "018f0000-0000-7000-8000-000000000001", "Q-1", 1, Status.DRAFT, datetime(2026, 3, 2, tzinfo=UTC), date(2026, 4, 1)
)
PIECES = (piece("A1", 60), piece("A2", 30), piece("B1", 45, 2, "Den"))
HALL = room(
    openings=(
        Opening(
            "/rooms/0/openings/0", "B", OpeningKind.DOOR, inches(20), inches(32), inches(80), None, "plain", None, 2
        ),
    ),
    ceiling=(CeilingFeature("/rooms/0/ceiling/0", FeatureKind.LIGHT, "pendant", inches(14), weight_lb=Decimal(9)),),
)


def shapes(*rooms: Room) -> tuple[RoomShape, ...]:
    """Rooms in plan."""
    return shaped_rooms(rooms, Units.IMPERIAL, RoomRules.of(shipped_book()), Problems())


def quote(problems: Problems | None = None, **job: object) -> Quote:
    """The quote of a hall and a den."""
    taken = Problems() if problems is None else problems
    the_job = survey(rooms=(HALL, room("Den", 2)), extras=(extra(ExtraKind.OPTION, "75.00"),), **job)
    firm = replace(price_list(), notices=(Notice("Ask for our pamphlet.", None, beside_signature=True),))
    cut = plan(PIECES, (boards("40.00"),), (Splice(1, inches(60), on_glue_plate=True),))
    return assembled(
        HEADING, the_job, firm, shipped_book(), shapes(*the_job.rooms), (run(), run(2, 2, "Den")), cut,
        materials(supply("12.50")), labor(hours("45.00")), priced(), taken,
    )  # fmt: skip


def priced() -> Priced:
    """The price of that job."""
    return price(
        wages=(hours("45.00"),), supplies=(supply("12.50"),), bought=(boards("40.00"),), pieces=PIECES,
        job=survey(extras=(extra(ExtraKind.OPTION, "75.00"),)),
    )  # fmt: skip


def ends(line: PlanLine) -> list[tuple[float, float]]:
    """A plan line as plain coordinates."""
    return [(float(point.x), float(point.y)) for point in (line.start, line.end)]


def test_heading_and_cards_are_taken_over() -> None:
    """Identity, customer, firm, notices, price list version, currency and units stand as given."""
    found = quote(customer_email="orla@example.com", year_built=1990)
    assert (found.schema, found.id, found.number, found.status) == (1, HEADING.id, "Q-1", Status.DRAFT)
    assert (found.job.customer, found.job.customer_email, found.job.year_built) == (
        "Orla Fenwick",
        "orla@example.com",
        1990,
    )
    assert (found.firm.name, found.firm.notices[0].text) == (
        "Larkspur Hollow Finish Carpentry",
        "Ask for our pamphlet.",
    )
    assert (found.price_list.name, found.price_list.version, found.currency, found.units) == (
        "standard", 1, "USD", Units.IMPERIAL,
    )  # fmt: skip


def test_the_stages_results_are_carried_whole() -> None:
    """Pieces, boards, cutting, labor, lines, totals and options are the records that the stages made."""
    found, price_of_it = quote(), priced()
    assert (found.pieces, found.labor_hours, found.crew_days) == (
        PIECES,
        labor(hours("45.00")).hours,
        labor().crew_days,
    )
    assert (found.lines, found.totals, found.options) == (price_of_it.lines, price_of_it.totals, price_of_it.options)
    assert [(card.code, card.kind, card.packages) for card in found.supplies] == [("LH-NAIL", "nail", 1)]


def test_walls_are_drawn_where_a_general_geometry_library_has_them() -> None:
    """A rectangle 96" × 120": the lines join end to end, enclose 80 sq ft and have the room on their right (shapely)."""
    card = quote().rooms[0]
    lines = [ends(item.line) for item in card.walls]
    assert all(one[1] == other[0] for one, other in zip(lines, [*lines[1:], lines[0]], strict=True))
    outline = Polygon([line[0] for line in lines])
    assert outline.area / 144 == pytest.approx(80)
    assert card.area_sqft == area(outline.area / 144)
    for (x1, y1), (x2, y2) in lines:
        length = math.hypot(x2 - x1, y2 - y1)
        right = Point((x1 + x2) / 2 + (y2 - y1) / length, (y1 + y2) / 2 - (x2 - x1) / length)
        assert outline.contains(right)


def test_joists_lie_in_the_room_at_their_spacing() -> None:
    """Joists 6" from wall A and every 16": eight in 120", each across the room and inside its outline (shapely)."""
    card = quote().rooms[0]
    first = LineString(ends(card.walls[0].line))
    outline = Polygon([ends(item.line)[0] for item in card.walls])
    joists = [LineString(ends(line)) for line in card.joists]
    assert sorted(round(first.distance(line)) for line in joists) == [6, 22, 38, 54, 70, 86, 102, 118]
    assert all(outline.buffer(0.02).contains(line) for line in joists)
    assert all(line.length == pytest.approx(96, abs=0.04) for line in joists)


def test_a_room_without_joists_on_the_sheet_draws_none() -> None:
    """What the sheet does not tell is not drawn."""
    assert assembled_room(room(joists=None)).joists == ()


def assembled_room(item: Room) -> RoomCard:
    """One room's card alone."""
    return room_cards(shapes(item), (), plan())[0]


@pytest.mark.parametrize(
    ("studs", "expected"),
    [
        (Studs(inches(8), inches(16)), [8, 24, 40]),
        (Studs(inches(20), inches(16)), [4, 20, 36]),
        (Studs(None, inches(16), (inches(3), inches(47), inches(49))), [3, 47]),
        (Studs(None, inches(16)), []),
    ],
)
def test_studs_within_the_wall(studs: Studs, expected: list[int]) -> None:
    """On 48": first + k·spacing for every whole k, negative too, or the list; none unknown, none beyond the end."""
    assert studs_within(wall("A", 48, studs=studs)) == tuple(inches(at) for at in expected)


def test_an_open_end_has_no_angle() -> None:
    """A corner that is open gives no reading."""
    walls = (wall("A", 96), wall("B", 120), wall("C", 96, corner=CornerKind.OPEN))
    card = assembled_room(room(walls=walls))
    assert [item.corner_deg for item in card.walls] == [90.0, 90.0, None]
    assert card.area_is_approximate


def test_runs_carry_joints_pieces_and_what_is_unbacked() -> None:
    """A run names its splice, its pieces in order and 66" without backing."""
    card = quote().rooms[0].runs[0]
    assert card.pieces == ("A1", "A2")
    assert [(joint.at, joint.on_glue_plate) for joint in card.joints] == [(inches(60), True)]
    assert (card.unbacked, card.backed_at) == (inches(66), (inches(8), inches(24)))


def test_runs_stand_in_their_own_room() -> None:
    """Each room has its run and no other's."""
    assert [[item.number for item in card.runs] for card in quote().rooms] == [[1], [2]]


def test_openings_and_features_stand_as_measured() -> None:
    """A door and a pendant of the sheet are on its room's card."""
    card = quote().rooms[0]
    assert [(item.wall, item.kind, item.from_left) for item in card.openings] == [("B", OpeningKind.DOOR, inches(20))]
    assert [(item.casing, item.style, item.sides) for item in card.openings] == [("plain", None, 2)]
    (light,) = card.features
    assert (light.feature, light.item, light.diameter, light.weight_lb) == (
        FeatureKind.LIGHT, "pendant", inches(14), Decimal(9),
    )  # fmt: skip


def test_a_member_around_an_opening_says_so() -> None:
    """Member, opening, side and height band of a leg stand on its card; the next run is one along the wall."""
    leg = run(member=Member.RIGHT_LEG, opening=1, side=2, high=inches(83))
    rooms = room_cards(shapes(HALL), (leg, run(2)), plan(PIECES))
    around, along = rooms[0].runs
    assert (around.member, around.opening, around.side, around.high) == (Member.RIGHT_LEG, 1, 2, inches(83))
    assert (around.is_along_wall, along.is_along_wall, along.opening) == (False, True, None)


def test_warnings_and_notes_travel_with_the_quote() -> None:
    """What earlier stages doubted and the warnings of the cautions are on the quote; errors are not its business."""
    problems = Problems()
    problems.note(Code.JOINT_ON_GLUE_PLATE, "/trim/0", "A joint of wall A has no backing.")
    found = quote(problems, year_built=1960)
    assert [problem.code for problem in found.warnings] == [
        Code.JOINT_ON_GLUE_PLATE, Code.LEAD_PAINT_POSSIBLE, Code.ASBESTOS_POSSIBLE,
    ]  # fmt: skip


@pytest.mark.parametrize(("square_feet", "printed"), [(80.005000001, "80.01"), (80.004, "80.00"), (0.0, "0.00")])
def test_areas_are_printed_to_a_hundredth(square_feet: float, printed: str) -> None:
    """An area rounds half up to 0.01 sq ft."""
    assert str(area(square_feet)) == printed


def test_an_island_has_no_area() -> None:
    """A wrapped column encloses no room."""
    post = tuple(wall(letter, 12, corner=CornerKind.OUTSIDE) for letter in "ABCD")
    card = assembled_room(room(walls=post, joists=None))
    assert (card.area_sqft, card.area_is_approximate) == (None, False)
    assert card.perimeter == Length.of(48)
