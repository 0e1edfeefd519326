"""Rules of a stage as declarations: each member says which entry of the trade book it is, and how it is read.

    @dataclass(frozen=True, slots=True)
    class BlockRules(FromBook):
        from_end: Length = length("fastening.block-from-end")

`BlockRules.of(book)` reads them all; nothing has to be listed a second time.
"""

from __future__ import annotations

from dataclasses import field, fields
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Self

from service.units import Length

if TYPE_CHECKING:
    from collections.abc import Callable

    from service.trade.book import TradeBook

_READ = "read"


class FromBook:
    """A set of rules whose members are declared with the functions of this module."""

    __slots__ = ()

    @classmethod
    def of(cls, book: TradeBook) -> Self:
        """The rules as a trade book has them."""
        return cls(**{item.name: item.metadata[_READ](book) for item in fields(cls)})  # type: ignore[arg-type] # subclasses are dataclasses


def read_by(read: Callable[[TradeBook], object]) -> Any:  # noqa: ANN401 - stands for a member of any type
    """A member that is made of the book by a function of its own, such as another set's `of`."""
    return field(metadata={_READ: read})


def length(key: str) -> Any:  # noqa: ANN401 - as read_by
    """A member that is an entry in inches. [Length]"""
    return read_by(lambda book: Length.of(book.value(key)))


def exact(key: str) -> Any:  # noqa: ANN401 - as read_by
    """A member that is an entry without rounding. [Fraction]"""
    return read_by(lambda book: Fraction(book.value(key)))


def real(key: str) -> Any:  # noqa: ANN401 - as read_by
    """A member that is an entry for trigonometry or powers. [float]"""
    return read_by(lambda book: float(book.value(key)))
