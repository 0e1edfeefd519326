"""From a price-list document to the firm's records, with every fault of the document."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING, Any, cast

from marshmallow import ValidationError

from schemas.condition_checks import labels_of
from schemas.faults import problems_of
from schemas.fields.lengths import READING, length_of
from schemas.job import reading_of
from schemas.names import Names
from schemas.price_checks import check_price_list
from schemas.price_tabs import Paper, Per, PriceListSchema
from schemas.records import Row, rows
from schemas.room_sheet import LAYOUTS
from schemas.spellings import BySpelling
from schemas.text import folded
from service import firm
from service.money import to_cents
from service.problems import Code, Problem, Problems
from service.trade.tasks import TASKS
from service.units import Units

if TYPE_CHECKING:
    from decimal import Decimal

    from schemas.fields.lengths import Reading
    from service.units import Length


def price_list_from(document: object, *, name: str, version: int) -> tuple[firm.PriceList | None, tuple[Problem, ...]]:
    """Price list of a document, and every fault found in it.

    Args:
        document: the document as parsed JSON; any object is read without an exception.
        name, version: what the firm calls the list, and which version this is.

    Returns:
        The price list, None when an error refuses the document; and the problems, warnings included.
    """
    problems = Problems()
    if not isinstance(document, Mapping):
        problems.error(Code.DOCUMENT_UNREADABLE, "", "A price list is one JSON object.", help="Send an object.")
        return None, tuple(problems)
    reading = reading_of(document, "firm")
    with READING(reading):
        record = _loaded(document, problems)
        check_price_list(record, problems)
        price_list = None if problems.has_errors else _price_list(record, reading, name, version)
    return price_list, tuple(problems)


def _loaded(document: Mapping[Any, Any], problems: Problems) -> Row:
    try:
        record = cast("Row", PriceListSchema().load(document))
    except ValidationError as error:
        problems.extend(problems_of(error))
        record = error.valid_data if isinstance(error.valid_data, dict) else {}
    if record.get("layout", 1) not in LAYOUTS:
        problems.error(
            Code.LAYOUT_UNKNOWN, "/layout", "This program reads layout version 1.", help="Use the template of layout 1."
        )
    return record


def _price_list(record: Row, reading: Reading, name: str, version: int) -> firm.PriceList:
    profiles = Names.of(record["profiles"], "name")
    roles = Names.of(record["wages"], "role")
    return firm.PriceList(
        settings=_settings(record["firm"], reading),
        wages=BySpelling((row["role"], row["wage"]) for row in record["wages"]),
        payments=tuple(firm.Payment(**row) for row in record["payments"]),
        profiles=BySpelling((row["name"], firm.Profile(**row)) for row in record["profiles"]),
        stock=tuple(_stock(row, profiles) for row in record["stock"]),
        assemblies=BySpelling(_assemblies(record["assemblies"], profiles, Names.of(record["supplies"], "code"))),
        supplies=BySpelling((row["code"], firm.Supply(**row)) for row in record["supplies"]),
        labor=BySpelling((rate.task, rate) for rate in (_rate(row, roles) for row in record["labor"])),
        conditions=tuple(_condition(row) for row in rows(record, "conditions")),
        notices=tuple(firm.Notice(**row) for row in rows(record, "notices")),
        overrides=tuple(firm.TradeOverride(**row) for row in rows(record, "trade")),
        name=name,
        version=version,
    )


def _settings(row: Row, reading: Reading) -> firm.FirmSettings:
    paper = row.get("paper", Paper.A4 if reading.units is Units.METRIC else Paper.LETTER)
    words: Row = {key: str(row[key]) for key in ("document_word", "shoe_nails_to", "default_finish") if key in row}
    words["paper"] = str(paper)
    return firm.FirmSettings(**row | words)


def _stock(row: Row, profiles: Names) -> firm.Stock:
    price = board_price(row["price"], row["per"], row["length"])
    members = {key: row[key] for key in ("length", "available", "is_offcut") if key in row}
    return firm.Stock(profile=profiles.spelled(row["profile"]), price=price, **members)


def board_price(price: Decimal, per: Per, length: Length) -> Decimal:
    """Price of one board, in cents: as given, or its length in feet times a price per foot, half up."""
    return to_cents(Fraction(price) * length.feet) if per is Per.FOOT else to_cents(price)


def _assemblies(layers: list[Row], profiles: Names, supplies: Names) -> list[tuple[str, firm.Assembly]]:
    first: dict[str, str] = {}
    for row in layers:
        first.setdefault(folded(row["assembly"]), row["assembly"])
    ordered = sorted(layers, key=lambda row: (list(first).index(folded(row["assembly"])), row["number"]))
    return [
        (first[key], firm.Assembly(first[key], tuple(_layer(row, profiles, supplies) for row in group)))
        for key, group in groupby(ordered, key=lambda row: folded(row["assembly"]))
    ]


def _layer(row: Row, profiles: Names, supplies: Names) -> firm.Layer:
    members = {key: value for key, value in row.items() if key != "assembly"}
    if "nail" in row:
        members["nail"] = supplies.spelled(row["nail"])
    return firm.Layer(**members | {"profile": profiles.spelled(row["profile"])})


def _rate(row: Row, roles: Names) -> firm.LaborRate:
    task = TASKS[folded(row["task"])]
    return firm.LaborRate(**row | {"task": task.key, "unit": task.unit, "role": roles.spelled(row["role"])})


def _condition(row: Row) -> firm.Condition:
    is_height = row["kind"] is firm.ConditionKind.CEILING_HEIGHT
    bounds = {key: length_of(row[key]) for key in ("low", "high") if key in row} if is_height else {}
    return firm.Condition(
        kind=row["kind"],
        factor=row["factor"],
        applies_to=tuple(folded(word) for word in row["applies_to"]),
        label=None if is_height else labels_of(row["kind"])[folded(row.get("low", "yes"))],
        **bounds,
    )
