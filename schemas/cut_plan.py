"""The request of a cut plan: its declaration, what only the whole of it shows, and the records made of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from operator import attrgetter
from typing import TYPE_CHECKING, Any, cast

from marshmallow import ValidationError

from schemas.cut_plan_fields import DecimalLength, Position, Positions, Price, Seconds
from schemas.faults import problems_of
from schemas.fields.numbers import Count
from schemas.fields.packages import Currency
from schemas.fields.words import Text, YesNo
from schemas.names import Names
from schemas.records import Row, Rows, StrictSchema, rows
from schemas.room_sheet import NAME
from schemas.text import shown
from service.estimate.cuts.request import CutRequest, PieceRow, RunRow, StockRow
from service.nearest import MOST_GUESSED
from service.problems import Code, Problems, pointer
from service.units import Units

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.problems import Problem
    from service.units import Length

ID = 120
MOST_STOCK, MOST_RUNS, MOST_PIECE_ROWS = 500, 2_000, 5_000
MOST_POSITIONS, MOST_PIECES = 60_000, 10_000


class CutStockSchema(StrictSchema):
    """One length that a profile can be had in."""

    profile = Text("Profile.", most=NAME, required=True)
    length = DecimalLength("Length as sold.", required=True)
    price = Price("Price of one board; 0 for an offcut on hand.", required=True)
    available = Count("Boards to be had; no limit when left out.", 0, 100_000)
    is_offcut = YesNo("Whether it is an offcut on hand; no when left out.", data_key="offcut")


class CutRunSchema(StrictSchema):
    """One run, to be cut whole or joined on its backing."""

    id = Text("Unique among runs and pieces.", most=ID, required=True)
    profile = Text("A profile of the stock.", most=NAME, required=True)
    wall = Text("Its wall: joints of different runs of one wall keep the stagger.", most=ID, required=True)
    start = DecimalLength("Where its left end lies on the wall.", zero=True, required=True, data_key="from")
    length = DecimalLength("From end to end, long points.", required=True)
    backing = Positions("Where a joint may fall, from the run's left end, within the run.", required=True)


class CutPieceSchema(StrictSchema):
    """So many pieces of one length, never joined."""

    id = Text("Unique among runs and pieces.", most=ID, required=True)
    profile = Text("A profile of the stock.", most=NAME, required=True)
    length = DecimalLength("From end to end, long points.", required=True)
    quantity = Count("How many.", 1, MOST_PIECES, required=True)


class CutRequestSchema(StrictSchema):
    """A cutting job by itself: stock, runs to be joined on their backing, pieces of given length."""

    currency = Currency("Currency of every amount, ISO 4217; one with two decimals.", required=True)
    kerf = DecimalLength("Lost at each cut between two pieces of a board.", zero=True, required=True)
    end_trim = DecimalLength("Lost of every board, both ends together.", zero=True, required=True)
    scarf_overlap = DecimalLength("Of one joint; half of it is added to both its pieces.", zero=True, required=True)
    shortest_piece = DecimalLength(
        "Least length of a piece of a spliced run, overlaps included.", zero=True, required=True
    )
    stagger = DecimalLength("Least distance of joints of different runs on one wall.", zero=True, required=True)
    joint_cost = Price("Cost of one joint.", required=True)
    splice_short_runs = YesNo("Whether a run that fits a board may be spliced all the same.", required=True)
    seconds = Seconds("How hard to try; the usual effort when left out. The plan never depends on the time it took.")
    stock = Rows(CutStockSchema, "Boards to be had.", most=MOST_STOCK, required=True)
    runs = Rows(
        CutRunSchema,
        f"Runs; backing positions of all together at most {MOST_POSITIONS}.",
        most=MOST_RUNS,
    )
    pieces = Rows(CutPieceSchema, f"Pieces of given length, {MOST_PIECES} in all.", most=MOST_PIECE_ROWS)


@dataclass(frozen=True, slots=True)
class CutOrder:
    """A request understood.

    Attributes:
        request: its records.
        positions: backing of each run by its id, in the request's own spelling.
        units: in which lengths are worded for people.
    """

    request: CutRequest
    positions: Mapping[str, Mapping[Length, Position]]
    units: Units


def cut_order_from(document: object) -> tuple[CutOrder | None, tuple[Problem, ...]]:
    """Records of a cut-plan request, and every fault found in it.

    Args:
        document: the request as parsed JSON; any object is read without an exception.

    Returns:
        The request, None when an error refuses it; and the problems.
    """
    problems = Problems()
    record = _loaded(document, problems)
    if record is None:
        return None, tuple(problems)
    _check(record, problems)
    return None if problems.has_errors else _order(record, _units(document)), tuple(problems)


def _loaded(document: object, problems: Problems) -> Row | None:
    if not isinstance(document, Mapping):
        problems.error(Code.DOCUMENT_UNREADABLE, "", "A cut-plan request is one JSON object.", help="Send an object.")
        return None
    if (count := sum(_listed_positions(document))) > MOST_POSITIONS:
        _tell_too_many("/runs", "backing positions", count, MOST_POSITIONS, problems)
        return None
    try:
        return cast("Row", CutRequestSchema().load(cast("Any", document)))
    except ValidationError as error:
        problems.extend(problems_of(error))
        return error.valid_data if isinstance(error.valid_data, dict) else {}


def _listed_positions(document: Mapping[Any, Any]) -> Iterator[int]:
    """How many backing positions each run lists, before any is read."""
    listed = document.get("runs")
    for run in listed if isinstance(listed, Sequence) else ():
        backing = run.get("backing") if isinstance(run, Mapping) else None
        if isinstance(backing, Sequence) and not isinstance(backing, str):
            yield len(backing)


def _check(record: Row, problems: Problems) -> None:
    """Every fault that needs more than one member, over what could be read of the request."""
    _check_ids(record, problems)
    profiles = Names.of(rows(record, "stock"), "profile")
    for member in ("runs", "pieces"):
        for number, row in enumerate(rows(record, member)):
            _check_profile(row, profiles, pointer(member, number, "profile"), problems)
    for number, run in enumerate(rows(record, "runs")):
        _check_backing(run, pointer("runs", number, "backing"), problems)
    _check_amount(record, problems)


def _check_ids(record: Row, problems: Problems) -> None:
    seen: set[str] = set()
    for member in ("runs", "pieces"):
        for number, row in enumerate(rows(record, member)):
            name = row.get("id")
            if name is not None and name in seen:
                problems.error(
                    Code.ITEM_DUPLICATE, pointer(member, number, "id"), "An earlier run or piece has the same id.",
                    help="Give each run and each row of pieces its own id.", found=shown(name),
                )  # fmt: skip
            seen.add(name or "")


def _check_profile(row: Row, profiles: Names, place: str, problems: Problems) -> None:
    name = row.get("profile")
    if name is None or name in profiles or not (profiles.is_complete and len(profiles)):
        return
    problems.error(
        Code.STOCK_MISSING, place, "The stock has no length of this profile.",
        help=profiles.hint(name) if len(problems) < MOST_GUESSED else profiles.listing(), found=shown(name),
    )  # fmt: skip


def _check_backing(run: Row, place: str, problems: Problems) -> None:
    if "length" not in run:
        return
    end = run["length"].inches
    for number, position in enumerate(run.get("backing", ())):
        if position and not 0 < position.length.inches < end:
            problems.error(
                Code.NUMBER_OUT_OF_RANGE, place + pointer(number), "It does not lie between the ends of the run.",
                help="Give a distance from the run's left end, more than 0 and less than its length.",
                found=position.text,
            )  # fmt: skip


def _check_amount(record: Row, problems: Problems) -> None:
    count = sum(row.get("quantity", 0) for row in rows(record, "pieces"))
    if count > MOST_PIECES:
        _tell_too_many("/pieces", "pieces", count, MOST_PIECES, problems)
    if not problems.has_errors and not rows(record, "runs") and not rows(record, "pieces"):
        problems.error(Code.VALUE_MISSING, "", "There is nothing to cut.", help="Give at least one run or piece.")


def _tell_too_many(place: str, what: str, count: int, most: int, problems: Problems) -> None:
    problems.error(
        Code.NUMBER_OUT_OF_RANGE, place, f"There are {count:,} {what} in all.", help=f"Give at most {most:,} in all."
    )


def _units(document: object) -> Units:
    """Metric where every stock length is given in millimeters."""
    stock = cast("Mapping[str, Any]", document)["stock"]
    is_metric = all(isinstance(row["length"], Mapping) and "mm" in row["length"] for row in stock)
    return Units.METRIC if is_metric else Units.IMPERIAL


def _order(record: Row, units: Units) -> CutOrder:
    profiles, walls = Names.of(record["stock"], "profile"), Names.of(rows(record, "runs"), "wall")
    request = CutRequest(
        **record
        | {
            "stock": tuple(StockRow(**_with_profile(row, profiles)) for row in record["stock"]),
            "runs": tuple(_run(_with_profile(row, profiles), walls) for row in rows(record, "runs")),
            "pieces": tuple(PieceRow(**_with_profile(row, profiles)) for row in rows(record, "pieces")),
        }
    )
    positions = {row["id"]: _by_length(row["backing"]) for row in rows(record, "runs")}
    return CutOrder(request, positions, units)


def _with_profile(row: Row, profiles: Names) -> Row:
    return row | {"profile": profiles.spelled(row["profile"])}


def _run(row: Row, walls: Names) -> RunRow:
    return RunRow(
        **row
        | {
            "wall": walls.spelled(row["wall"]),
            "backing": tuple(sorted(_by_length(row["backing"]), key=attrgetter("inches"))),
        }
    )


def _by_length(backing: Sequence[Position]) -> dict[Length, Position]:
    """Each position once, in its first spelling."""
    return {position.length: position for position in reversed(backing)}
