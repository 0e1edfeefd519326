"""What there is to do to ceiling features: the old one down, the new one up, a medallion filled and painted."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.labor.work import Work
from service.firm import Position

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.materials.model import FeatureFitting


def feature_work(fitting: FeatureFitting) -> Iterator[Work]:
    """Work on one ceiling feature; only what there is.

    It is done at the ceiling, so a condition on the position `ceiling` applies to it as to a ceiling layer.
    """
    feature = fitting.feature
    quantities = (
        (f"{feature.feature}-out", Fraction(feature.remove_existing), "remove_existing"),
        (f"{feature.feature}-in", Fraction(1), "feature"),
        ("fill", Fraction(fitting.screws), "feature"),
        ("sand", fitting.painted_area_sqft, "diameter"),
        ("paint", fitting.painted_area_sqft * fitting.coats, "diameter"),
    )
    for task, quantity, member in quantities:
        if quantity:
            yield Work(task, fitting.room, quantity, (f"{feature.pointer}/{member}",), Position.CEILING)
