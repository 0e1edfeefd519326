"""Nails, adhesive, sealant and finish of the trim around openings, worked out by hand.

Nails are counted ceil(length / 16) + 1 to a row, one at each end and none farther apart than 16 in.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.estimate.materials.around import corners_closed
from service.estimate.materials.places import Place, nail_groups
from service.estimate.takeoff.model import Member
from service.estimate.takeoff.runs import taken_off
from service.problems import Code, Problems
from service.survey import FinishOrder, Framing, Studs, WindowStyle
from service.units import ZERO, Length
from tests import invented
from tests.materials import examples as made
from tests.materials.cased import IN, PRICES, door, materials_of, nails_of, room, runs_of, window
from tests.materials.examples import RULES, book_with, told

PICTURE, STOOL = WindowStyle.PICTURE_FRAME, WindowStyle.STOOL_AND_APRON


@pytest.mark.parametrize("sides", [1, 2])
def test_nails_of_a_cased_door(sides):
    """A door 2 ft 8 in × 6 ft 8 in with 3 1/4 in casing and a reveal of 3/16 in takes 40 nails a side.

    Legs 80 + 3/16 + 3 1/4 = 83 7/16 in: ceil(83.4375 / 16) + 1 = 7 pairs each. Head 32 + 2 · 3/16 + 2 · 3 1/4 =
    38 7/8 in: 4 pairs. 18 pairs: 18 into the jamb through 11/16 in (1 7/16 needed: 1 1/2 in nails), 18 into the
    trimmer through 11/16 + 1/2 (1 15/16 needed: 2 in nails). Two corners of 2 cross-nails through 3/4 in: 4 more
    of 1 1/2 in.
    """
    assert nails_of(room(door(sides=sides))) == {"nail-1.5": 22 * sides, "nail-2": 18 * sides}


@pytest.mark.parametrize("sides", [1, 2])
def test_nails_of_a_picture_framed_window(sides):
    """A window 36 × 42 in in a picture frame takes 44 nails a side.

    Legs 42 + 2 · 3/16 + 2 · 3 1/4 = 48 7/8 in: 5 pairs each; head and sill 36 + 6 7/8 = 42 7/8 in: 4 pairs each;
    18 pairs. Four corners of 2: 8 more short ones.
    """
    assert nails_of(room(window(PICTURE, "casing", sides))) == {"nail-1.5": 26 * sides, "nail-2": 18 * sides}


@pytest.mark.parametrize("sides", [1, 2])
def test_nails_of_a_window_on_stool_and_apron(sides):
    """A window 36 × 42 in with stool and apron takes 44 nails a side.

    Legs 42 + 3/16 + 3 1/4 = 45 7/16 in: 4 pairs each; head 42 7/8 in: 4 pairs; two corners of 2. Stool
    42 7/8 + 2 · 3/4 = 44 3/8 in: 4 places of 2 through 3/4 in (1 1/2 in nails). Apron 42 7/8 in: 4 places of 2
    through 11/16 + 1/2 (2 in nails). Short: 12 + 4 + 8 = 24; long: 12 + 8 = 20.
    """
    assert nails_of(room(window(STOOL, "stool", sides))) == {"nail-1.5": 24 * sides, "nail-2": 20 * sides}


def test_butted_head_has_no_cross_nails():
    """A head that stands square on its legs is not nailed across.

    Legs 80 + 3/16 in: ceil(80.1875 / 16) + 1 = 7 pairs each; head 38 7/8 in: 4 pairs.
    """
    assert nails_of(room(door(casing="butted casing"))) == {"nail-1.5": 18, "nail-2": 18}


def test_plinth_blocks_take_two_nails_a_side():
    """Each of two blocks 6 in high and 1 in thick takes 2 into the jamb and 2 into the trimmer (common practice).

    Jamb: 1 + 3/4 = 1 3/4: 2 in nails; trimmer: 1 + 1/2 + 3/4 = 2 1/4 in nails. The legs lose 6 in:
    83 7/16 − 6 = 77 7/16 in, 6 pairs each; with the head's 4 that is 16 pairs and 4 cross-nails.
    """
    nails = nails_of(room(door(casing="casing on plinths")))
    assert nails == {"nail-1.5": 16 + 4, "nail-2": 16 + 4, "nail-2.25": 4}


def test_jamb_and_trimmer_are_counted_apart():
    """The short nails and the long ones are two groups of equal number, each with its own depth and end."""
    leg = runs_of(room(door()))[0]
    groups = {group.use: group for group in nail_groups(Place(leg, room(), leg.title), RULES.nails)}
    assert set(groups) == {"casing to jamb", "casing to trimmer"}
    assert {group.count for group in groups.values()} == {7}
    assert groups["casing to trimmer"].passes - groups["casing to jamb"].passes == IN("1/2")


def test_each_corner_is_counted_once():
    """A picture frame's corners belong to its head and its sill: two each, none to the legs."""
    corners = {
        run.member: corners_closed(Place(run, room(), run.title)).number
        for run in runs_of(room(window(PICTURE, "casing")))
    }
    assert corners == {Member.LEFT_LEG: 0, Member.RIGHT_LEG: 0, Member.HEAD: 2, Member.SILL: 2}


