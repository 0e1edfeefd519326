"""Nailing, penetration, withdrawal, blocks and nail sizes against what is printed."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest

from service.estimate.figures import WHOLE, rounded, rounded_up, times
from service.estimate.materials.blocks import block_legs
from service.estimate.materials.counts import nails_across
from service.estimate.materials.holding import withdrawal_lb_per_in
from service.estimate.materials.nails import least_penetration
from service.estimate.materials.packages import with_waste
from service.estimate.materials.places import Place, nail_groups
from service.estimate.materials.pounds import count_per_lb, penny_length, pounds_of, steel_count_per_lb
from service.estimate.takeoff.model import Member
from service.firm import Position
from service.units import ZERO, Length
from tests.materials.examples import BASE, BOARD, BOOK, CROWN, IN, RULES, SQUARE, centers, nail, only, room, run, told

CASING = replace(BASE, name="casing", width=IN("3.25"), thickness=IN("0.6875"))
STEEL = told(BOOK.value("fastening.steel-weight"))


@pytest.mark.parametrize(("width", "nails"), [("3.5", 2), ("5.5", 2), ("8", 2), ("8.25", 3), ("11.25", 3)])
def test_nails_at_one_joint(width, nails):
    """Two nails a joint up to 8 in wide, three in anything wider (U.S. Army EN0069A section 4-9, public domain)."""
    assert nails_across(IN(width), RULES.nails).number == nails


def test_nails_of_a_floor_of_boards():
    """100 boards over 30 joists at 2 nails take 6,000, with 20 percent waste 7,200, at 74 to the pound 97.3 lb.

    Source: U.S. Army EN0069A section 4-9 and table 4-1, public domain.
    """
    over_joists = run(length=480, at=centers(8, 472))
    assert len(over_joists.backing.at) == 30
    nails = 100 * only(over_joists).nail_count
    bought = with_waste(told(nails), told(BOOK.value("waste.nails")))
    assert (nails, bought.value) == (6000, 7200)
    assert round(float(pounds_of("pounds", bought, told(74)).value), 1) == 97.3


def test_pounds_of_framing_nails():
    """6.3 thousand board feet take 1.67 × 10 (the penny) pounds of 10d nails each: 105.21, "say 105 lb".

    Source: U.S. Army EN0069A section 4-9, public domain: the pounds of a lot and the whole pounds that are bought.
    """
    pounds = times("pounds", "lb", told("6.3"), told("1.67"), told(10))
    assert pounds.value == Fraction("105.21")
    assert rounded("pounds bought", "lb", pounds, WHOLE).value == 105


def test_pounds_and_counts_tell_the_same_lot():
    """As many 10d nails as 105.21 lb hold at 74 to the pound weigh 105.21 lb again, and no whole nail fewer would.

    Source: U.S. Army EN0069A section 4-9: 74 to the pound in its other example.
    """
    nails = rounded_up("nails", "each", times("nails", "each", told("105.21"), told(74)))
    assert nails.value == 7786
    assert round(float(pounds_of("pounds", nails, told(74)).value), 2) == 105.22
    assert float(pounds_of("pounds", told(nails.number - 1), told(74)).value) < 105.21


def test_base_has_two_nails_at_each_stud():
    """Two finish nails hold a base at each stud (NAVEDTRA 14044 chapter 6, public domain)."""
    assert only(run(Position.BASE, BASE, at=centers(16, 144))).nail_count == 2 * 9


@pytest.mark.parametrize(("inches", "pairs"), [(16, 2), (32, 3), (80, 6), (81, 7), (96, 7)])
def test_casing_is_nailed_in_pairs(inches, pairs):
    """Casing is nailed in pairs about 16 in apart, one nail to the jamb and one to the trimmer of each pair.

    Source: NAVEDTRA 14044 chapter 6 (public domain): "about" is taken as a most, so 80 in has six pairs exactly.
    """
    leg = run(Position.CASING, CASING, inches, member=Member.LEFT_LEG, opening=1, left=SQUARE, right=SQUARE)
    groups = nail_groups(Place(leg, room(), leg.title), RULES.nails)
    assert [(group.use, group.count) for group in groups] == [("casing to jamb", pairs), ("casing to trimmer", pairs)]


def test_ceiling_molding_is_nailed_to_plate_and_joists():
    """A crown alone is nailed into the top plate along its bottom edge and into joists along its top edge.

    Source: NAVEDTRA 14044 chapter 6 (public domain). 160 in of plate at 16 in: 11 nails; 9 joists: 9 nails.
    """
    small = replace(CROWN, width=IN("2.25"))
    alone = run(Position.CROWN, small, low=IN("94.25"), top_edge=run(at=centers(16, 144)).backing)
    assert only(alone).nail_count == 11 + 9


@pytest.mark.parametrize(("diameter", "least"), [("0.131", "0.786"), ("0.162", "0.972"), ("0.148", "0.888")])
def test_penetration_is_six_diameters(diameter, least):
    """A nail penetrates at least six of its shank diameters (NDS 2018 section 12.1.6.4)."""
    assert least_penetration(IN(diameter), RULES.nails) == IN(least)


def test_thin_nail_keeps_the_trade_least():
    """For a thin finish nail six diameters are too little; the trade's own least holds (common practice)."""
    assert least_penetration(IN("0.072"), RULES.nails) == IN("0.75")


