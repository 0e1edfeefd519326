"""Every good sample sheet, from cells to total: sums, boards, lengths."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest

from service.survey import CornerKind
from tests.pipeline.estimates import SAMPLES, sample_price_list, sample_quote, sample_survey

if TYPE_CHECKING:
    from service.estimate.cuts.model import Piece

GOOD = sorted(path.stem for path in SAMPLES.glob("*.xlsx") if path.stem not in {"price_list", "broken"})


def test_there_are_samples():
    """A rectangle, an L and a metric sheet at least."""
    assert {"rectangle", "l_shaped", "metric"} <= set(GOOD)


@pytest.mark.parametrize("name", GOOD)
def test_lines_add_up_to_the_totals_to_the_cent(name):
    """Lines sum to the price before tax, payments to the total, the ladder's rungs to each other."""
    quote = sample_quote(name)
    totals = quote.totals
    assert sum(line.amount for line in quote.lines) == totals.price_before_tax
    assert sum(payment.amount for payment in quote.payment_schedule) == totals.total
    assert totals.price_before_tax + totals.sales_tax == totals.total
    assert totals.direct_cost == totals.wages + totals.burden + totals.materials + totals.material_tax
    assert totals.wages == sum(row.amount for row in quote.labor)


@pytest.mark.parametrize("name", GOOD)
def test_every_piece_is_on_one_board_and_fits_it_with_kerf(name):
    """Long points + kerfs + offcut + waste make each board; every piece stands on exactly one; all boards are bought."""
    quote, settings = sample_quote(name), sample_price_list().settings
    pieces = {piece.mark: piece for piece in quote.pieces}
    assert len(pieces) == len(quote.pieces)
    placed = [mark for profile in quote.boards for pattern in profile.patterns for mark in pattern.pieces]
    assert sorted(placed) == sorted(pieces)
    for profile in quote.boards:
        for pattern in profile.patterns:
            on_board = [pieces[mark] for mark in pattern.pieces]
            assert {piece.profile for piece in on_board} == {profile.profile}
            cut = sum((piece.long_point.inches for piece in on_board), Fraction(0))
            least_kerf = settings.kerf.inches * (len(on_board) - 1)
            assert pattern.kerf.inches >= least_kerf
            assert cut + least_kerf + settings.end_trim.inches <= pattern.length.inches
            assert cut + (pattern.kerf + pattern.offcut + pattern.waste).inches == pattern.length.inches
        bought = {purchase.length: purchase.count for purchase in profile.purchases}
        cut_up = [pattern.length for pattern in profile.patterns]
        assert {length: cut_up.count(length) for length in set(cut_up)} == bought


@pytest.mark.parametrize("name", GOOD)
def test_pieces_put_end_to_end_make_their_run(name):
    """A run's pieces, less the laps of their scarfs, are as long as the run's real cut; joints keep the shortest piece."""
    quote, price_list = sample_quote(name), sample_price_list()
    marks = {piece.mark: piece for piece in quote.pieces}
    for room in quote.rooms:
        for run in room.runs:
            pieces = [marks[mark] for mark in run.pieces if not marks[mark].is_return]
            lap = price_list.profiles[run.profile].thickness.inches * Fraction(
                math.tan(math.radians(price_list.settings.scarf_angle_deg))
            )
            assert len(pieces) == len(run.joints) + 1
            if run.joints:
                assert min(piece.long_point for piece in pieces) >= price_list.settings.shortest_piece
            total = sum(piece.long_point.inches for piece in pieces) - lap * len(run.joints)
            assert abs(total - _cut_length(run, pieces)) <= Fraction(len(pieces), 64)


def _cut_length(run, pieces: list[Piece]) -> Fraction:
    first, last = pieces[0], pieces[-1]
    return last.start.inches + last.long_point.inches - first.start.inches


@pytest.mark.parametrize("name", ["rectangle", "l_shaped"])
def test_rooms_cut_from_the_tape(name):
    """A layer standing on the wall itself, between two square inside corners, is as long as the wall was measured."""
    quote, survey = sample_quote(name), sample_survey(name)
    checked = 0
    for card, room in zip(quote.rooms, survey.rooms, strict=True):
        lengths = {wall.name: wall.length for wall in room.walls}
        for run in card.runs:
            corners = [(end.corner, end.corner_deg) for end in (run.left, run.right)]
            if run.near.inches == 0 and corners == [(CornerKind.INSIDE, 90.0)] * 2:
                assert run.length == lengths[run.wall].snapped()
                checked += 1
    assert checked >= 4


@pytest.mark.parametrize("name", GOOD)
def test_every_line_names_its_basis(name):
    """No charge without a basis: trade-book entries, cells or members of the price list."""
    quote = sample_quote(name)
    for line in quote.lines:
        assert line.basis, line
        assert all(item.split(":", 1)[0] in {"trade", "sheet", "list"} for item in line.basis)


@pytest.mark.parametrize("name", GOOD)
def test_the_bound_is_below_the_cost(name):
    """The proven lower bound never exceeds what the boards and joints cost."""
    cutting = sample_quote(name).cutting
    assert cutting.lower_bound <= cutting.cost
    assert cutting.cost == cutting.boards_cost + cutting.joint_cost
    assert cutting.gap_amount == cutting.cost - cutting.lower_bound
