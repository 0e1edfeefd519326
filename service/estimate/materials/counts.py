"""How many nails: each rule of the trade is one function of lengths and numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.figures import EACH, INCH, Figure, added, counted, given, less, over, rounded_up, times
from service.estimate.materials.geometry import ONE_MORE
from service.estimate.takeoff.model import Backing, Joint, Span
from service.firm import Position
from service.survey import CornerKind

if TYPE_CHECKING:
    from collections.abc import Iterable

    from service.estimate.materials.rules import NailRules
    from service.estimate.takeoff.model import Run
    from service.units import Length

UNBACKED = "plan:unbacked-stretches"


def nails_across(width: Length, rules: NailRules) -> Figure:
    """Nails where a board crosses one joist: 2 up to 8 in wide, 3 wider.

    Source: U.S. Army EN0069A section 4-9.

    Args:
        width: face width of the board. [Length]
        rules: trade book `fastening.nails-per-joint`, `nails-per-wide-joint`, `wide-above`.
    """
    return rules.per_wide_joint if width > rules.wide_above else rules.per_joint


def places_along(what: str, length: Figure, spacing: Figure) -> Figure:
    """Nails or dabs along a length, one at each end and none farther apart than the spacing; none for no length.

    Source: common practice.

    Args:
        what: is counted.
        length: length nailed or glued. [Length]
        spacing: largest distance. [Length]
    """
    if length.value <= 0:
        return counted(what, ())
    spaces = rounded_up("spaces, none larger", EACH, over("length over spacing", EACH, length, spacing))
    return added(what, EACH, spaces, ONE_MORE)


def at_each(what: str, places: Figure, each: Figure) -> Figure:
    """So many at each of some places."""
    return times(what, EACH, places, each)


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


def stretch_lengths(run: Run, stretches: Iterable[Span]) -> tuple[Figure, ...]:
    """How long each unbacked stretch is: the run's own length for all of it, else from its left to its right end."""
    return tuple(
        run.length_figure
        if span == Span(run.start, run.end)
        else less(
            "stretch without backing",
            INCH,
            given("its right-hand end", span.end, INCH, UNBACKED),
            given("its left-hand end", span.start, INCH, UNBACKED),
        )
        for span in stretches
    )


def cross_nails(what: str, stretches: Iterable[Figure], rules: NailRules) -> Figure:
    """Nails that hold unbacked stretches until the adhesive cures: a pair at opposing angles every 16 in of each.

    Not structural; the board is propped until the adhesive has cured.

    Source: common practice.

    Args:
        what: is counted.
        stretches: lengths without backing. [Length]
        rules: trade book `fastening.cross-nail-spacing`, `nails-per-cross`.
    """
    spaced = (over("stretch over spacing", EACH, stretch, rules.cross_spacing) for stretch in stretches)
    pairs = [rounded_up("crossed pairs of one stretch", EACH, spaces) for spaces in spaced]
    return times(what, EACH, added("crossed pairs", EACH, *pairs), rules.per_cross)


def outside_corners(run: Run) -> Figure:
    """Mitered outside corners that a run closes: its right-hand one, so that each counts once in a room."""
    closes = run.right.corner is CornerKind.OUTSIDE and run.right.joint is Joint.MITER
    return counted("outside corners it closes", (run.end,) if closes else ())


def returned(run: Run) -> Figure:
    """Ends of a run that are closed with a return piece."""
    ends = ((run.left, run.cut_start), (run.right, run.cut_end))
    return counted("ends it returns", tuple(at for end, at in ends if end.joint is Joint.RETURN))


def is_plate_behind(run: Run, ceiling_covering: Length, ceiling_height: Length, plate_depth: Length) -> bool:
    """True when the layer's lower edge still lies on the top plate.

    The plate reaches so far down from the ceiling framing, which stands above the covering.

    Args:
        run: the layer; `low` is its lower edge above the floor. [Length]
        ceiling_covering, ceiling_height: thickness of the ceiling's gypsum, finished height. [Length]
        plate_depth: trade book `framing.top-plate-depth`. [Length]
    """
    return run.low >= ceiling_height + ceiling_covering - plate_depth
