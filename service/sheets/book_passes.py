"""Passes over the parts that all tabs share: the list of tabs, texts, formats, properties, types of parts."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.sheets.layout import VERSION_NAME
from service.sheets.parts import Watcher
from service.sheets.refusal import too_large, unreadable
from service.sheets.sheet_pass import MOST_CHARACTERS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.sheets.parts import Begin, End, Tally

_NUMBER = re.compile(r"[0-9]{1,7}")
_SHOWN = 80
_YES = frozenset({"1", "true"})
_LONGEST_PROPERTY = 255


@dataclass(frozen=True, slots=True)
class Listed:
    """A tab as the workbook's own part lists it: name, identity of the link to its part, whether people see it."""

    name: str
    identity: str
    is_hidden: bool


class BookPass(Watcher):
    """The workbook's own part: its tabs, whether its dates count from 1904, the name that tells its layout version."""

    def __init__(self) -> None:
        """Nothing found yet."""
        super().__init__()
        self.tabs: list[Listed] = []
        self.has_1904_dates = self.is_to_calculate = False
        self.named_version: str | None = None

    def begins(self) -> Mapping[str, Begin]:
        """Tabs, settings and names."""
        return {
            "sheet": self._tab,
            "workbookPr": self._settings,
            "calcPr": self._calculation,
            "definedName": self._name,
        }

    def ends(self) -> Mapping[str, End]:
        """Names."""
        return {"definedName": self._end_name}

    def _tab(self, attributes: dict[str, str]) -> None:
        identity = next((value for key, value in attributes.items() if key.endswith("relationships\nid")), "")
        state = attributes.get("state", "visible")
        self.tabs.append(Listed(attributes.get("name", ""), identity, state != "visible"))

    def _settings(self, attributes: dict[str, str]) -> None:
        self.has_1904_dates = attributes.get("date1904") in _YES

    def _calculation(self, attributes: dict[str, str]) -> None:
        self.is_to_calculate = attributes.get("fullCalcOnLoad") in _YES

    def _name(self, attributes: dict[str, str]) -> None:
        self.sink = [] if attributes.get("name", "").casefold() == VERSION_NAME.casefold() else None

    def _end_name(self) -> None:
        found = _NUMBER.fullmatch("".join(self.sink or ()).strip().removeprefix("=").strip())
        self.named_version = self.named_version or (found[0] if found else None)
        self.sink = None


class TextsPass(Watcher):
    """The shared texts, rich ones joined, reading aids for Asian scripts left out."""

    is_bulk = True

    def __init__(self, tally: Tally) -> None:
        """Nothing found yet."""
        super().__init__()
        self.tally = tally
        self.texts: list[str] = []
        self.parts: list[str] = []
        self.is_phonetic = False

    def begins(self) -> Mapping[str, Begin]:
        """Texts and their pieces."""
        return {"si": self._begin, "t": self._begin_piece, "rPh": self._begin_phonetic}

    def ends(self) -> Mapping[str, End]:
        """Texts and their pieces."""
        return {"si": self._end, "t": self._end_piece, "rPh": self._end_phonetic}

    def _begin(self, _attributes: dict[str, str]) -> None:
        self.parts = []

    def _begin_piece(self, _attributes: dict[str, str]) -> None:
        self.sink = None if self.is_phonetic else self.parts

    def _end_piece(self) -> None:
        self.sink = None

    def _begin_phonetic(self, _attributes: dict[str, str]) -> None:
        self.is_phonetic = True

    def _end_phonetic(self) -> None:
        self.is_phonetic = False

    def _end(self) -> None:
        text = "".join(self.parts)
        self.tally.characters += len(text)
        if self.tally.characters > MOST_CHARACTERS:
            raise too_large(f"The workbook holds more than {MOST_CHARACTERS:,} characters of text.")
        self.texts.append(text)


class FormatsPass(Watcher):
    """Number formats: the workbook's own by their number, and the number that each cell format uses."""

    def __init__(self) -> None:
        """Nothing found yet."""
        super().__init__()
        self.codes: dict[int, str] = {}
        self.of_style: list[int] = []
        self.is_inside = {"numFmts": False, "cellXfs": False}

    def begins(self) -> Mapping[str, Begin]:
        """Lists and their items."""
        return {
            "numFmts": lambda _: self._enter("numFmts"), "cellXfs": lambda _: self._enter("cellXfs"),
            "numFmt": self._code, "xf": self._style,
        }  # fmt: skip

    def ends(self) -> Mapping[str, End]:
        """Lists."""
        return {"numFmts": lambda: self._leave("numFmts"), "cellXfs": lambda: self._leave("cellXfs")}

    def _enter(self, name: str) -> None:
        self.is_inside[name] = True

    def _leave(self, name: str) -> None:
        self.is_inside[name] = False

    def _code(self, attributes: dict[str, str]) -> None:
        if self.is_inside["numFmts"]:
            self.codes[_whole(attributes.get("numFmtId", ""))] = attributes.get("formatCode", "")

    def _style(self, attributes: dict[str, str]) -> None:
        if self.is_inside["cellXfs"]:
            self.of_style.append(_whole(attributes.get("numFmtId", "0")))


def _whole(text: str) -> int:
    if not _NUMBER.fullmatch(text):
        raise unreadable("The workbook's formats are damaged.", text[:_SHOWN])
    return int(text)


class PropertiesPass(Watcher):
    """The workbook's own properties, texts by name; the first of a name counts."""

    def __init__(self) -> None:
        """Nothing found yet."""
        super().__init__()
        self.found: dict[str, str] = {}
        self.name = ""

    def begins(self) -> Mapping[str, Begin]:
        """A property and whatever type of value it has."""
        values = ("lpwstr", "lpstr", "bstr", "i1", "i2", "i4", "i8", "int", "uint", "ui1", "ui2", "ui4", "r4", "r8")
        return {"property": self._begin, **dict.fromkeys(values, self._begin_value)}

    def ends(self) -> Mapping[str, End]:
        """A property."""
        return {"property": self._end}

    def _begin(self, attributes: dict[str, str]) -> None:
        self.name = attributes.get("name", "")[:_LONGEST_PROPERTY]

    def _begin_value(self, _attributes: dict[str, str]) -> None:
        self.sink = []

    def _end(self) -> None:
        if self.sink is not None:
            self.found.setdefault(self.name, "".join(self.sink)[:_LONGEST_PROPERTY])
        self.sink = None


class TypesPass(Watcher):
    """Whether a part is declared as a workbook with macros."""

    def __init__(self) -> None:
        """Nothing found yet."""
        super().__init__()
        self.has_macros = False

    def begins(self) -> Mapping[str, Begin]:
        """Types of single parts, and of all with one ending."""
        return {"Override": self._type, "Default": self._type}

    def _type(self, attributes: dict[str, str]) -> None:
        kind = attributes.get("ContentType", "").casefold()
        self.has_macros = self.has_macros or "macroenabled" in kind or "vbaproject" in kind
