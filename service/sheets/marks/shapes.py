"""The drawing behind a tab's notes: each note needs its box, in the old drawing markup that the format kept for it.

The markup need not be sound XML, so it is searched as text; boxes added here declare their own namespaces, because
other writers use other prefixes.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.sheets.marks.splicing import UnpatchableError

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping

_SPACES = (
    'xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office" '
    'xmlns:x="urn:schemas-microsoft-com:office:excel"'
)
_KIND = "_x0000_t202"
NO_SHAPES = (
    f'<xml {_SPACES}><o:shapelayout v:ext="edit"><o:idmap v:ext="edit" data="{{number}}"/></o:shapelayout></xml>'
)
_BOX_KIND = (
    f'<v:shapetype {_SPACES} id="{_KIND}" coordsize="21600,21600" o:spt="202" path="m,l,21600r21600,l21600,xe">'
    '<v:stroke joinstyle="miter"/><v:path gradientshapeok="t" o:connecttype="rect"/></v:shapetype>'
)
_BOX = (
    '<v:shape {spaces} id="_x0000_s{number}" type="#{kind}" style=\'position:absolute;margin-left:60pt;margin-top:2pt;'
    'width:{width}pt;height:{height}pt;z-index:1;visibility:hidden\' fillcolor="#ffffe1" o:insetmode="auto">'
    '<v:fill color2="#ffffe1"/><v:shadow on="t" color="black" obscured="t"/><v:path o:connecttype="none"/>'
    "<v:textbox style='mso-direction-alt:auto'><div style='text-align:left'></div></v:textbox>"
    '<x:ClientData ObjectType="Note"><x:MoveWithCells/><x:SizeWithCells/><x:Anchor>{anchor}</x:Anchor>'
    "<x:AutoFill>False</x:AutoFill><x:Row>{row}</x:Row><x:Column>{column}</x:Column></x:ClientData></v:shape>"
)
_SHAPE = re.compile(r"<([A-Za-z]\w*:)?shape[\s>]")
_NUMBER = re.compile(r"_x0000_s([0-9]{1,9})")
_ANCHOR = re.compile(r"(Anchor>)([^<]*)(<)")
_POINTS = 0.75  # points in a pixel at 96 to the inch


@dataclass(frozen=True, slots=True)
class Box:
    """Where a note's box lies: left, top, right, bottom, each a column or row from 0 and pixels into it."""

    edges: tuple[int, int, int, int, int, int, int, int]
    width: int
    height: int

    @property
    def anchor(self) -> str:
        """As the drawing writes it."""
        return ", ".join(map(str, self.edges))


@dataclass(frozen=True, slots=True)
class _Shape:
    """A note's shape: where its markup stands, and the cell, row and column from 0."""

    start: int
    end: int
    cell: tuple[int, int]


def with_shapes(drawing: bytes, gone: Collection[tuple[int, int]], boxes: Mapping[tuple[int, int], Box]) -> bytes:
    """The drawing with a box for each note, large enough; boxes of notes that are gone are taken out.

    Args:
        drawing: the drawing's markup.
        gone: cells, row and column from 0, whose box goes.
        boxes: by cell, the box it needs; a box that is there is enlarged, never made smaller.

    Raises:
        UnpatchableError: when it is not written as drawings are.
    """
    text = _decoded(drawing)
    pieces, place, missing = [], 0, dict(boxes)
    for shape in _shapes(text):
        pieces.append(text[place : shape.start])
        place = shape.end
        if shape.cell in gone:
            continue
        box = missing.pop(shape.cell, None)
        markup = text[shape.start : shape.end]
        pieces.append(_enlarged(markup, box) if box else markup)
    whole = "".join((*pieces, text[place:]))
    end = whole.rfind("</xml>")
    if end < 0:
        raise UnpatchableError("no end of the drawing")
    added = _added(whole, missing)
    return (whole[:end] + added + whole[end:]).encode("utf-8", "surrogateescape")


def _decoded(drawing: bytes) -> str:
    if drawing.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise UnpatchableError("a drawing in UTF-16")
    return drawing.decode("utf-8", "surrogateescape")


def _shapes(text: str) -> Iterator[_Shape]:
    place = 0
    while match := _SHAPE.search(text, place):
        closing = f"</{match[1] or ''}shape>"
        end = text.find(closing, match.end())
        if end < 0:
            return
        place = end + len(closing)
        markup = text[match.start() : place]
        row, column = (re.search(rf"{word}>\s*([0-9]{{1,7}})\s*<", markup) for word in ("Row", "Column"))
        if row and column and "Note" in markup:
            yield _Shape(match.start(), place, (int(row[1]), int(column[1])))


def _added(whole: str, boxes: Mapping[tuple[int, int], Box]) -> str:
    first = max((int(number) for number in _NUMBER.findall(whole)), default=_first_number(whole)) + 1
    has_kind = not boxes or re.search(rf"""shapetype [^>]{{0,500}}id=["']{_KIND}["']""", whole)
    return ("" if has_kind else _BOX_KIND) + "".join(
        _BOX.format(
            spaces=_SPACES, number=number, kind=_KIND, width=box.width * _POINTS, height=box.height * _POINTS,
            anchor=box.anchor, row=row, column=column,
        )
        for number, ((row, column), box) in enumerate(boxes.items(), start=first)
    )  # fmt: skip


def _first_number(whole: str) -> int:
    """Shapes of a drawing number from 1,024 times the number that its map of identities gives it."""
    match = re.search(r"""idmap[^>]{0,500}\sdata=["']([0-9]{1,5})""", whole)
    return 1024 * int(match[1] if match else 1)


def _enlarged(markup: str, box: Box) -> str:
    """The user's box, its right and lower edge moved out as far as the text needs."""
    match = _ANCHOR.search(markup)
    numbers = re.findall(r"-?[0-9]{1,9}", match[2]) if match else []
    if match is None or len(numbers) != len(box.edges):
        return markup
    left, left_in, top, top_in, right, right_in, bottom, bottom_in = map(int, numbers)
    right, right_in = max((right, right_in), box.edges[4:6])
    bottom, bottom_in = max((bottom, bottom_in), box.edges[6:8])
    anchor = ", ".join(map(str, (left, left_in, top, top_in, right, right_in, bottom, bottom_in)))
    return markup[: match.start(2)] + anchor + markup[match.end(2) :]
