"""Faults as data: what was found, where, and what to put there instead.

A stage never stops at the first fault. It hands every one to a `Problems` collector and goes on
with what is still sound; the caller asks `has_errors` when the stage is done. One struct serves the
page, the JSON answer, the command line and the marked workbook.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping


class Severity(StrEnum):
    """How much a problem weighs: an error refuses the sheet, the others travel with the quote."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


class Code(StrEnum):
    """Stable names of faults; each is explained at `/problems/{code}`. A code names the fault, not the cure."""

    SHEET_UNREADABLE = "sheet-unreadable"
    SHEET_TOO_LARGE = "sheet-too-large"
    SHEET_ENCRYPTED = "sheet-encrypted"
    SHEET_WRONG_TYPE = "sheet-wrong-type"
    SHEET_IS_OLD_XLS = "sheet-is-old-xls"
    SHEET_IS_OPEN_DOCUMENT = "sheet-is-open-document"
    SHEET_IS_STRICT = "sheet-is-strict"
    SHEET_IS_CSV = "sheet-is-csv"
    SHEET_IS_PDF = "sheet-is-pdf"
    SHEET_IS_WEB_PAGE = "sheet-is-web-page"
    SHEET_IS_PICTURE = "sheet-is-picture"
    SHEET_CUT_OFF = "sheet-cut-off"
    SHEET_UNPACKS_TOO_FAR = "sheet-unpacks-too-far"
    SHEET_DECLARES_ENTITIES = "sheet-declares-entities"
    SHEET_HAS_MACROS = "sheet-has-macros"
    SHEET_LINKS_OUTSIDE = "sheet-links-outside"
    DOCUMENT_UNREADABLE = "document-unreadable"
    MEMBER_UNKNOWN = "member-unknown"
    TAB_MISSING = "tab-missing"
    TAB_UNKNOWN = "tab-unknown"
    HEADING_MISSING = "heading-missing"
    HEADING_DUPLICATE = "heading-duplicate"
    HEADING_UNKNOWN = "heading-unknown"
    ITEM_UNKNOWN = "item-unknown"
    ITEM_DUPLICATE = "item-duplicate"
    VALUE_MISSING = "value-missing"
    VALUE_NOT_IN_LIST = "value-not-in-list"
    VALUES_CONTRADICT = "values-contradict"
    TEXT_TOO_LONG = "text-too-long"
    TEXT_NOT_UNDERSTOOD = "text-not-understood"
    LENGTH_NOT_UNDERSTOOD = "length-not-understood"
    LENGTH_UNIT_MISSING = "length-unit-missing"
    LENGTH_IS_DATE = "length-is-date"
    LENGTH_IS_BOOLEAN = "length-is-boolean"
    LENGTH_BETWEEN_MARKS = "length-between-marks"
    NUMBER_NOT_UNDERSTOOD = "number-not-understood"
    NUMBER_OUT_OF_RANGE = "number-out-of-range"
    DATE_NOT_UNDERSTOOD = "date-not-understood"
    SHARE_NOT_UNDERSTOOD = "share-not-understood"
    FORMULA_WITHOUT_VALUE = "formula-without-value"
    FORMULA_ERROR = "formula-error"
    MERGED_CELLS = "merged-cells"
    HIDDEN_ROWS_READ = "hidden-rows-read"
    HIDDEN_COLUMNS_READ = "hidden-columns-read"
    LAYOUT_UNKNOWN = "layout-unknown"
    ROOM_UNKNOWN = "room-unknown"
    ROOM_DUPLICATE = "room-duplicate"
    ROOM_WITHOUT_WALLS = "room-without-walls"
    WALL_UNKNOWN = "wall-unknown"
    WALL_DUPLICATE = "wall-duplicate"
    TRIM_DUPLICATE = "trim-duplicate"
    TRIM_ON_NOTHING = "trim-on-nothing"
    LAYERS_COLLIDE = "layers-collide"
    ASSEMBLY_UNKNOWN = "assembly-unknown"
    ASSEMBLY_INCOMPLETE = "assembly-incomplete"
    ASSEMBLY_DOES_NOT_FIT = "assembly-does-not-fit"
    PROFILE_UNKNOWN = "profile-unknown"
    SUPPLY_UNKNOWN = "supply-unknown"
    SUPPLY_MISSING = "supply-missing"
    ROLE_UNKNOWN = "role-unknown"
    RATE_MISSING = "rate-missing"
    PRICE_LIST_UNKNOWN = "price-list-unknown"
    SHARES_DO_NOT_ADD_UP = "shares-do-not-add-up"
    TAXED_TWICE = "taxed-twice"
    STOCK_MISSING = "stock-missing"
    ROOM_DOES_NOT_CLOSE = "room-does-not-close"
    ROOM_CROSSES_ITSELF = "room-crosses-itself"
    CORNER_OPEN_WITHIN = "corner-open-within"
    CORNER_ANGLES_DO_NOT_ADD_UP = "corner-angles-do-not-add-up"
    CEILING_NOT_FLAT = "ceiling-not-flat"
    OPENING_OUTSIDE_WALL = "opening-outside-wall"
    OPENINGS_OVERLAP = "openings-overlap"
    CASING_OUTSIDE_WALL = "casing-outside-wall"
    CROWN_INTERRUPTED = "crown-interrupted"
    STUD_OUTSIDE_WALL = "stud-outside-wall"
    BACKING_UNKNOWN = "backing-unknown"
    BACKING_NOT_WOOD = "backing-not-wood"
    PROFILES_DO_NOT_MEET = "profiles-do-not-meet"
    PIECE_CANNOT_BE_CUT = "piece-cannot-be-cut"
    SAW_LIMIT_PASSED = "saw-limit-passed"
    JOINT_NEAR_CORNER = "joint-near-corner"
    JOINT_ON_GLUE_PLATE = "joint-on-glue-plate"
    PIECE_SHORT = "piece-short"
    MITER_MAY_OPEN = "miter-may-open"
    NO_NAIL_LONG_ENOUGH = "no-nail-long-enough"
    NAIL_MAY_REACH_CABLE = "nail-may-reach-cable"
    OVERHEAD_ON_ADHESIVE_ALONE = "overhead-on-adhesive-alone"
    HOLDING_LOW = "holding-low"
    HOLDING_NOT_CHECKED = "holding-not-checked"
    FAN_BLADES_TOO_LOW = "fan-blades-too-low"
    FAN_NEAR_WALL = "fan-near-wall"
    FEATURE_SIZE_UNUSUAL = "feature-size-unusual"
    FEATURE_ITEM_MISSING = "feature-item-missing"
    WEIGHT_ON_BOX = "weight-on-box"
    FAN_BOX_NOT_RATED = "fan-box-not-rated"
    LEAD_PAINT_POSSIBLE = "lead-paint-possible"
    ASBESTOS_POSSIBLE = "asbestos-possible"
    NOT_YET_PRICED = "not-yet-priced"
    TRADE_VALUE_OUT_OF_RANGE = "trade-value-out-of-range"
    DATE_OUT_OF_RANGE = "date-out-of-range"
    HOURS_NOT_POSSIBLE = "hours-not-possible"
    HOURS_UNLIKE_PLAN = "hours-unlike-plan"
    TASK_NOT_PLANNED = "task-not-planned"
    RATE_NOT_PROPOSED = "rate-not-proposed"


