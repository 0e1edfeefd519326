"""Formats added to the workbook's own: ours go behind those there are, whose numbers stay."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.problems import Severity
from service.sheets.marks.splicing import Edit, appended, outlined, spliced, utf8, with_attribute
from service.sheets.marks.xml_text import named

if TYPE_CHECKING:
    from service.sheets.marks.package import Package

_USUAL_NAME = "xl/styles.xml"  # some readers look for it by name
STYLES_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_LEAST = (
    f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<styleSheet xmlns="{_MAIN}">'
    '<fonts count="1"><font><sz val="11"/><name val="Calibri"/></font></fonts>'
    '<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>'
    '<borders count="1"><border/></borders>'
    '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>'
    '<cellXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/></cellXfs>'
    '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>'
).encode()

# Order of the style sheet's children (ECMA-376 Part 1, 18.8.39 CT_Stylesheet), and what a new one starts with.
_ORDER = (
    "numFmts", "fonts", "fills", "borders", "cellStyleXfs", "cellXfs", "cellStyles", "dxfs", "tableStyles", "colors",
    "extLst",
)  # fmt: skip
_FIRST = {
    "fonts": ("<~font/>",),
    "fills": (
        '<~fill><~patternFill patternType="none"/></~fill>',
        '<~fill><~patternFill patternType="gray125"/></~fill>',
    ),
    "borders": ("<~border/>",),
    "cellXfs": ('<~xf numFmtId="0" fontId="0" fillId="0" borderId="0"/>',),
    "dxfs": (),
}


class Styles:
    """The style sheet; a format that is there already is used again, so that marking twice adds nothing."""

    def __init__(self, content: bytes) -> None:
        self._old = utf8(content) if content else _LEAST
        self._root = outlined(self._old)
        self._known: dict[str, dict[bytes, int]] = {}
        self._new: dict[str, list[bytes]] = {}

    def number_of(self, container: str, xml: str) -> int:
        """Number of a format in its container, put there if need be."""
        element = self._bytes(xml)
        known = self._known.setdefault(container, {}) or self._known_in(container)
        if element not in known:
            known[element] = self._count(container) + len(self._new.setdefault(container, []))
            self._new[container].append(element)
        return known[element]

    @property
    def part(self) -> bytes:
        """The style sheet with what was put into it."""
        return spliced(self._old, (edit for container in self._new for edit in self._edits(container)))

    def _bytes(self, xml: str) -> bytes:
        return named(xml, self._root.prefix).encode()

    def _known_in(self, container: str) -> dict[bytes, int]:
        there = self._root.child(container)
        children = there.children if there else ()
        known = self._known[container]
        for number, child in enumerate(children):
            known.setdefault(self._old[child.start : child.end], number)
        return known

    def _count(self, container: str) -> int:
        there = self._root.child(container)
        return len(there.children) if there else len(_FIRST[container])

    def _edits(self, container: str) -> list[Edit]:
        there, fresh = self._root.child(container), b"".join(self._new[container])
        count = self._count(container) + len(self._new[container])
        if there is None:
            first = self._bytes("".join(_FIRST[container]))
            whole = self._bytes(f'<~{container} count="{count}">') + first + fresh + self._bytes(f"</~{container}>")
            return [self._placed(container, whole)]
        counted = with_attribute(self._old, there, "count", count)
        if not there.is_empty:
            return [counted, appended(self._old, there, fresh)]
        tag = counted.content.removesuffix(b"/>").rstrip() + b">"
        return [Edit(there.start, there.end, tag + fresh + f"</{there.name}>".encode())]

    def _placed(self, container: str, whole: bytes) -> Edit:
        """A container that the style sheet lacks, put before those that must follow it."""
        followers = {self._root.prefix + name for name in _ORDER[_ORDER.index(container) + 1 :]}
        place = next((child.start for child in self._root.children if child.name in followers), None)
        return appended(self._old, self._root, whole) if place is None else Edit(place, place, whole)


def styles_of(package: Package, book_part: str) -> tuple[str, Styles]:
    """Name of the workbook's style sheet, made when it has none, and the style sheet."""
    link = package.link(book_part, "styles")
    if link and link.target in package:
        return link.target, Styles(package[link.target])
    name = _USUAL_NAME if _USUAL_NAME not in package else package.free("xl/stylesCheck{}.xml")
    package[name] = b""
    package.typed(name, STYLES_TYPE)
    package.linked(book_part, "styles", name)
    return name, Styles(b"")


