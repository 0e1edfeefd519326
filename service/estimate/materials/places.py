"""Where each layer is nailed: one function a position, each answering groups of nails."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from service.estimate.figures import Figure, counted
from service.estimate.materials.around import on_apron, on_casing, on_plinth, on_stool
from service.estimate.materials.counts import (
    at_each,
    cross_nails,
    is_plate_behind,
    nails_across,
    outside_corners,
    places_along,
    returned,
    stretch_lengths,
    unbacked_stretches,
)
from service.estimate.materials.nails import Into, NailGroup
from service.firm import Position
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from service.estimate.materials.rules import CasingRules, NailRules
    from service.estimate.takeoff.model import Run
    from service.survey import Room

NO_SPLICES, NO_BLOCKS = counted("scarfs", ()), counted("blocks", ())


@dataclass(frozen=True, slots=True)
class Place:
    """One run with what its nails meet: its room, its splices, its blocks and their legs (wall, ceiling).

    `title`: the run in words, put together once.
    """

    run: Run
    room: Room
    title: str
    splices: Figure = NO_SPLICES
    blocks: Figure = NO_BLOCKS
    block_legs: tuple[Length, Length] = (ZERO, ZERO)

    def named(self, what: str) -> str:
        """What is counted, on which run."""
        return f"{what}, {self.title}"

    @property
    def thickness(self) -> Length:
        """Thickness of the layer itself. [Length]"""
        return self.run.profile.thickness


def nail_groups(place: Place, rules: NailRules) -> tuple[NailGroup, ...]:
    """All nails of one run; behind steel studs or masonry only those that end in a board or a wooden jamb.

    Source: design of the trade book `fastening.*`; positions as in one function each below.
    """
    if place.run.is_along_wall:
        groups = [*_ALONG_WALL.get(place.run.position, _on_wall)(place, rules), *_joints(place, rules)]
    else:
        groups = [*_AROUND_OPENING[place.run.position](place, rules.casing)]
    wood = place.run.backing.is_wood
    return tuple(group for group in groups if group.count and (wood or group.into is Into.BOARD))


def _on_ceiling(place: Place, rules: NailRules) -> Iterator[NailGroup]:
    """Ceiling layer: 2 or 3 at each joist; along a joist edge at the nail spacing, driven at an angle into it."""
    run, passes = place.run, place.thickness + place.room.ceiling_covering
    if run.backing.is_continuous:
        yield replace(_along(place, rules, "joist edge", passes, Into.FRAMING), is_angled=True)
    else:
        joists = counted("joists over it", run.backing.at, run.backing.layout)
        nails = at_each(place.named("nails at joists"), joists, nails_across(run.profile.width, rules))
        entry = "nails-per-wide-joint" if run.profile.width > rules.wide_above else "nails-per-joint"
        yield NailGroup("joists", nails, passes, Into.FRAMING, (f"fastening.{entry}", "fastening.wide-above"))
    yield from _cross(place, rules, passes)


def _on_wall(place: Place, rules: NailRules) -> Iterator[NailGroup]:
    """Wall layer: 2 at each stud, and the top plate at the nail spacing where the layer covers it."""
    passes = place.thickness + place.room.wall_covering
    yield _at_studs(place, rules.per_stud, passes, "fastening.nails-per-stud")
    if place.run.backing.on_plate:
        yield _along(place, rules, "plate", passes, Into.FRAMING)
    yield from _cross(place, rules, passes)


def _on_base(place: Place, rules: NailRules) -> Iterator[NailGroup]:
    """Base: two finish nails at each stud; the bottom plate takes them where the studs are not known.

    Source: NAVEDTRA 14044 chapter 6.
    """
    passes, backing = place.thickness + place.room.wall_covering, place.run.backing
    if backing.on_plate and not backing.is_known:
        yield _along(place, rules, "bottom plate", passes, Into.FRAMING)
    else:
        yield _at_studs(place, rules.per_stud, passes, "fastening.nails-per-stud")
    yield from _cross(place, rules, passes)


def _on_base_top(place: Place, rules: NailRules) -> Iterator[NailGroup]:
    """Base cap: one at each stud."""
    passes = place.thickness + place.room.wall_covering
    yield _at_studs(place, rules.per_cap_stud, passes, "fastening.cap-nails-per-stud")
    yield from _cross(place, rules, passes)


def _before_base(place: Place, rules: NailRules) -> Iterator[NailGroup]:
    """Shoe: into floor or base, through nothing but itself, at the nail spacing."""
    yield _along(place, rules, "floor or base", place.thickness, Into.BOARD)


def _sprung(place: Place, rules: NailRules) -> Iterator[NailGroup]:
    """Crown: blocks to studs, crown to blocks, both edges to boards or to framing."""
    if place.blocks.value:
        yield from _blocks(place, rules)
    yield _bottom_edge(place, rules)
    yield _top_edge(place, rules)
    yield from _cross(place, rules, place.thickness + place.room.ceiling_covering)


def _blocks(place: Place, rules: NailRules) -> Iterator[NailGroup]:
    layer = place.run.over_wall_layer
    behind = (layer.thickness if layer else ZERO) + place.room.wall_covering
    passes = place.block_legs[1] * rules.block_nail_share + behind
    basis = ("fastening.nails-per-block", "fastening.block-nail-share", "fastening.block-clearance")
    nails = at_each(place.named("nails through blocks"), place.blocks, rules.per_block)
    yield NailGroup("block to stud", nails, passes, Into.FRAMING, basis, is_hidden=True, is_own=False)
    nails = at_each(place.named("nails into blocks"), place.blocks, rules.crown_per_block)
    yield NailGroup("crown to block", nails, place.thickness, Into.BOARD, ("fastening.crown-nails-per-block",))


def _bottom_edge(place: Place, rules: NailRules) -> NailGroup:
    """Bottom edge of a crown: to the wall layer; without one and without blocks to the plate or the studs."""
    if place.run.over_wall_layer:
        return _along(place, rules, "bottom edge to wall layer", place.thickness, Into.BOARD)
    passes = place.thickness + place.room.wall_covering
    if not place.blocks.value and _is_on_plate(place, rules):
        return _along(place, rules, "bottom edge to plate", passes, Into.FRAMING)
    studs = counted("studs behind it", () if place.blocks.value else place.run.wall_studs, place.run.stud_layout)
    nails = at_each(place.named("nails in the bottom edge"), studs, rules.per_edge_backing)
    basis = ("fastening.edge-nails-per-backing",)
    return NailGroup("bottom edge to studs", nails, passes, Into.FRAMING, basis)


def _top_edge(place: Place, rules: NailRules) -> NailGroup:
    """Top edge of a crown: to the ceiling layer, else to each joist that crosses it or along a joist's edge."""
    if place.run.under_ceiling_layer:
        return _along(place, rules, "top edge to ceiling layer", place.thickness, Into.BOARD)
    passes, top = place.thickness + place.room.ceiling_covering, place.run.top_edge
    if top and top.is_continuous:
        return _along(place, rules, "top edge to joist", passes, Into.FRAMING)
    joists = counted("joists over its top edge", top.at, top.layout) if top else counted("joists known", ())
    nails = at_each(place.named("nails in the top edge"), joists, rules.per_edge_backing)
    return NailGroup("top edge to joists", nails, passes, Into.FRAMING, ("fastening.edge-nails-per-backing",))


