"""What was ordered and what the stages found, in one hand: assumptions and cautions are read off it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from service.estimate.cuts.model import CutPlan
    from service.estimate.labor import Labor
    from service.estimate.materials.model import Materials
    from service.estimate.price import Priced
    from service.estimate.takeoff.model import Run
    from service.firm import FirmSettings
    from service.survey import FeatureKind, Survey
    from service.trade.book import TradeBook


@dataclass(frozen=True, slots=True)
class Work:
    """The job as ordered, taken off, bought, timed and priced."""

    survey: Survey
    settings: FirmSettings
    book: TradeBook
    runs: Sequence[Run]
    plan: CutPlan
    materials: Materials
    labor: Labor
    priced: Priced

    def figure(self, entry: str) -> str:
        """Value of a trade-book entry as printed, without trailing zeros."""
        return f"{self.book.value(entry).normalize():f}"

    def rooms_with(self, *features: FeatureKind) -> tuple[str, ...]:
        """Rooms with one of these on the ceiling, in the sheet's order."""
        return tuple(room.name for room in self.survey.rooms if any(item.feature in features for item in room.ceiling))

    def has_task(self, task: str) -> bool:
        """True when hours of this task are priced."""
        return any(row.task == task and row.hours > 0 for row in self.labor.rows)

    def has_supply(self, code: str) -> bool:
        """True when packages of this supply are priced."""
        return any(row.code.casefold() == code and row.packages > 0 for row in self.materials.supplies)


def once(names: Iterable[str]) -> tuple[str, ...]:
    """Names without repeats, in the order found."""
    return tuple(dict.fromkeys(names))


def listed(names: Sequence[str]) -> str:
    """Names as people list them: `Hall`, `Hall and Den`, `Hall, Den and Bath`."""
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last