def test_named_nail_is_the_long_one():
    """A nail set for a casing goes to the trimmer; jamb and corners keep the shortest that reaches."""
    assert nails_of(room(door(casing="casing with a nail"))) == {"nail-1.5": 22, "nail-2.5": 18}


@pytest.mark.parametrize("framing", [Framing.STEEL, Framing.MASONRY])
def test_no_nail_into_steel_or_masonry(framing):
    """Without wood behind the covering only jamb and corners are nailed, and a bead holds the outer edge all along.

    A door: 18 + 4 nails; beads 2 · 83 7/16 + 38 7/8 = 205 3/4 in.
    """
    found = materials_of(room(door(), framing=framing))
    assert sum((item.adhesive_length for item in found.fastening), ZERO) == IN("205.75")
    assert sum(item.nail_count for item in found.fastening) == 22
    assert sum(item.cross_nailed for item in found.fastening) == 0


def test_stool_on_masonry_is_nailed_to_its_sill():
    """A stool stands on the window's own wood, so it needs no adhesive even in a masonry wall."""
    of = room(window(STOOL, "stool"), framing=Framing.MASONRY)
    held = {run.member: item for run, item in zip(runs_of(of), materials_of(of).fastening, strict=True)}
    assert held[Member.STOOL].adhesive_length == ZERO
    assert held[Member.STOOL].nail_count == 8
    assert held[Member.APRON].nail_count == 0


def test_adhesive_only_as_the_layer_says():
    """A casing whose layer has no adhesive, on wood, takes none."""
    assert not [row for row in materials_of(room(door())).supplies if row.code == "adhesive"]


def test_outer_edge_is_caulked_long_and_inner_edge_short():
    """Two caulked edges of a mitered member: its long and its short side; head 38 7/8 + 32 3/8 in."""
    of = room(door())
    held = {run.member: item for run, item in zip(runs_of(of), materials_of(of).fastening, strict=True)}
    assert held[Member.HEAD].caulked_length == IN("71.25")
    assert held[Member.LEFT_LEG].caulked_length == IN("83.4375") + IN("80.1875")


def test_casing_is_finished_as_the_firm_does():
    """Openings have no Finish column: the firm's default finish coats them, and every hole is filled.

    Two legs and a head: 205 3/4 in × (3 1/4 + 2 · 11/16) in / 144 = 6.608 sq ft.
    """
    found = materials_of(room(door()))
    area = sum(item.painted_area_sqft for item in found.fastening)
    assert area == Fraction("205.75") * Fraction("4.625") / 144
    assert {item.finish for item in found.fastening} == {FinishOrder.PAINT}
    assert sum(item.hole_count for item in found.fastening) == 40


