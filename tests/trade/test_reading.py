"""Sets of rules declared member by member."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

import pytest

from service.trade.book import overridden, shipped_book
from service.trade.reading import FromBook, exact, length, read_by, real
from service.units import Length


@dataclass(frozen=True, slots=True)
class Inner(FromBook):
    """A set within a set."""

    limit: Length = length("fastening.unbacked-limit")


@dataclass(frozen=True, slots=True)
class Outer(FromBook):
    """Each kind of member once."""

    share: Fraction = exact("fastening.block-nail-share")
    power: float = real("fastening.withdrawal-exponent")
    inner: Inner = read_by(Inner.of)


def test_each_member_is_read_from_its_entry():
    """Lengths, exact numbers, reals and inner sets come from the entries named, and a firm's value replaces one alone."""
    book = shipped_book()
    plain = Outer.of(book)
    assert (plain.share, plain.power, plain.inner.limit) == (Fraction(33, 100), 2.5, Length.of(24))
    changed, problems = overridden(book, {"fastening.unbacked-limit": (Decimal(30), "ours")})
    assert problems == ()
    assert Outer.of(changed) == Outer(plain.share, plain.power, Inner(Length.of(30)))


def test_a_member_is_never_its_declaration():
    """A set made without the book lacks its members and is refused; no default stands in for a number of the trade."""
    with pytest.raises(TypeError, match="missing"):
        Outer()
