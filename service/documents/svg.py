"""A room's plan as SVG: the same drawing as in the documents."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

from reportlab.graphics import renderSVG

from service.documents.fonts import BOLD, FAMILY, printable, width
from service.documents.plan_look import FIELD
from service.documents.plans import plans_by_level, stacked
from service.documents.words import identity, length_text

if TYPE_CHECKING:
    from service.estimate.quote.model import Quote, RoomCard

SVG = "http://www.w3.org/2000/svg"
WIDTH_PT = 720.0
MOST_HEIGHT_PT = 640.0
FALLBACK = f"'{FAMILY}', 'Source Sans 3', 'DejaVu Sans', Arial, sans-serif"
_NUMBER = re.compile(r"-?\d+\.\d{4,}")


def plan_svg(quote: Quote, room_number: int) -> str:
    """The field plan of a room as one SVG element, fit to stand inside a page or to be a file of its own.

    Text stays text, in a list of typefaces of which one is there anywhere; style is told by presentation
    attributes alone, so a page with a strict content security policy may hold it; no ids, no document type.

    Args:
        quote: the quote.
        room_number: `rooms[].number`.

    Raises:
        KeyError: when the quote has no such room.
    """
    room = {room.number: room for room in quote.rooms}[room_number]
    pieces = {piece.mark: piece for piece in quote.pieces}
    plans = plans_by_level(
        room,
        pieces,
        quote.units,
        FIELD,
        width_pt=WIDTH_PT,
        most_height_pt=MOST_HEIGHT_PT,
        tallest_pt=MOST_HEIGHT_PT,
    )
    ET.register_namespace("", SVG)
    root = ET.fromstring(renderSVG.drawToString(stacked(plans)))  # noqa: S314 - our own drawing, just made
    _told(root, quote, room)
    for element in root.iter():
        _plain(element)
    return ET.tostring(root, encoding="unicode")


def _told(root: ET.Element, quote: Quote, room: RoomCard) -> None:
    """Title and description, role, and no fixed size, so that the picture fills what holds it."""
    for clip in root.findall(f"{{{SVG}}}clipPath"):
        root.remove(clip)
    title, description = root.find(f"{{{SVG}}}title"), root.find(f"{{{SVG}}}desc")
    walls = ", ".join(f"{wall.name} {length_text(wall.length, quote.units)}" for wall in room.walls)
    if title is not None and description is not None:
        title.text = printable(f"Plan of {room.name}").replace("\n", " ")
        description.text = printable(f"{identity(quote)}. Walls: {walls}.").replace("\n", " ")
    root.set("role", "img")


def _plain(element: ET.Element) -> None:
    """One element with its style as presentation attributes and short figures."""
    element.attrib.pop("id", None)
    style = element.attrib.pop("style", "")
    if element.tag == f"{{{SVG}}}text":
        _kept_width(element, style)
    for name, _, value in (item.strip().partition(":") for item in style.split(";") if item.strip()):
        if name not in {"clip-path", "font-family"}:
            element.set(name, value.strip())
        elif name == "font-family":
            element.set(name, FALLBACK)
            if value.strip() == BOLD:
                element.set("font-weight", "700")
    for name, value in element.attrib.items():
        if name not in {"viewBox", "font-family"}:
            element.set(name, _NUMBER.sub(lambda match: f"{float(match[0]):.2f}", value))


def _kept_width(element: ET.Element, style: str) -> None:
    """A text keeps the width it was placed with, whatever typeface the reader has."""
    size = float(style.partition("font-size:")[2].partition("px")[0])
    measured = width(element.text or "", size, bold=BOLD in style)
    element.set("textLength", f"{measured:.2f}")
    element.set("lengthAdjust", "spacingAndGlyphs")