@dataclass(frozen=True, slots=True)
class Tone:
    """Color of a severity: background and text as RGB; text on background reads at 4.5:1 or more (WCAG 2.2, 1.4.3)."""

    back: str
    ink: str


TONES = {
    Severity.ERROR: Tone("FFC9C4", "7A0C0C"),
    Severity.WARNING: Tone("FFEBB0", "5C3D00"),
    Severity.NOTE: Tone("DCE9F7", "1F3A5C"),
}


def cell_color(styles: Styles, severity: Severity) -> int:
    """Number of the differential format that a faulty cell gets; an error is framed too, for print without colors."""
    tone = TONES[severity]
    side = f'<~{{}} style="thin"><~color rgb="FF{tone.ink}"/></~{{}}>'
    frame = "".join(side.format(name, name) for name in ("left", "right", "top", "bottom"))
    border = f"<~border>{frame}</~border>" if severity is Severity.ERROR else ""
    return styles.number_of(
        "dxfs",
        f'<~dxf><~font><~color rgb="FF{tone.ink}"/></~font>'
        f'<~fill><~patternFill patternType="solid"><~fgColor rgb="FF{tone.back}"/><~bgColor rgb="FF{tone.back}"/>'
        f"</~patternFill></~fill>{border}</~dxf>",
    )


@dataclass(frozen=True, slots=True)
class Looks:
    """Numbers of the cell formats of our tab."""

    title: int
    plain: int
    heading: int
    text: int
    link: int
    severity: dict[Severity, int]


_FONT = '<~sz val="11"/><~color rgb="FF{ink}"/><~name val="Calibri"/><~family val="2"/>'
_RULE = (
    '<~border><~left/><~right/><~top/><~bottom style="thin"><~color rgb="FFCBD2D9"/></~bottom><~diagonal/></~border>'
)


def looks_of(styles: Styles) -> Looks:
    """The formats of our tab."""
    plain, bold, link, title = (
        styles.number_of("fonts", f"<~font>{xml}</~font>")
        for xml in (
            _FONT.format(ink="1F2933"),
            "<~b/>" + _FONT.format(ink="1F2933"),
            "<~u/>" + _FONT.format(ink="0B4F9E"),
            "<~b/>" + _FONT.format(ink="1F2933").replace('"11"', '"15"'),
        )
    )
    line = styles.number_of("borders", _RULE)
    gray = _filled(styles, "E4E7EB")
    return Looks(
        title=_format(styles, title, 0, 0, wraps=False),
        plain=_format(styles, plain, 0, 0, wraps=True),
        heading=_format(styles, bold, gray, line, wraps=True),
        text=_format(styles, plain, 0, line, wraps=True),
        link=_format(styles, link, 0, line, wraps=True),
        severity={severity: _toned(styles, tone, line) for severity, tone in TONES.items()},
    )


def _toned(styles: Styles, tone: Tone, line: int) -> int:
    font = styles.number_of("fonts", f"<~font><~b/>{_FONT.format(ink=tone.ink)}</~font>")
    return _format(styles, font, _filled(styles, tone.back), line, wraps=False)


def _filled(styles: Styles, rgb: str) -> int:
    xml = f'<~fill><~patternFill patternType="solid"><~fgColor rgb="FF{rgb}"/><~bgColor indexed="64"/></~patternFill></~fill>'
    return styles.number_of("fills", xml)


def _format(styles: Styles, font: int, fill: int, border: int, *, wraps: bool) -> int:
    """A cell format; `quotePrefix` keeps a text that starts with = a text when somebody edits it."""
    wrap = ' wrapText="1"' if wraps else ""
    return styles.number_of(
        "cellXfs",
        f'<~xf numFmtId="49" fontId="{font}" fillId="{fill}" borderId="{border}" quotePrefix="1" applyNumberFormat="1" '
        f'applyFont="1" applyFill="1" applyBorder="1" applyAlignment="1"><~alignment vertical="top"{wrap}/></~xf>',
    )
