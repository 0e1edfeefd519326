"""The order in which a document is read: headings, paragraphs, tables and figures told apart from decoration.

Built by the rules of tagged PDF (ISO 32000-1, 14.7 and 14.8) while pages are drawn: every piece of content is
marked with a number, and a tree of elements says what the numbers are. Rules, tints and page furniture are
artifacts, which a reader aloud leaves out.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from reportlab.graphics import renderPDF
from reportlab.pdfbase import pdfdoc
from reportlab.platypus import Flowable, Paragraph

if TYPE_CHECKING:
    from collections.abc import Callable

    from reportlab.graphics.shapes import Drawing

HEADING_TAGS = {
    "title": "H1",
    "section": "H2",
    "subsection": "H3",
    "field title": "H1",
    "field section": "H2",
}
CELLS = frozenset({"TD", "TH"})


@dataclass(eq=False, slots=True)
class Element:
    """An element of the tree: its type, its parts (elements, or page and number of marked content), what it adds."""

    tag: str
    parts: list[Element | tuple[int, int]] = field(default_factory=list)
    alt: str = ""
    heads_column: bool = False


class Tags:
    """The tree being built. `page` is the page being drawn, from 0; content inside an artifact is not told."""

    def __init__(self) -> None:
        """Start with an empty document."""
        self.root = Element("Document")
        self.page = 0
        self.marked: list[list[Element]] = [[]]
        self._open = [self.root]
        self._artifacts = 0

    def next_page(self) -> None:
        """Numbers of marked content start again on every page."""
        self.page += 1
        self.marked.append([])

    def open(self, tag: str, *, heads_column: bool = False) -> None:
        """An element begins; what is drawn until it closes is its part."""
        element = Element(tag, heads_column=heads_column)
        self._open[-1].parts.append(element)
        self._open.append(element)

    def close(self) -> None:
        """The innermost element ends."""
        self._open.pop()

    def content(self, code: list[str], tag: str, draw: Callable[[], None], alt: str = "") -> None:
        """Draw something and mark it: as its own element, or as the content of the cell it stands in."""
        if self._artifacts:
            draw()
            return
        top = self._open[-1]
        element = top if top.tag in CELLS else Element(tag, alt=alt)
        if element is not top:
            top.parts.append(element)
        here = self.marked[self.page]
        element.parts.append((self.page, len(here)))
        code.append(f"/{element.tag} <</MCID {len(here)}>> BDC")
        here.append(element)
        draw()
        code.append("EMC")

    def artifact(self, code: list[str]) -> None:
        """Decoration begins."""
        if not self._artifacts:
            code.append("/Artifact BMC")
        self._artifacts += 1

    def end_artifact(self, code: list[str]) -> None:
        """Decoration ends."""
        self._artifacts -= 1
        if not self._artifacts:
            code.append("EMC")

    def write(self, document: Any, pages: list[Any]) -> None:  # noqa: ANN401 - the toolkit's document and pages
        """Put the tree into the document: elements, and for each page the list from numbers to elements."""
        root = pdfdoc.PDFDictionary({"Type": pdfdoc.PDFName("StructTreeRoot")})
        references: dict[int, Any] = {}
        root["K"] = _written(self.root, document.Reference(root), document, pages, references)
        numbers: list[Any] = []
        for index, page in enumerate(pages):
            page.__NoDefault__ = [*page.__NoDefault__, "StructParents", "Tabs"]
            page.StructParents, page.Tabs = index, pdfdoc.PDFName("S")
            numbers += [index, pdfdoc.PDFArray([references[id(element)] for element in self.marked[index]])]
        root["ParentTree"] = pdfdoc.PDFDictionary({"Nums": pdfdoc.PDFArray(numbers)})
        root["ParentTreeNextKey"] = len(pages)
        document.Catalog.StructTreeRoot = root
        document.Catalog.MarkInfo = pdfdoc.PDFDictionary({"Marked": "true"})


def _written(element: Element, parent: Any, document: Any, pages: list[Any], references: dict[int, Any]) -> Any:  # noqa: ANN401 - the toolkit's untyped objects
    entry = pdfdoc.PDFDictionary({"S": pdfdoc.PDFName(element.tag), "P": parent})
    reference = references[id(element)] = document.Reference(entry)
    kids: list[Any] = []
    for part in element.parts:
        if isinstance(part, Element):
            kids.append(_written(part, reference, document, pages, references))
        else:
            page, number = part
            kids.append(_content(document.Reference(pages[page]), number))
    if kids:
        entry["K"] = pdfdoc.PDFArray(kids)
    if element.alt:
        entry["Alt"] = pdfdoc.PDFString(element.alt)
    if element.heads_column:
        entry["A"] = pdfdoc.PDFDictionary({"O": pdfdoc.PDFName("Table"), "Scope": pdfdoc.PDFName("Column")})
    return reference


def _content(page: Any, number: int) -> Any:  # noqa: ANN401 - the toolkit's untyped objects
    return pdfdoc.PDFDictionary({"Type": pdfdoc.PDFName("MCR"), "Pg": page, "MCID": number})


class Said(Paragraph):
    """A paragraph that says what it is: a heading by its style, else plain text."""

    def draw(self) -> None:
        """Draw it, marked."""
        tags, code = _ink(self)
        tags.content(code, HEADING_TAGS.get(self.style.name, "P"), super().draw)


class Picture(Flowable):
    """A drawing with words in its place for who cannot see it; decoration when it has none."""

    def __init__(self, drawing: Drawing, alt: str = "") -> None:
        """Keep the drawing at its own size."""
        super().__init__()
        self.drawing, self.alt = drawing, alt
        self.width, self.height = drawing.width, drawing.height

    def draw(self) -> None:
        """Draw it, marked."""
        tags, code = _ink(self)
        if self.alt:
            tags.content(code, "Figure", self._draw, alt=self.alt)
            return
        tags.artifact(code)
        self._draw()
        tags.end_artifact(code)

    def _draw(self) -> None:
        renderPDF.draw(self.drawing, self.canv, 0, 0)


def _ink(flowable: Any) -> tuple[Tags, list[str]]:  # noqa: ANN401 - its canvas is ours, which the stubs cannot know
    return flowable.canv.tags, flowable.canv.code


def data_table(table: Any, event: Any, *details: Any) -> None:  # noqa: ANN401 - the toolkit's callback
    """Told by a table as it draws itself: rows and cells are elements, tints and rules are artifacts."""
    tags = table.canv.tags
    if event == "startTable":
        tags.open("Table")
    elif event == "startRow":
        tags.open("TR")
    elif event == "startCell":
        row = details[0]
        tags.open("TH" if row < table.repeatRows else "TD", heads_column=row < table.repeatRows)
    elif event in {"endTable", "endRow", "endCell"}:
        tags.close()
    else:
        layout_table(table, event)


def layout_table(table: Any, event: Any, *_details: Any) -> None:  # noqa: ANN401 - the toolkit's callback
    """A table that only sets things side by side: its tints and rules are artifacts, its cells are read as they come."""
    canvas = table.canv
    if event in {"startBG", "startLines"}:
        canvas.tags.artifact(canvas.code)
    elif event in {"endBG", "endLines"}:
        canvas.tags.end_artifact(canvas.code)