def test_withdrawal_of_the_printed_nail():
    """A 0.131 in nail in wood of gravity 0.50 holds 32 lb per inch (NDS 2018 Table 12.2C)."""
    assert round(withdrawal_lb_per_in(0.5, IN("0.131"), RULES.holding)) == 32


@pytest.mark.parametrize("gravity", [0.36, 0.42, 0.5, 0.67])
def test_ultimate_form_is_five_times_the_design_form(gravity):
    """The laboratory's 6900·G^2.5·D is exactly five times the design value (FPL-RN-093, public domain)."""
    ultimate = 6900 * gravity**2.5 * 0.148
    assert ultimate / withdrawal_lb_per_in(gravity, IN("0.148"), RULES.holding) == pytest.approx(5, rel=1e-12)


def test_block_legs_of_the_printed_crown():
    """A 4 5/8 in crown 5/8 in thick at 38 degrees leaves legs of 2.63 × 2.05 in (plane geometry, design of the job)."""
    wall, ceiling = block_legs(CROWN, ZERO)
    assert (round(float(wall), 2), round(float(ceiling), 2)) == (2.63, 2.05)


def test_block_touches_the_back_of_the_crown():
    """The block's slanted side lies on the molding's back: as far from its face as the molding is thick.

    Rebuilt by vectors: the face runs from the wall at the drop to the ceiling at the projection; the distance
    of the block's two sharp corners from that line is the thickness.
    """
    spring = math.radians(CROWN.spring_angle_deg)
    drop, projection = 4.625 * math.cos(spring), 4.625 * math.sin(spring)
    wall, ceiling = block_legs(CROWN, ZERO)
    for x, y in ((0.0, float(wall)), (float(ceiling), 0.0)):
        distance = abs(x / projection + y / drop - 1) / math.hypot(1 / projection, 1 / drop)
        assert distance == pytest.approx(0.625, abs=1e-9)


PENNIES = {
    2: "1",
    3: "1.25",
    4: "1.5",
    5: "1.75",
    6: "2",
    7: "2.25",
    8: "2.5",
    9: "2.75",
    10: "3",
    12: "3.25",
    16: "3.5",
    20: "4",
}


@pytest.mark.parametrize(("penny", "length"), PENNIES.items())
def test_penny_sizes(penny, length):
    """Penny sizes have their printed lengths (Cyclopedia of Architecture, Carpentry and Building, "Nails")."""
    assert penny_length(penny) == IN(length)


@pytest.mark.parametrize("penny", [1, 11, 60])
def test_unlisted_penny_size_is_refused(penny):
    """A size that the list does not have is no guess."""
    with pytest.raises(ValueError, match=f"{penny}d"):
        penny_length(penny)


FINISH = [("2.5", "0.099", 189), ("3", "0.113", 121), ("3.5", "0.120", 90)]


@pytest.mark.parametrize(("length", "diameter", "printed"), FINISH)
def test_finish_nails_in_a_pound(length, diameter, printed):
    """Finish nails 8d 189, 10d 121, 16d 90 to the pound, as dealers' tables print them (counts and wire from memory).

    The steel in the shanks, 490 lb a cubic foot, agrees within 5 percent.
    """
    steel = math.pi / 4 * float(diameter) ** 2 * float(length) * 490 / 1728
    assert printed * steel == pytest.approx(1, abs=0.05)
    assert count_per_lb(nail(length, diameter, "1", "lb"), BOOK).per_lb.value == printed


def test_six_penny_count_that_disagrees_is_not_in_the_book():
    """A printed 309 for 6d finish nails (from memory) is 15 percent off the steel of 13 gauge wire, so it is not used."""
    steel = steel_count_per_lb(told(2), told("0.0915"), STEEL).value
    assert abs(309 / steel - 1) > Fraction(1, 10)
    assert 309 not in {entry.value for entry in BOOK}


@pytest.mark.parametrize(("entry", "printed"), [("6d", 315), ("8d", 190), ("10d", 119)])
def test_coated_box_nails_in_a_pound(entry, printed):
    """Coated box nails 6d 315, 8d 190, 10d 119 to the pound (GSA CID A-A-1963 Table I, public domain)."""
    assert BOOK.value(f"fastening.box-{entry}-per-lb") == printed


def test_counts_fall_with_size():
    """Within one printed family a longer nail is heavier, so fewer make a pound."""
    for family, sizes in (("finish", (8, 10, 16)), ("box", (6, 8, 10))):
        counts = [BOOK.value(f"fastening.{family}-{size}d-per-lb") for size in sizes]
        assert counts == sorted(counts, reverse=True)


def test_three_wide_nails_hold_a_wide_board():
    """A 9 1/4 in ceiling board over 9 joists takes 27 nails: 9 × 3 (U.S. Army EN0069A section 4-9)."""
    wide = replace(BOARD, width=Length.of("9.25"))
    assert only(run(profile=wide, at=centers(16, 144))).nail_count == 27
