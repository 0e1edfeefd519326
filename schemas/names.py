"""Names that refer to other names: an index that finds a spelling whatever its case and spacing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from schemas.text import folded, shown
from service.nearest import MOST_GUESSED, nearest
from service.problems import Code, Problems, pointer

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence


class Names:
    """Names of one kind in the order given, by folded spelling; the first spelling is the canonical one.

    Attributes:
        duplicates: position of a later name to the position of the first with the same spelling.
        is_complete: False when a row's own name was refused: a reference to it is then no second fault.
    """

    __slots__ = ("_positions", "_spellings", "duplicates", "is_complete")

    def __init__(self, spellings: Sequence[str | None]) -> None:
        """Index the names of rows, None where a row has none that was understood."""
        self._positions: dict[str, int] = {}
        self._spellings = spellings
        self.duplicates: dict[int, int] = {}
        self.is_complete = None not in spellings
        for position, spelling in enumerate(spellings):
            if spelling is not None:
                first = self._positions.setdefault(folded(spelling), position)
                if first != position:
                    self.duplicates[position] = first

    @classmethod
    def of(cls, rows: Sequence[Mapping[str, Any]], member: str) -> Names:
        """The names that loaded rows carry in one member."""
        return cls([row.get(member) for row in rows])

    def __contains__(self, name: str) -> bool:
        """True when the name is known in some spelling."""
        return folded(name) in self._positions

    def __len__(self) -> int:
        """How many different names there are."""
        return len(self._positions)

    def __iter__(self) -> Any:  # noqa: ANN401 - an iterator of str
        """Canonical spellings, in order."""
        return (str(self._spellings[position]) for position in self._positions.values())

    def position(self, name: str) -> int:
        """Position of the row that carries the name; KeyError when there is none."""
        return self._positions[folded(name)]

    def at(self, position: int) -> str:
        """The name a row carries."""
        return str(self._spellings[position])

    def spelled(self, name: str) -> str:
        """Canonical spelling of a known name; an unknown one as it is."""
        position = self._positions.get(folded(name))
        return name if position is None else str(self._spellings[position])

    def hint(self, name: str) -> str:
        """What a reference to an unknown name may have meant."""
        near = nearest(name, self)
        return f"Did you mean “{near}”?" if near else self.listing()

    def listing(self) -> str:
        """The first names, for people."""
        known = list(self)
        return f"Type one of: {', '.join(known[:12])}{' …' if len(known) > 12 else ''}."  # noqa: PLR2004 - one line


def tell_duplicates(names: Names, code: Code, place: str, member: str, problems: Problems) -> None:
    """A fault for each name that an earlier row already carries."""
    for position, first in names.duplicates.items():
        problems.error(
            code,
            f"{place}{pointer(position, member)}",
            f"Row {first + 1} of this list has the same name.",
            help="Give each its own name; case, spaces and invisible characters do not tell names apart.",
            found=shown(names.at(position)),
        )


def tell_unknown(name: str, names: Names, code: Code, place: str, what: str, problems: Problems) -> None:
    """A fault for a reference to a name that no row carries, unless rows or their names were already refused."""
    if name not in names and names.is_complete and len(names):
        hint = names.hint(name) if len(problems) < MOST_GUESSED else names.listing()
        problems.error(code, place, f"There is no such {what}.", help=hint, found=shown(name))
