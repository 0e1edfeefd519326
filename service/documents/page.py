"""Pages: paper, margins, the line at the foot of every page, and bytes that depend on the quote alone."""

from __future__ import annotations

import calendar
import hashlib
import io
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate

from service.documents.fonts import REGULAR, fitted, one_line, width
from service.documents.styles import GREY, RULE, paper_size
from service.documents.tagging import Tags
from service.documents.words import created_on, date_text, document_word, identity

if TYPE_CHECKING:
    from collections.abc import Callable

    from reportlab.platypus import Flowable

    from service.estimate.quote.model import Quote

FOOT_PT = 26.0
FOOT_TYPE_PT = 7.5


@dataclass(frozen=True, slots=True)
class Sheet:
    """A kind of page: paper and margins. [pt]"""

    paper: tuple[float, float]
    left: float
    right: float
    top: float
    bottom: float

    @property
    def width(self) -> float:
        """Width between the margins. [pt]"""
        return self.paper[0] - self.left - self.right

    @property
    def height(self) -> float:
        """Height between the margins, the foot line left out. [pt]"""
        return self.paper[1] - self.top - self.bottom - FOOT_PT


def sheet_of(quote: Quote, margin: float, *, binding: float | None = None) -> Sheet:
    """The firm's paper with one margin all round, wider on the left where holes are punched."""
    return Sheet(paper_size(quote.firm), binding or margin, margin, margin, margin)


class _Stamp:
    """A point in time as the PDF's date, in UTC: the quote's, never the clock's."""

    def __init__(self, quote: Quote) -> None:
        self.lt = quote.created_at.utctimetuple()
        self.t = float(calendar.timegm(self.lt))
        self.YMDhms = tuple(self.lt)[:6]
        self.tzname, self.dhh, self.dmm = "UTC", 0, 0


def pdf_bytes(quote: Quote, title: str, sheet: Sheet, story: list[Flowable]) -> bytes:
    """The story laid out on pages.

    Args:
        quote: whose document it is.
        title: of the document, for its properties.
        sheet: paper and margins.
        story: flowables in order.

    Returns:
        A PDF; the same bytes for the same quote.
    """
    target = io.BytesIO()
    document = BaseDocTemplate(
        target,
        pagesize=sheet.paper,
        title=one_line(f"{title} – {quote.job.job_name}"),
        author=one_line(quote.firm.name),
        subject=one_line(f"{identity(quote)} for {quote.job.customer}"),
        creator="Trim quote service",
        lang="en-US",
        invariant=1,
        initialFontName=REGULAR,
        allowSplitting=1,
    )
    frame = Frame(
        sheet.left, sheet.bottom + FOOT_PT, sheet.width, sheet.height,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0, id="page",
    )  # fmt: skip
    document.addPageTemplates(PageTemplate("page", [frame]))
    document.build(story, canvasmaker=_canvas_maker(quote, title, sheet))
    return target.getvalue()


def _canvas_maker(quote: Quote, title: str, sheet: Sheet) -> Callable[..., Canvas]:
    def made(*args: Any, **kwargs: Any) -> Canvas:  # noqa: ANN401 - the toolkit's own open signature
        return _CountedCanvas(quote, title, sheet, *args, **kwargs)

    return made


class _CountedCanvas(Canvas):
    """A canvas that writes the foot of every page when it knows how many there are."""

    def __init__(self, quote: Quote, title: str, sheet: Sheet, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401 - the toolkit's untyped objects
        super().__init__(*args, **kwargs)
        document = self.__dict__["_doc"]
        document._timeStamp = _Stamp(quote)  # noqa: SLF001 - dated by its content, whatever the clock or the environment
        document.signature = hashlib.md5(f"{quote.id} {quote.revision}".encode(), usedforsecurity=False)
        self._quote, self._title, self._sheet = quote, title, sheet
        self._pages: list[dict[str, Any]] = []
        self._drawn: list[Any] = []
        self.tags = Tags()
        document.addPage = self._kept(document.addPage)
        self.setViewerPreference("DisplayDocTitle", "true")

    @property
    def code(self) -> list[str]:
        """Operators of the page being drawn."""
        return self.__dict__["_code"]  # type: ignore[no-any-return] # untold by the stubs

    def _kept(self, add_page: Callable[[Any], None]) -> Callable[[Any], None]:
        def kept(page: Any) -> None:  # noqa: ANN401 - the toolkit's untyped objects
            self._drawn.append(page)
            add_page(page)

        return kept

    def showPage(self) -> None:  # noqa: N802 - the toolkit's name
        self._pages.append(dict(self.__dict__))
        self.tags.next_page()
        self._startPage()  # type: ignore[attr-defined] # untold by the stubs

    def save(self) -> None:
        for number, page in enumerate(self._pages, start=1):
            self.__dict__.update(page)
            self._foot(number, len(self._pages))
            super().showPage()
        self.tags.write(self.__dict__["_doc"], self._drawn)
        super().save()

    def _foot(self, number: int, count: int) -> None:
        sheet = self._sheet
        right, y = sheet.paper[0] - sheet.right, sheet.bottom
        pages = f"Page {number} of {count}"
        words = foot_text(self._quote, self._title)
        self.tags.artifact(self.code)
        self.setStrokeColor(RULE)
        self.setLineWidth(0.5)
        self.line(sheet.left, y + 11, right, y + 11)
        self.setFont(REGULAR, FOOT_TYPE_PT)
        self.setFillColor(GREY)
        self.drawString(sheet.left, y, fitted(words, FOOT_TYPE_PT, sheet.width - width(pages, FOOT_TYPE_PT) - 14))
        self.drawRightString(right, y, pages)
        self.tags.end_artifact(self.code)


def foot_text(quote: Quote, title: str) -> str:
    """What stands at the foot of every page: which paper this is, of which quote, for whom, of which day."""
    head = identity(quote) if title == document_word(quote) else f"{title} · {identity(quote)}"
    return one_line(f"{head} · {date_text(created_on(quote))} · {quote.job.customer}")