@dataclass(frozen=True, slots=True)
class Cell:
    """A place in a workbook: tab name and address such as `C5`."""

    sheet: str
    address: str

    def __str__(self) -> str:
        """`Walls!C5`, as a spreadsheet program writes it."""
        return f"{self.sheet}!{self.address}"


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault.

    Attributes:
        code: stable name of the fault.
        severity: error, warning or note.
        pointer: JSON Pointer (RFC 6901) into the job document; "" is the whole document.
        detail: what is wrong, one sentence for people.
        help: what to type or do instead.
        found: what stood there, as text.
        cell: the workbook cell, when the document came from a workbook.
    """

    code: Code
    severity: Severity
    pointer: str
    detail: str
    help: str = ""
    found: str = ""
    cell: Cell | None = None

    @property
    def is_error(self) -> bool:
        """True when the problem refuses the sheet."""
        return self.severity is Severity.ERROR

    def at(self, cell: Cell | None) -> Problem:
        """The same problem, placed in a workbook cell."""
        return replace(self, cell=cell)

    def line(self) -> str:
        """One line for a terminal: severity, place, code, what was found, what to type."""
        place = str(self.cell) if self.cell else self.pointer or "document"
        found = f"found {self.found!r}; " if self.found else ""
        return f"{self.severity} {place} {self.code}: {found}{self.detail} {self.help}".rstrip()


class Problems:
    """Collector of problems, in the order found; the same problem is kept once."""

    __slots__ = ("_items",)

    def __init__(self, items: Iterable[Problem] = ()) -> None:
        """Start with what is already known."""
        self._items: dict[Problem, None] = dict.fromkeys(items)

    def __iter__(self) -> Iterator[Problem]:
        """Problems in the order found."""
        return iter(self._items)

    def __len__(self) -> int:
        """How many were found."""
        return len(self._items)

    def add(self, problem: Problem) -> None:
        """Keep a problem made elsewhere."""
        self._items.setdefault(problem)

    def extend(self, problems: Iterable[Problem]) -> None:
        """Keep several problems made elsewhere."""
        for problem in problems:
            self.add(problem)

    def error(self, code: Code, pointer: str, detail: str, *, help: str = "", found: str = "") -> None:  # noqa: A002 - the word of the contract
        """Collect a fault that refuses the sheet."""
        self.add(Problem(code, Severity.ERROR, pointer, detail, help, str(found)))

    def warning(self, code: Code, pointer: str, detail: str, *, help: str = "", found: str = "") -> None:  # noqa: A002 - the word of the contract
        """Collect a doubt that travels with the quote."""
        self.add(Problem(code, Severity.WARNING, pointer, detail, help, str(found)))

    def note(self, code: Code, pointer: str, detail: str, *, help: str = "", found: str = "") -> None:  # noqa: A002 - the word of the contract
        """Collect something worth saying."""
        self.add(Problem(code, Severity.NOTE, pointer, detail, help, str(found)))

    @property
    def has_errors(self) -> bool:
        """True when at least one problem refuses the sheet."""
        return any(problem.is_error for problem in self._items)

    @property
    def errors(self) -> tuple[Problem, ...]:
        """Those that refuse the sheet."""
        return tuple(problem for problem in self._items if problem.is_error)

    @property
    def remarks(self) -> tuple[Problem, ...]:
        """Warnings and notes: those that travel with a quote."""
        return tuple(problem for problem in self._items if not problem.is_error)


def pointer(*parts: str | int) -> str:
    """JSON Pointer made of member names and list positions (RFC 6901 escapes ~ and /)."""
    return "".join("/" + str(part).replace("~", "~0").replace("/", "~1") for part in parts)


def placed(problems: Iterable[Problem], cells: Mapping[str, Cell]) -> tuple[Problem, ...]:
    """Problems joined to workbook cells: the cell of the pointer itself or of its nearest known ancestor."""
    return tuple(problem if problem.cell else problem.at(_nearest(problem.pointer, cells)) for problem in problems)


def _nearest(place: str, cells: Mapping[str, Cell]) -> Cell | None:
    while place not in cells:
        if not place:
            return None
        place = place.rpartition("/")[0]
    return cells[place]
