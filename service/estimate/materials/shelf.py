"""Which supply of the price list serves a purpose; what is missing is told once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.problems import Code

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.firm import Supply, SupplyKind
    from service.problems import Problems

GLUE_PLATE = "glue-plate"
STAIN = "stain"
MASKING_TAPE = "masking-tape"
FLOOR_COVERING = "floor-covering"
_SPECIAL = frozenset({GLUE_PLATE, STAIN, MASKING_TAPE, FLOOR_COVERING})


class Shelf:
    """Supplies by purpose: the first listed of a kind, or the one with a set code."""

    __slots__ = ("_problems", "_supplies", "_told")

    def __init__(self, supplies: Mapping[str, Supply], problems: Problems) -> None:
        """Read from these supplies, tell faults to these problems."""
        self._supplies = supplies
        self._problems = problems
        self._told: set[str] = set()

    def of_kind(self, kind: SupplyKind, place: str) -> Supply | None:
        """First listed supply of a kind; none is a fault, told at the place that first needs it."""
        found = (s for s in self._supplies.values() if s.kind is kind and s.code.casefold() not in _SPECIAL)
        supply = next(found, None)
        if supply is None:
            self._tell(kind, place, f"a supply of kind {kind}")
        return supply

    def coded(self, code: str, place: str) -> Supply | None:
        """The supply with this code; none is a fault."""
        supply = self.listed(code)
        if supply is None:
            self._tell(code, place, f"a supply with the code {code}")
        return supply

    def listed(self, code: str) -> Supply | None:
        """The supply with this code; None where the firm buys none, which is no fault."""
        return next((s for s in self._supplies.values() if s.code.casefold() == code), None)

    def tell_unusable(self, supply: Supply, place: str, lacks: str) -> None:
        """A supply that lacks what its quantity would be worked out from."""
        if supply.code in self._told:
            return
        self._told.add(supply.code)
        self._problems.error(
            Code.SUPPLY_MISSING, place, f"{supply.description} ({supply.code}) cannot be counted: it has no {lacks}.",
            help=f"Add {lacks} on the price list's Supplies tab.", found=supply.package_unit,
        )  # fmt: skip

    def tell_uncounted(self, supply: Supply, place: str, cure: str) -> None:
        """A supply whose package unit does not tell how many pieces a package holds."""
        if supply.code in self._told:
            return
        self._told.add(supply.code)
        self._problems.error(
            Code.SUPPLY_MISSING, place,
            f"{supply.description} ({supply.code}) cannot be counted: from its package unit nobody can tell how many a "
            "package holds.",
            help=cure, found=f"{supply.package_size:f} {supply.package_unit}",
        )  # fmt: skip

    def _tell(self, what: str, place: str, wanted: str) -> None:
        if what in self._told:
            return
        self._told.add(what)
        self._problems.error(
            Code.SUPPLY_MISSING, place, f"The work takes {wanted}, and the price list has none.",
            help=f"Add {wanted} to the price list's Supplies tab.", found=str(what),
        )  # fmt: skip
