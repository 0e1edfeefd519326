"""Lines before their price: what each part of the work costs, where it stands and what it rests on."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.figures import INCH, given, listed, part
from service.estimate.price.ladder import added_up, share_of
from service.estimate.price.measured import bought_boards, in_currency, in_unit, long_points, told
from service.estimate.price.model import LineKind
from service.estimate.price.story import shared
from service.estimate.price.unit_codes import EACH, FOOT, HOUR, METER, PIECE, unit_code
from service.money import shared_out, to_cents
from service.units import Units

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from service.estimate.cuts.model import CutPlan, Piece, ProfileBoards
    from service.estimate.figures import Figure
    from service.estimate.labor import Labor, LaborRow
    from service.estimate.materials.model import Materials, SupplyRow
    from service.estimate.takeoff.model import Run
    from service.firm import PriceList


@dataclass(frozen=True, slots=True)
class Draft:
    """A cost-bearing line. `base`: wages or material before burden and material tax; room None: the whole job.

    `measure`, `story`: how quantity and base were worked out.
    """

    code: str
    room_number: int | None
    room: str | None
    kind: LineKind
    description: str
    quantity: Decimal
    unit: str
    unit_code: str
    base: Decimal
    basis: tuple[str, ...]
    measure: Figure
    story: Figure


def drafts_of(
    runs: Iterable[Run], plan: CutPlan, materials: Materials, labor: Labor, price_list: PriceList, units: Units
) -> tuple[Draft, ...]:
    """Every cost-bearing line: rooms in order (boards, then labor), after them what is bought or done once."""
    by_number = {run.number: run for run in runs}
    words = {profile.name: profile.description or profile.name for profile in price_list.profiles.values()}
    currency = price_list.settings.currency
    boards = [
        draft
        for item in plan.boards
        for draft in board_drafts(item, plan.pieces, by_number, words.get(item.profile, item.profile), units, currency)
    ]
    hours = [labor_draft(row, currency) for row in labor.rows]
    supplies = [supply_draft(row, currency) for row in materials.supplies]
    return _by_room((*boards, *hours, *supplies, *spare_drafts(plan, price_list)))


def board_drafts(
    boards: ProfileBoards, pieces: Iterable[Piece], runs: Mapping[int, Run], words: str, units: Units, currency: str
) -> tuple[Draft, ...]:
    """One line a room for the boards of one profile.

    The profile is bought as one lot, so its cost is shared over the rooms by largest remainder on the long
    points of their pieces. Quantity: feet of pieces (meters on a metric job), to 0.01, waste not in it.

    Args:
        boards: the profile's purchases.
        pieces: all pieces of the job.
        runs: by number, for the sheet rows that a line rests on.
        words: the profile as the customer reads it.
        units: of the job.
        currency: of the price list.
    """
    rooms = _by_place(piece for piece in pieces if piece.profile == boards.profile)
    lengths = [long_points(boards.profile, name, group) for (_, name), group in rooms.items()]
    costs = shared_out(to_cents(boards.cost), [length.value for length in lengths])
    whole = bought_boards(boards, units, currency)
    shares = listed(f"long points of {boards.profile}, room by room", INCH, [length.value for length in lengths])
    unit, code = ("m", METER) if units is Units.METRIC else ("ft", FOOT)
    rows = zip(rooms.items(), costs, lengths, strict=True)
    return tuple(
        Draft(
            boards.profile, number, name, LineKind.MATERIAL, words, _long_measure(group, units), unit, code, cost,
            (*_sheet_rows(group, runs), f"list:stock/{boards.profile}"), in_unit(length, units),
            part(f"{name}'s part of the boards", whole, cost, shares, length, place),
        )
        for place, (((number, name), group), cost, length) in enumerate(rows)
    )  # fmt: skip


def _by_place(pieces: Iterable[Piece]) -> dict[tuple[int, str], list[Piece]]:
    rooms: dict[tuple[int, str], list[Piece]] = {}
    for piece in pieces:
        rooms.setdefault((piece.room, piece.room_name), []).append(piece)
    return dict(sorted(rooms.items()))


def _inches(pieces: Iterable[Piece]) -> Fraction:
    return sum((piece.long_point.inches for piece in pieces), Fraction(0))


def _long_measure(pieces: Iterable[Piece], units: Units) -> Decimal:
    inches = _inches(pieces)
    return to_cents(inches * Fraction(254, 10_000) if units is Units.METRIC else inches / 12)


def _sheet_rows(pieces: Sequence[Piece], runs: Mapping[int, Run]) -> tuple[str, ...]:
    found = [runs[number] for number in sorted({piece.run for piece in pieces})]
    places = [f"sheet:{place}" for run in found for place in (run.wall_pointer, run.trim_pointer)]
    counts = Counter(piece.run for piece in pieces if not piece.is_return)
    joints = [
        f"trade:{entry}"
        for run in found
        for entry in (*run.joint_entries, *(run.splice_entries if counts[run.number] > 1 else ()))
    ]
    return tuple(dict.fromkeys((*places, *joints)))


def labor_draft(row: LaborRow, currency: str) -> Draft:
    """One line for one task in one room, counted in hours.

    Hours, not the task's own unit: every invoicing program knows `HUR`, while joints and holes have no code of
    their own; and a price for one nail hole, cut to cents, would multiply back to another amount.
    """
    return Draft(
        row.task, row.room, row.room_name, LineKind.LABOR, row.description, to_cents(row.hours),
        "h", HOUR, to_cents(row.amount), row.basis, told(row.hours_figure, "hours", row.hours, "h"),
        in_currency(told(row.amount_figure, "wages", row.amount, currency), currency),
    )  # fmt: skip


def supply_draft(row: SupplyRow, currency: str) -> Draft:
    """One line for one supply, for the whole job: so many packages.

    A package of one unit is counted in that unit (`gal`, `GLL`); any other is a package by itself
    (`package of 1000`, `EA`), because its price is for the package.
    """
    single = row.package_size == 1
    unit = row.unit if single else _package(row.package_size, row.unit)
    return Draft(
        row.code, None, None, LineKind.MATERIAL, row.description, Decimal(row.packages),
        unit, unit_code(unit) if single else EACH, to_cents(row.amount), row.basis,
        row.packages_figure, in_currency(row.amount_figure, currency),
    )  # fmt: skip


def _package(size: Decimal, unit: str) -> str:
    return f"package of {size.normalize():f}" + ("" if unit == "each" else f" {unit}")


def spare_drafts(plan: CutPlan, price_list: PriceList) -> tuple[Draft, ...]:
    """Spare stock as the firm sets it, a share of what the boards cost; no line without such a share."""
    share, currency = price_list.settings.spare_stock_share, price_list.settings.currency
    spare = share_of(added_up(to_cents(item.cost) for item in plan.boards), share) if share else Decimal(0)
    if not share or not spare:
        return ()
    boards = listed("boards, profile by profile", currency, [to_cents(item.cost) for item in plan.boards])
    lot = given("lot of spare boards", 1, "lot", "geometry:whole")
    return (
        Draft(
            "spare-stock", None, None, LineKind.MATERIAL, "Spare boards", Decimal(1), "lot", PIECE, spare,
            ("list:firm/spare_stock",), lot,
            shared("spare boards", boards, "spare stock", share, "spare_stock"),
        ),
    )  # fmt: skip


def _by_room(drafts: Iterable[Draft]) -> tuple[Draft, ...]:
    return tuple(sorted(drafts, key=lambda draft: (draft.room_number is None, draft.room_number or 0)))
