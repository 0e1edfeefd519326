"""Records by name, found under any spelling of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, TypeVar

from schemas.text import folded

if TYPE_CHECKING:
    from collections.abc import Iterable

Item = TypeVar("Item")


class BySpelling(Mapping[str, Item]):
    """A read-only mapping whose keys compare as names do: case, spacing and invisible characters aside.

    Iterating gives the canonical spellings, so a reference on a sheet finds the price list's record
    whatever its case, and the record's own name is what is printed.
    """

    __slots__ = ("_items", "_spellings")

    def __init__(self, items: Iterable[tuple[str, Item]]) -> None:
        """Keep the items by their canonical spelling, in order."""
        self._items = dict(items)
        self._spellings = {folded(name): name for name in self._items}

    def __getitem__(self, name: str) -> Item:
        """The item of a name in any spelling; KeyError when there is none."""
        if name in self._items:
            return self._items[name]
        return self._items[self._spellings[folded(name)]]

    def __iter__(self) -> Iterator[str]:
        """Canonical spellings, in order."""
        return iter(self._items)

    def __len__(self) -> int:
        """How many there are."""
        return len(self._items)

    def __repr__(self) -> str:
        """The items, as a dict prints them."""
        return f"{type(self).__name__}({self._items!r})"
