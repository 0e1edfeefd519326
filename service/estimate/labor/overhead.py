"""What there is to do to ceiling features: the old one down, the new one up, a medallion filled and painted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.labor.work import Work, once
from service.firm import Position

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.materials.model import FeatureFitting


def feature_work(fitting: FeatureFitting) -> Iterator[Work]:
    """Work on one ceiling feature; only what there is.

    It is done at the ceiling, so a condition on the position `ceiling` applies to it as to a ceiling layer.
    """
    feature, found = fitting.feature, fitting.figures
    kind = feature.feature
    quantities = (
        (f"{kind}-out", once(f"old {kind}") if feature.remove_existing else None, "remove_existing", 1),
        (f"{kind}-in", once(f"new {kind}"), "feature", 1),
        ("fill", found.screws, "feature", 1),
        ("sand", found.sanded_sqft, "diameter", 1),
        ("paint", found.painted_sqft, "diameter", fitting.coats),
    )
    for task, quantity, member, coats in quantities:
        if quantity is not None and quantity.value:
            yield Work(task, fitting.room, quantity, (f"{feature.pointer}/{member}",), Position.CEILING, coats=coats)
