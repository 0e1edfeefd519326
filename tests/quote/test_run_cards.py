"""What a quote keeps of the fastening of each run, and how it is answered and read back."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from schemas.quote import quote_document, quote_from
from service.estimate.quote.room_cards import factor_told, room_cards
from service.units import ZERO, Length
from tests import invented
from tests.materials.examples import IN, centers, crown, only, plan, run
from tests.schemas.examples import quote

SHAPE = invented.shape(invented.rectangle())


def card(*runs):
    """The card of the first of some runs, with its fastening."""
    found = room_cards((SHAPE,), runs, plan(*runs), (only(*runs),))
    return found[0].runs[0]


def test_card_tells_what_holds_the_run():
    """A crown of 160 in on blocks at 11 studs: 2 nails through each, 2 into it, 11 along either board.

    Studs at 3/4, 16, 32 … 144 and 159 1/4 in; 160/16 + 1 = 11 along an edge. 22 long nails, 22 + 22 short ones.
    """
    found = card(crown())
    assert found.blocks == 11
    assert sorted(found.nails.values()) == [22, 44]
    assert found.block_legs is not None
    assert float(found.block_legs.wall) == pytest.approx(2.629 - 0.125, abs=0.001)
    assert float(found.block_legs.ceiling) == pytest.approx(2.054 - 0.125, abs=0.001)
    assert found.holding_factor is None


def test_card_of_an_unbacked_board_tells_its_glue():
    """A ceiling board of 160 in that meets no joist: 20 nails in 10 crossed pairs and a bead along all of it."""
    found = card(run())
    assert (found.cross_nailed, found.adhesive, found.holding_factor) == (20, IN(160), None)


def test_card_keeps_the_holding_factor():
    """Nine joists of 18 nails hold a board of 0.8 lb a foot 12.938 times (worked in tests/materials), kept as 12.93."""
    assert card(run(at=centers(16, 144))).holding_factor == Decimal("12.93")


@pytest.mark.parametrize(("factor", "told"), [(None, None), (0.999999, "0.99"), (1.0, "1.00"), (12.3456, "12.34")])
def test_factor_is_never_told_too_high(factor, told):
    """A factor is cut, not rounded, to a hundredth."""
    assert factor_told(factor) == (None if told is None else Decimal(told))


def test_run_without_fastening_keeps_nothing():
    """Runs whose materials were not worked out have no nails, blocks or adhesive."""
    bare = room_cards((SHAPE,), (run(at=centers(16, 144)),), plan())[0].runs[0]
    assert (bare.nails, bare.blocks, bare.block_legs, bare.adhesive) == ({}, 0, None, ZERO)


NEW = (
    "nails",
    "cross_nailed",
    "blocks",
    "block_legs_in",
    "glue_plates",
    "adhesive_in",
    "adhesive_text",
    "holding_factor",
)


def with_fastening():
    """The example quote with the fastening of a crown on blocks on its first run."""
    before, held = quote(), card(crown())
    members = {name: getattr(held, name) for name in ("nails", "cross_nailed", "blocks", "block_legs", "adhesive")}
    room = before.rooms[0]
    first = replace(room.runs[0], **members, holding_factor=Decimal("12.93"))
    return replace(before, rooms=(replace(room, runs=(first, *room.runs[1:])), *before.rooms[1:]))


def test_answer_tells_counts_and_legs():
    """The JSON of a run has nails by code, blocks with both legs in inches and words, and the factor as a number."""
    document = quote_document(with_fastening(), office=False)["rooms"][0]["runs"][0]
    assert document["nails"] == dict(card(crown()).nails)
    assert document["blocks"] == 11
    assert document["block_legs_in"]["wall_in"] == str(Length.of("2.5").decimal())
    assert document["block_legs_in"]["wall_text"] == "2 1/2″"
    assert document["holding_factor"] == 12.93


def test_fastening_reads_back():
    """What is stored of a run's fastening is read back the same, and written the same again."""
    document = quote_document(with_fastening(), office=True)
    assert quote_document(quote_from(document), office=True)["rooms"] == document["rooms"]


def test_quote_stored_before_fastening_still_reads():
    """A document without these members reads as a run that nothing is told of."""
    document = quote_document(with_fastening(), office=True)
    for run_document in document["rooms"][0]["runs"]:
        for name in NEW:
            del run_document[name]
    old = quote_from(document).rooms[0].runs[0]
    assert (old.nails, old.cross_nailed, old.blocks, old.block_legs, old.glue_plates) == ({}, 0, 0, None, 0)
    assert (old.adhesive, old.holding_factor) == (ZERO, None)
