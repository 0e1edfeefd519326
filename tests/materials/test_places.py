"""Nails of each position, worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.estimate.takeoff.model import Backing, End, Joint, Span
from service.firm import AdhesiveUse, Position
from service.problems import Code, Problems
from service.survey import CornerKind
from service.units import Units
from tests.materials.examples import (
    BASE,
    CROWN,
    IN,
    OUTSIDE,
    SHOE,
    book_with,
    centers,
    crown,
    materials,
    only,
    price_list,
    run,
    unbacked,
)


def test_joist_edge_is_nailed_at_the_spacing():
    """Along a joist edge a 160 in board has a nail at each end and every 16 in: 160 / 16 + 1 = 11."""
    assert only(run(backing={"is_continuous": True})).nail_count == 11


def test_joist_edge_of_an_odd_length_has_no_wider_gap():
    """A 161 in board along a joist edge has 12 nails: ⌈161 / 16⌉ + 1, none farther apart than 16 in."""
    assert only(run(length=161, backing={"is_continuous": True})).nail_count == 12


def test_wall_layer_takes_studs_and_plate():
    """A wall layer over the top plate: 2 × 9 studs + 160 / 16 + 1 = 11 along the plate make 29 nails."""
    layer = run(Position.WALL, at=centers(16, 144), backing={"on_plate": True})
    assert only(layer).nail_count == 18 + 11


def test_wall_layer_below_the_plate_takes_studs_alone():
    """Where the layer does not cover the plate, the studs alone hold it: 2 × 9 = 18."""
    assert only(run(Position.WALL, at=centers(16, 144))).nail_count == 18


def test_rail_takes_two_at_each_stud():
    """A rail is nailed like a wall layer: 2 × 9 = 18."""
    assert only(run(Position.RAIL, at=centers(16, 144))).nail_count == 18


def test_base_over_unknown_studs_is_nailed_to_the_bottom_plate():
    """Where studs are not known a base has nails along the bottom plate: 160 / 16 + 1 = 11, none at its end studs."""
    base = run(Position.BASE, BASE, at=(IN("0.75"), IN("159.25")), backing={"is_known": False, "on_plate": True})
    assert only(base).nail_count == 11


def test_cap_takes_one_at_each_stud():
    """A base cap has one nail at each of 9 studs."""
    assert only(run(Position.CAP, at=centers(16, 144))).nail_count == 9


def test_shoe_is_nailed_at_the_spacing_whatever_is_behind_the_wall():
    """A shoe ends in floor or base: 11 nails along 160 in, before wood and before masonry alike."""
    wood = only(run(Position.SHOE, SHOE, at=centers(16, 144)))
    masonry = only(run(Position.SHOE, SHOE, backing={"is_wood": False}))
    assert (wood.nail_count, masonry.nail_count) == (11, 11)


def test_unbacked_stretch_has_pairs_and_adhesive():
    """A board with joists at 16 and 144 only: 2 × 2 nails there, and on the 128 in between 8 pairs and 128 in of bead.

    128 / 16 = 8 pairs at opposing angles, 16 nails.
    """
    found = only(run(at=(IN(16), IN(144)), backing=unbacked((16, 144))))
    assert (found.nail_count, found.cross_nailed, found.adhesive_length) == (4 + 16, 16, IN(128))


def test_stretch_at_the_limit_needs_nothing_more():
    """A stretch of exactly 24 in is no longer than the limit; 24 1/64 in is."""
    at_limit = only(run(at=centers(24, 144, 24), backing=unbacked((24, 48))))
    beyond = run(at=centers(24, 144, 24), backing={"unbacked": (Span(IN(24), IN(48) + IN(1) / 64),)})
    assert (at_limit.cross_nailed, at_limit.adhesive_length) == (0, IN(0))
    assert only(beyond).cross_nailed == 2 * 2


def test_run_that_meets_no_framing_is_glued_however_short():
    """A 20 in board between two joists meets none: it is held by adhesive and ⌈20/16⌉ = 2 pairs."""
    found = only(run(length=20))
    assert (found.nail_count, found.cross_nailed, found.adhesive_length) == (4, 4, IN(20))


def test_firm_sets_the_spacing():
    """The firm's own nail spacing of 8 in gives 160 / 8 + 1 = 21 nails along a joist edge."""
    edge = run(backing={"is_continuous": True})
    assert only(edge, book=book_with(fastening__nail_spacing="8")).nail_count == 21


def test_return_is_pinned_with_two_brads():
    """A rail returned at both ends takes two brads more at each: 2 × 9 at studs + 2 × 2 = 22 (common practice)."""
    closed = End(Joint.RETURN, corner=CornerKind.OUTSIDE)
    rail = only(run(Position.RAIL, at=centers(16, 144), left=closed, right=closed))
    assert rail.nail_count == 18 + 4


