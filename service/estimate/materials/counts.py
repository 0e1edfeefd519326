"""How many nails: each rule of the trade is one function of lengths and numbers."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from service.estimate.takeoff.model import Backing, Joint, Span
from service.firm import Position
from service.survey import CornerKind

if TYPE_CHECKING:
    from service.estimate.materials.rules import NailRules
    from service.estimate.takeoff.model import Run
    from service.units import Length


def nails_across(width: Length, rules: NailRules) -> int:
    """Nails where a board crosses one joist: 2 up to 8 in wide, 3 wider.

    Source: U.S. Army EN0069A section 4-9.

    Args:
        width: face width of the board. [Length]
        rules: trade book `fastening.nails-per-joint`, `nails-per-wide-joint`, `wide-above`.
    """
    return rules.per_wide_joint if width > rules.wide_above else rules.per_joint


def nails_along(length: Length, spacing: Length) -> int:
    """Nails along continuous backing, one at each end and none farther apart than the spacing.

    Source: common practice.

    Args:
        length: length nailed. [Length]
        spacing: largest distance. [Length]

    Returns:
        Number of nails, 0 for no length.
    """
    return math.ceil(length / spacing) + 1 if length.inches > 0 else 0


def unbacked_stretches(run: Run, limit: Length) -> tuple[Span, ...]:
    """Stretches that adhesive must hold: those without backing and longer than the limit, or a whole run with none.

    A crown on blocks or under a ceiling layer is held by them; one without is judged by its top edge. A shoe
    is held by floor or base, trim around an opening by its jamb.

    Source: common practice; trade book `fastening.unbacked-limit`.

    Returns:
        Spans in wall coordinates, none on a joist edge or plate. [Length]
    """
    if run.position is Position.SHOE or not run.is_along_wall:
        return ()
    backing = run.backing
    if run.position is Position.CROWN:
        if run.layer.has_blocks or run.under_ceiling_layer:
            return ()
        backing = run.top_edge or Backing(at=(), is_known=False)
    if backing.is_continuous or backing.on_plate:
        return ()
    if not backing.at:
        return (Span(run.start, run.end),)
    return tuple(span for span in backing.unbacked if span.length > limit)


def cross_nails(stretch: Length, rules: NailRules) -> int:
    """Nails that hold an unbacked stretch until the adhesive cures: a pair at opposing angles every 16 in.

    Not structural; the board is propped until the adhesive has cured.

    Source: common practice.

    Args:
        stretch: length without backing. [Length]
        rules: trade book `fastening.cross-nail-spacing`, `nails-per-cross`.
    """
    return math.ceil(stretch / rules.cross_spacing) * rules.per_cross


def outside_corners(run: Run) -> int:
    """Mitered outside corners that a run closes: its right-hand one, so that each counts once in a room."""
    return int(run.right.corner is CornerKind.OUTSIDE and run.right.joint is Joint.MITER)


def is_plate_behind(run: Run, ceiling_covering: Length, ceiling_height: Length, plate_depth: Length) -> bool:
    """True when the layer's lower edge still lies on the top plate.

    The plate reaches so far down from the ceiling framing, which stands above the covering.

    Args:
        run: the layer; `low` is its lower edge above the floor. [Length]
        ceiling_covering, ceiling_height: thickness of the ceiling's gypsum, finished height. [Length]
        plate_depth: trade book `framing.top-plate-depth`. [Length]
    """
    return run.low >= ceiling_height + ceiling_covering - plate_depth
