"""What holds for any run: counts grow with walls, packages cover needs, nothing is lost between rooms."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from service.estimate.materials.blocks import thinned
from service.estimate.materials.counts import cross_nails, places_along
from service.estimate.materials.packages import printed_need, whole_packages, with_waste
from service.estimate.takeoff.model import Span
from service.estimate.takeoff.runs import taken_off
from service.firm import Position
from service.problems import Problems
from service.survey import FinishOrder
from service.units import Length
from tests import invented
from tests.materials.examples import (
    BASE,
    IN,
    PROTECTION,
    RULES,
    SUPPLIES,
    crown,
    materials,
    only,
    price_list,
    run,
    told,
)

lengths = st.integers(min_value=24, max_value=480)
spacings = st.integers(min_value=12, max_value=30)
positions = st.sampled_from([Position.CEILING, Position.WALL, Position.BASE, Position.RAIL, Position.CAP])


def framed(position: Position, length: int, spacing: int):
    """A run with a stud or joist every so many inches, its unbacked stretches told as the takeoff tells them."""
    at = tuple(IN(x) for x in range(spacing // 2, length, spacing))
    stops = (IN(0), *at, IN(length))
    gaps = tuple(Span(a, b) for a, b in pairwise(stops) if b - a > IN(24))
    return run(position, BASE, length, at=at, backing={"unbacked": gaps}, finish=FinishOrder.PAINT)


@given(positions, lengths, spacings, st.integers(min_value=0, max_value=200))
def test_longer_wall_never_takes_fewer_nails(position, length, spacing, more):
    """Counts never fall when a wall grows: nails, area and beads of the longer run are at least the shorter's."""
    short, long = only(framed(position, length, spacing)), only(framed(position, length + more, spacing))
    assert long.nail_count >= short.nail_count
    assert long.painted_area_sqft >= short.painted_area_sqft


@given(lengths, st.integers(min_value=0, max_value=200))
def test_longer_crown_never_has_fewer_blocks(length, more):
    """A crown on a longer wall has at least as many blocks and nails."""
    short, long = only(crown(length, spacing=IN(32))), only(crown(length + more, spacing=IN(32)))
    assert long.blocks >= short.blocks
    assert long.nail_count >= short.nail_count


@given(
    st.fractions(min_value=0, max_value=10_000), st.decimals("0", "0.5", places=2), st.decimals("0.1", "500", places=1)
)
def test_packages_cover_need_and_waste(need, share, size):
    """Packages × size is at least need and waste, and one package less would fall short."""
    gross = with_waste(printed_need(told(need)), told(share)).value
    packages = whole_packages(told(gross), told(size)).number
    size = Fraction(size)
    assert packages * size >= gross
    assert gross >= need
    assert packages == 0 or (packages - 1) * size < gross


@given(st.lists(st.tuples(positions, lengths, spacings), min_size=1, max_size=6))
def test_rest_is_what_is_left(orders):
    """For every supply: packages × size = need × (1 + waste) + rest, the rest below one package, rooms add up to it."""
    found = materials(*(framed(*order) for order in orders))
    assert found.supplies
    for row in found.supplies:
        assert row.packages * row.package_size == row.need * (1 + row.waste_share) + row.rest
        assert 0 <= row.rest < row.package_size
        assert 0 <= Fraction(row.need) - sum(row.room_needs.values()) < Fraction(1, 1000)


@given(lengths, spacings)
def test_nails_along_are_never_too_far_apart(length, spacing):
    """Nails spread evenly from end to end stand no farther apart than the spacing, and one fewer would."""
    count = places_along("nails", told(length), told(spacing)).number
    assert IN(length) / (count - 1) <= IN(spacing)
    assert count == 2 or IN(length) / (count - 2) > IN(spacing)


@given(lengths, lengths)
def test_cross_nails_of_a_whole_are_no_more_than_of_its_parts(one, other):
    """Splitting a stretch never takes fewer pairs."""
    whole, parts = (
        cross_nails("nails", [told(length) for length in stretches], RULES.nails).number
        for stretches in ([one + other], [one, other])
    )
    assert whole <= parts


@given(st.sets(st.integers(min_value=0, max_value=400), min_size=1), spacings)
def test_thinning_keeps_ends_and_closeness(places, spacing):
    """Thinned studs keep both ends, and a gap wider than the spacing is one that the studs themselves have."""
    studs = [Length.of(place) for place in sorted(places)]
    kept = thinned(studs, set(), IN(spacing))
    assert {studs[0], studs[-1]} <= set(kept) <= set(studs)
    for earlier, later in pairwise(kept):
        between = [stud for stud in studs if earlier < stud < later]
        assert later - earlier <= IN(spacing) or not between


walls = st.integers(min_value=60, max_value=360)
assemblies = st.sampled_from(["ceiling board", "wall board", "rail", "base cap shoe", "crown alone mitered"])


def counted(length: int, name: str) -> dict[str, Fraction]:
    """Counts and sizes of an assembly all round a room 10 ft deep, joists along its walls of this length."""
    room = invented.rectangle(f'{length}"', "10'", joists=invented.joists("A", "12"))
    runs = taken_off(
        (invented.shape(room),), (invented.order(name),), invented.PRICE_LIST, invented.TAKEOFF_RULES, Problems()
    )  # fmt: skip
    prices = price_list(*SUPPLIES, *PROTECTION, default_finish="paint")
    found = materials(*runs, prices=prices, place=room, problems=Problems())
    totals = {
        item.code: sum(item.room_needs.values(), Fraction(0))
        for item in found.supplies
        if not item.code.startswith("nail")
    }
    return totals | {"nails": Fraction(sum(item.nail_count for item in found.fastening))}


@settings(max_examples=40)
@given(walls, st.integers(min_value=16, max_value=120), assemblies)
def test_larger_room_never_takes_less(length, more, name):
    """Where two walls of a room grow by a stud's spacing or more, nothing that its trim takes gets less.

    By less than a spacing the last stud may come to stand where the end of the wall has one, and one is nailed for two.
    """
    small, large = counted(length, name), counted(length + more, name)
    assert set(small) <= set(large)
    assert {code: need for code, need in small.items() if need > large[code]} == {}
