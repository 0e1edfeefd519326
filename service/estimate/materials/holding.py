"""Whether nails in wood hold what hangs on them."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.materials.nails import Into
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Iterable

    from service.estimate.materials.nails import NailUse
    from service.estimate.materials.rules import HoldingRules
    from service.estimate.takeoff.model import Run
    from service.units import Length


def withdrawal_lb_per_in(gravity: float, diameter: Length, rules: HoldingRules) -> float:
    """Withdrawal strength of a smooth nail in side grain: W = 1380·G^2.5·D.

    Source: NDS 2018 Table 12.2C (G 0.50, D 0.131 in: 32 lb/in); FPL-RN-093.

    Args:
        gravity: specific gravity of the wood, oven dry. [ratio]
        diameter: of the shank. [Length]
        rules: trade book `fastening.withdrawal-constant`, `withdrawal-exponent`.

    Returns:
        Pounds per inch of penetration. [lb/in]
    """
    return float(rules.constant * gravity**rules.exponent * float(diameter))


def holding_lb(use: NailUse, rules: HoldingRules) -> float:
    """Permanent holding power of a group of nails in wood; nails in gypsum hold nothing. [lb]

    Source: NDS 2018: × 0.9 for a permanent load, × 0.67 more for a nail driven at an angle.
    """
    if use.group.into is not Into.FRAMING:
        return 0.0
    each = withdrawal_lb_per_in(rules.gravity, use.nail.shank_diameter or ZERO, rules) * float(use.penetration)
    angled = rules.toe_nail_factor if use.group.is_angled else 1.0
    return use.group.count * each * rules.permanent_factor * angled


def hung_weight_lb_per_ft(run: Run, hanging: Iterable[Run]) -> Fraction | None:
    """Dead weight per foot of a ceiling layer and what hangs on it, None where a weight is not given.

    The whole weight of a crown is taken, though the wall carries part of it.

    Args:
        run: the ceiling layer.
        hanging: crowns nailed to it, stretch by stretch.

    Returns:
        [lb/ft]
    """
    profiles = {other.layer.number: other.profile for other in (run, *hanging)}
    weights = [profile.weight_lb_per_ft for profile in profiles.values()]
    known = [Fraction(weight) for weight in weights if weight is not None]
    return sum(known, Fraction(0)) if len(known) == len(weights) else None


def holding_factor(
    uses: Iterable[NailUse], weight_lb_per_ft: Fraction, held: Length, rules: HoldingRules
) -> float | None:
    """Holding power over dead weight of the length held by nails; pull-through of the heads is not checked.

    Args:
        uses: nails of the layer.
        weight_lb_per_ft: dead weight. [lb/ft]
        held: length that nails in wood hold. [Length]
        rules: trade book, withdrawal.

    Returns:
        A factor, None where there is nothing to hold.
    """
    weight = float(weight_lb_per_ft * held.feet)
    return sum(holding_lb(use, rules) for use in uses) / weight if weight > 0 else None
