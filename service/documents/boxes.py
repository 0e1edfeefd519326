"""Boxes to tick by hand, drawn so that no typeface has to hold them."""

from __future__ import annotations

from reportlab.graphics.shapes import Drawing, Rect
from reportlab.lib.colors import black, white

from service.documents.tagging import Picture

BOX_PT = 11.0


def tick_box(size_pt: float = BOX_PT) -> Picture:
    """An empty box to tick by hand."""
    drawing = Drawing(size_pt + 1, size_pt + 1)
    box = Rect(0.5, 0.5, size_pt, size_pt)
    box.fillColor, box.strokeColor, box.strokeWidth = white, black, 0.9
    drawing.add(box)
    return Picture(drawing)