def test_supplies_name_the_opening():
    """What is bought for a casing rests on the opening's row and its wall."""
    basis = made.row(materials_of(room(door())), "nail-2").basis
    assert {"sheet:/rooms/0/openings/0", "sheet:/walls/A", "trade:fastening.casing-nail-spacing"} <= set(basis)


def test_casing_too_thick_for_every_nail_is_told():
    """A casing that no nail on the list passes is a fault at its opening."""
    of, found = room(door()), Problems()
    thick = [replace(run, profile=replace(run.profile, thickness=IN("2.5"))) for run in runs_of(of)]
    made.materials(*thick, prices=PRICES, place=of, problems=found)
    told = [problem for problem in found.errors if problem.code is Code.NO_NAIL_LONG_ENOUGH]
    assert {problem.pointer for problem in told} == {"/rooms/0/openings/0"}


@given(st.integers(18 * 16, 60 * 16), st.integers(0, 30 * 16))
@settings(max_examples=60, deadline=None)
def test_wider_door_never_takes_fewer_nails(sixteenths, more):
    """A wider door has a longer head, so never fewer nails or less sealant."""
    narrow, wide = (
        materials_of(room(door(str(Decimal(size) / 16)), length="16'")) for size in (sixteenths, sixteenths + more)
    )
    assert sum(item.nail_count for item in narrow.fastening) <= sum(item.nail_count for item in wide.fastening)
    sealed = [sum((item.caulked_length for item in found.fastening), Length.of(0)) for found in (narrow, wide)]
    assert sealed[0] <= sealed[1]


@given(st.integers(1, 4000), st.integers(4, 24))
def test_pairs_are_never_farther_apart_than_the_spacing(sixteenths, spacing):
    """Whatever the length, the gaps between neighboring pairs are at most the spacing, and one pair fewer would not do."""
    rules = replace(RULES.nails, casing=replace(RULES.nails.casing, spacing=told(spacing)))
    leg = replace(runs_of(room(door()))[0], length=Length(Fraction(sixteenths, 16)), measured=None)
    pairs = nail_groups(Place(leg, room(), leg.title), rules)[0].count
    assert leg.length / (pairs - 1) <= IN(spacing)
    assert pairs == 2 or leg.length / (pairs - 2) > IN(spacing)


def test_spacing_is_the_firm_s_to_set():
    """At 8 in a door takes 12 + 12 + 6 pairs: ceil(83.4375 / 8) + 1 = 12, ceil(38.875 / 8) + 1 = 6."""
    of = room(door())
    held = made.materials(
        *runs_of(of), prices=PRICES, place=of, book=book_with(fastening__casing_nail_spacing="8")
    ).fastening
    assert sum(item.nail_count for item in held) == 30 * 2 + 4


def remarks_of(of, *orders):
    """Codes of everything the takeoff has to say of a room."""
    found = Problems()
    trim = tuple(invented.order(name) for name in orders)
    taken_off((invented.shape(of),), trim, PRICES, invented.TAKEOFF_RULES, found)
    return [problem.code for problem in found]


def test_plinth_block_is_no_short_piece():
    """A block of 6 in is as long as it should be, though the firm's shortest piece along a wall is 24 in."""
    assert PRICES.settings.shortest_piece == IN(24)
    assert Code.PIECE_SHORT not in remarks_of(room(door(casing="casing on plinths")))


@pytest.mark.parametrize(("orders", "is_told"), [((), False), (("base",), True)])
def test_unknown_studs_concern_what_runs_along_a_wall(orders, is_told):
    """A casing is nailed to jamb and trimmer, so unknown studs are no doubt of it; for a base they are."""
    of = room(door())
    bare = replace(of, walls=tuple(replace(wall, studs=Studs(None, IN(16))) for wall in of.walls))
    assert (Code.BACKING_UNKNOWN in remarks_of(bare, *orders)) is is_told
