"""What of an opening and its trim other layers have to know: its foot, its stool, how far the trim reaches below."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.firm import Position
from service.survey import OpeningKind, WindowStyle
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.firm import Assembly, Layer, PriceList, Profile
    from service.survey import Opening
    from service.units import Length

Layers = dict[Position, tuple["Layer", "Profile"]]


def layers_around(assembly: Assembly, price_list: PriceList) -> Layers:
    """Layers of an assembly with their profiles, by position."""
    return {layer.position: (layer, price_list.profiles[layer.profile]) for layer in assembly.layers}


def foot_of(opening: Opening) -> Length:
    """Lower end of an opening above the floor: a window's sill, or the top of its stool; else the floor."""
    return opening.sill_height or ZERO if opening.kind is OpeningKind.WINDOW else ZERO


def stands_on_stool(opening: Opening, layers: Mapping[Position, object]) -> bool:
    """True for a window on a stool and apron: ordered so, or left open where the assembly has a stool."""
    if opening.kind is not OpeningKind.WINDOW:
        return False
    if opening.style is None:
        return Position.STOOL in layers
    return opening.style is WindowStyle.STOOL_AND_APRON


def depth_below(opening: Opening, layers: Mapping[Position, tuple[Layer, Profile]], reveal: Length) -> Length:
    """How far the trim of a window reaches below its sill: a stool and apron, or the frame's reveal and casing."""
    if stands_on_stool(opening, layers):
        stool, apron = layers.get(Position.STOOL), layers.get(Position.APRON)
        return (stool[1].thickness if stool else ZERO) + (apron[1].width if apron else ZERO)
    casing = layers.get(Position.CASING)
    return reveal + casing[1].width if casing else ZERO
