"""Where the trim around an opening is nailed: one function a position, each answering groups of nails."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.figures import counted
from service.estimate.materials.counts import at_each, places_along
from service.estimate.materials.nails import Into, NailGroup
from service.estimate.takeoff.model import Joint, Member

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.figures import Figure
    from service.estimate.materials.places import Place
    from service.estimate.materials.rules import CasingRules
    from service.units import Length

CORNER_MEMBERS = frozenset({Member.HEAD, Member.SILL})


def on_casing(place: Place, rules: CasingRules) -> Iterator[NailGroup]:
    """Casing: pairs of nails not more than 16 in apart, a short one to the jamb and a long one to the trimmer.

    The short nail passes the casing alone, the long one the covering too. A head finds its trimmer in the
    header over the opening. A nail that the assembly names is the long one. A mitered corner is nailed
    across through both edges.

    Source: NAVEDTRA 14044 chapter 6 (pairs); common practice (corners).
    """
    pairs = places_along(place.named("pairs of nails"), place.run.length_figure, rules.spacing)
    spaced = ("fastening.casing-nail-spacing",)
    yield NailGroup("casing to jamb", pairs, place.thickness, Into.BOARD, spaced, is_own=False)
    yield NailGroup("casing to trimmer", pairs, _through_covering(place), Into.FRAMING, spaced)
    nails = at_each(place.named("nails across corners"), corners_closed(place), rules.per_corner)
    crossed = ("fastening.nails-per-casing-corner", "fastening.casing-corner-inset")
    yield NailGroup("casing corners", nails, rules.corner_inset, Into.BOARD, crossed, is_own=False)


def corners_closed(place: Place) -> Figure:
    """Mitered corners of a frame, counted with its head and its sill so that each counts once."""
    run = place.run
    ends = ((run.start, run.left), (run.end, run.right)) if run.member in CORNER_MEMBERS else ()
    return counted("mitered corners", [at for at, end in ends if end.joint is Joint.MITER])


def on_stool(place: Place, rules: CasingRules) -> Iterator[NailGroup]:
    """Stool: down into the window's sill and into the apron under it, at the casing's spacing.

    Source: common practice.
    """
    nails = at_each(place.named("nails"), _spaced(place, rules), rules.per_stool_place)
    basis = ("fastening.stool-nails-per-place", "fastening.casing-nail-spacing")
    yield NailGroup("stool to sill and apron", nails, place.thickness, Into.BOARD, basis)


def on_apron(place: Place, rules: CasingRules) -> Iterator[NailGroup]:
    """Apron: through the covering into the rough sill and the framing under it, near both its edges.

    Source: common practice.
    """
    nails = at_each(place.named("nails"), _spaced(place, rules), rules.per_apron_place)
    basis = ("fastening.apron-nails-per-place", "fastening.casing-nail-spacing")
    yield NailGroup("apron to framing", nails, _through_covering(place), Into.FRAMING, basis)


def on_plinth(place: Place, rules: CasingRules) -> Iterator[NailGroup]:
    """Plinth block: as many nails into the jamb as into the trimmer.

    Source: common practice.
    """
    basis = ("fastening.plinth-nails-per-side",)
    nails = rules.per_plinth_side
    yield NailGroup("plinth block to jamb", nails, place.thickness, Into.BOARD, basis, is_own=False)
    yield NailGroup("plinth block to trimmer", nails, _through_covering(place), Into.FRAMING, basis)


def _spaced(place: Place, rules: CasingRules) -> Figure:
    return places_along("places to nail", place.run.length_figure, rules.spacing)


def _through_covering(place: Place) -> Length:
    return place.thickness + place.room.wall_covering