def test_outside_corner_adds_two_once():
    """A mitered outside corner adds two nails to the run it closes, none to the run that begins there."""
    plain = only(run(at=centers(16, 144))).nail_count
    assert only(run(at=centers(16, 144), right=OUTSIDE)).nail_count == plain + 2
    assert only(run(at=centers(16, 144), left=OUTSIDE)).nail_count == plain


def test_crown_between_boards():
    """A 160 in crown on 11 blocks between boards: 2 × 11 block nails, 2 × 11 into blocks, 11 along each edge.

    Blocks stand on the studs at 3/4, 16, 32 … 144 and 159 1/4: 11 of them; each edge has 160 / 16 + 1 nails.
    """
    found = only(crown())
    assert found.blocks == 11
    assert found.nail_count == 22 + 22 + 11 + 11


def test_nails_behind_a_crown_leave_no_hole():
    """Block nails are hidden by the crown: 66 nails, 44 holes to fill."""
    found = only(crown())
    assert (found.hidden_nails, found.hole_count) == (22, 44)


def test_crown_alone_without_blocks():
    """A crown alone whose bottom edge lies below the plate: one nail at each of 9 studs and at each of 9 joists."""
    studs = centers(16, 144)
    alone = run(Position.CROWN, CROWN, at=studs, wall_studs=studs, low=IN(90), top_edge=Backing(studs))
    assert only(alone).nail_count == 18


def test_crown_alone_along_a_joist():
    """A crown alone whose top edge runs along a joist: 11 nails in it, and one at each of 9 studs."""
    studs = centers(16, 144)
    edge = Backing((), is_continuous=True)
    alone = run(Position.CROWN, CROWN, at=studs, wall_studs=studs, top_edge=edge)
    assert only(alone).nail_count == 11 + 9


def test_crown_alone_without_anything_above_is_glued():
    """A crown alone along the joists, none above its top edge, has a bead all along and pairs every 16 in."""
    studs = centers(16, 144)
    found = only(run(Position.CROWN, CROWN, at=studs, wall_studs=studs, top_edge=Backing(())))
    assert (found.cross_nailed, found.adhesive_length) == (20, IN(160))


def test_no_finish_nails_behind_steel():
    """On steel studs a wall layer has no nails but adhesive all along, here two beads of 160 in."""
    steel = run(Position.WALL, layer={"beads": 2}, backing={"is_wood": False})
    found = only(steel)
    assert (found.nail_count, found.adhesive_length) == (0, IN(320))


def test_crown_before_steel_is_nailed_to_its_boards():
    """Before steel studs a crown between boards is still nailed along both edges: 11 + 11, no adhesive needed."""
    found = only(crown(wall_studs=(), backing={"is_wood": False}))
    assert (found.nail_count, found.blocks, found.adhesive_length) == (22, 0, IN(0))


@pytest.mark.parametrize(
    ("use", "beads", "length"), [("bead", 2, 320), ("bead", 1, 160), ("none", 2, 0), ("dabs", 2, 0)]
)
def test_beads_run_along_a_glued_layer(use, beads, length):
    """A layer glued with beads has them all along; one with dabs or none has no bead where it is backed."""
    layer = {"adhesive": AdhesiveUse(use), "beads": beads}
    assert only(run(at=centers(16, 144), layer=layer)).adhesive_length == IN(length)


def test_dabs_along_a_layer():
    """A 160 in layer glued with dabs has one at each end and every 16 in: 11."""
    assert only(run(at=centers(16, 144), layer={"adhesive": AdhesiveUse.DABS})).dabs == 11


def test_wall_layer_makes_block_nails_longer():
    """A block's nail passes the block, the wall layer and the gypsum.

    Block 1.929 in deep (ceiling leg 2.054 − 0.125) × 0.33 = 0.637; with layer 0.75, gypsum 0.5 and 0.75 of
    penetration 2.637 in: the 3 in nail; without the layer 1.887 in: the 2 in nail.
    """
    studs = centers(16, 144)
    over, bare = only(crown()), only(crown(over_wall_layer=None, wall_studs=studs))
    assert over.nails["nail-3"] == 22
    assert bare.nails["nail-2"] == 18


def test_blocks_that_do_not_fit_are_a_fault():
    """Behind a thick small crown no triangle is left; the assembly does not fit."""
    problems = Problems()
    tiny = replace(CROWN, width=IN("1.25"), name="tiny crown")
    materials(replace(crown(), profile=tiny), problems=problems)
    assert [problem.code for problem in problems.errors] == [Code.ASSEMBLY_DOES_NOT_FIT]


def test_metric_firm_reads_millimeters():
    """A firm that works in millimeters is told of faults in millimeters."""
    problems = Problems()
    materials(run(), prices=price_list(units=Units.METRIC), problems=problems)
    assert any("4064" in problem.detail for problem in problems)


def test_named_nail_is_used():
    """A nail set for the layer is used where it reaches, though a shorter one would do."""
    found = only(run(at=centers(16, 144), layer={"nail": "nail-3"}))
    assert found.nails == {"nail-3": 18}