def _is_on_plate(place: Place, rules: NailRules) -> bool:
    room = place.room
    return is_plate_behind(place.run, room.ceiling_covering, room.ceiling_height, rules.top_plate_depth)


def _joints(place: Place, rules: NailRules) -> Iterator[NailGroup]:
    """Two more at each scarf, each mitered outside corner and each return, through one piece into the other."""
    if place.splices.value:
        nails = at_each(place.named("nails at scarfs"), place.splices, rules.per_splice)
        yield NailGroup("scarfs", nails, place.thickness, Into.BOARD, ("fastening.nails-per-splice",))
    corners = outside_corners(place.run)
    if corners.value:
        nails = at_each(place.named("nails at outside corners"), corners, rules.per_outside_corner)
        basis = ("fastening.nails-per-outside-corner",)
        yield NailGroup("outside corners", nails, place.thickness, Into.BOARD, basis)
    ends = returned(place.run)
    if ends.value:
        nails = at_each(place.named("nails at returns"), ends, rules.per_return)
        basis = ("fastening.nails-per-return",)
        yield NailGroup("returns", nails, place.thickness, Into.BOARD, basis, is_own=False)


def _at_studs(place: Place, each: Figure, passes: Length, entry: str) -> NailGroup:
    backing = place.run.backing
    studs = counted("studs behind it", backing.at, backing.layout)
    return NailGroup("studs", at_each(place.named("nails at studs"), studs, each), passes, Into.FRAMING, (entry,))


def _along(place: Place, rules: NailRules, use: str, passes: Length, into: Into) -> NailGroup:
    nails = places_along(place.named(f"nails, {use}"), place.run.length_figure, rules.spacing)
    return NailGroup(use, nails, passes, into, ("fastening.nail-spacing",))


def _cross(place: Place, rules: NailRules, passes: Length) -> Iterator[NailGroup]:
    """Pairs at opposing angles on each stretch that adhesive must hold."""
    stretches = unbacked_stretches(place.run, rules.unbacked_limit)
    if stretches:
        what = place.named("crossed nails on stretches without backing")
        nails = cross_nails(what, stretch_lengths(place.run, stretches), rules)
        basis = ("fastening.unbacked-limit", "fastening.cross-nail-spacing", "fastening.nails-per-cross")
        yield NailGroup("unbacked stretches", nails, passes, Into.GYPSUM, basis, is_angled=True)


_AROUND_OPENING: dict[Position, Callable[[Place, CasingRules], Iterator[NailGroup]]] = {
    Position.CASING: on_casing,
    Position.STOOL: on_stool,
    Position.APRON: on_apron,
    Position.PLINTH: on_plinth,
}
_ALONG_WALL: dict[Position, Callable[[Place, NailRules], Iterator[NailGroup]]] = {
    Position.CEILING: _on_ceiling,
    Position.WALL: _on_wall,
    Position.RAIL: _on_wall,
    Position.BASE: _on_base,
    Position.CAP: _on_base_top,
    Position.SHOE: _before_base,
    Position.CROWN: _sprung,
}
