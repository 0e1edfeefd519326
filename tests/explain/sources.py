"""What stands in a cell, in the price list or in the trade book, read without the program."""

from __future__ import annotations

import re
import tomllib
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from openpyxl import load_workbook

ROOT = Path(__file__).parents[2]
SAMPLES, TRADE = ROOT / "sample_sheets", ROOT / "service" / "trade"
MM = Fraction(254, 10)


@cache
def book(name: str) -> Any:
    """A sample workbook."""
    return load_workbook(SAMPLES / f"{name}.xlsx")


def cell_value(name: str, place: str) -> object:
    """What stands in a cell such as `Walls!C3` of a sample sheet."""
    tab, _, address = place.partition("!")
    return book(name)[tab][address].value


def number_in(text: object) -> Fraction | None:
    """A number, share, angle, length or volume as typed, in inches and cubic inches; None for a text that is none.

    1 in is 25.4 mm, 1 gal 231 cu in and 128 fl oz: NIST Handbook 44, Appendix C.
    """
    if isinstance(text, (datetime, date, bool)) or text is None:
        return None
    plain = str(text).strip().replace("\u2032", "'").replace("\u2033", '"').replace("°", "").replace("$", "")
    if match := re.fullmatch(r"([\d.]+)\s*%", plain):
        return Fraction(match[1]) / 100
    if match := re.fullmatch(r"([\d.]+)\s*(mm|cm|m)", plain):
        return Fraction(match[1]) * {"mm": 1, "cm": 10, "m": 1000}[match[2]] / MM
    if match := re.fullmatch(r"([\d.]+)\s*fl oz", plain):
        return Fraction(match[1]) * 231 / 128
    plain = re.sub(r"^[a-z ]+ of ", "", plain).removesuffix("sq ft").removesuffix("yd")
    feet, mark, inches = plain.partition("'")
    if not mark:
        feet, inches = "0", plain
    return _mixed(feet) * 12 + _mixed(inches.replace('"', "")) if re.fullmatch(r"[\d\s./'\"-]+", plain) else None


def _mixed(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.replace("-", " ").split()), Fraction(0))


@cache
def trade_entries() -> dict[str, Decimal]:
    """Every number of the trade book by `subject.key`."""
    found = {}
    for file in TRADE.glob("*.toml"):
        for key, entry in tomllib.loads(file.read_text("utf-8"), parse_float=Decimal).items():
            if "value" in entry:
                found[f"{file.stem}.{key}"] = Decimal(str(entry["value"]))
    return found


def list_value(place: str) -> Fraction | None:
    """The number at a place of the sample price list, such as `profiles/CR-458/width`; None where the cell is blank."""
    tab, *way = place.split("/")
    if tab == "firm":
        return number_in(_firm()[way[0]])
    if tab == "stock":
        return _board_price(*way)
    if tab == "conditions":
        return number_in(_rows("Conditions")[int(way[0])][way[1]])
    if tab == "wages":
        return number_in(_row("Wages", role=way[0])["wage"])
    keys = {"profiles": "profile", "supplies": "code", "labor": "task", "assemblies": "assembly"}
    if tab == "assemblies":
        return number_in(_row("Assemblies", assembly=way[0], layer=way[1])[way[2]])
    return number_in(_row(tab.capitalize(), **{keys[tab]: way[0]})[way[1]])


def _snake(heading: object) -> str:
    return re.sub(r"\W+", "_", re.sub(r"\(.*\)", "", str(heading)).replace("*", "").strip().casefold()).strip("_")


@cache
def _firm() -> dict[str, object]:
    return {_snake(row[0]): row[1] for row in book("price_list")["Firm"].iter_rows(values_only=True) if row[0]}


@cache
def _rows(tab: str) -> list[dict[str, object]]:
    rows = [row for row in book("price_list")[tab].iter_rows(values_only=True) if any(v is not None for v in row)]
    headings = [_snake(heading) for heading in rows[0]]
    return [dict(zip(headings, row, strict=True)) for row in rows[1:]]


def _row(tab: str, **wanted: str) -> dict[str, object]:
    found = [row for row in _rows(tab) if all(str(row[key]) == value for key, value in wanted.items())]
    assert len(found) == 1, (tab, wanted, len(found))
    return found[0]


def _board_price(profile: str, inches: str, kind: str) -> Fraction:
    """Price of one board: as listed each, or per foot of its length."""
    for row in _rows("Stock"):
        is_offcut = str(row["offcut"] or "no").casefold() == "yes"
        if (
            row["profile"] == profile
            and number_in(row["length"]) == Fraction(inches)
            and is_offcut == (kind == "offcut")
        ):
            price = number_in(row["price"])
            assert price is not None
            return price * Fraction(inches) / 12 if row["per"] == "foot" else price
    raise AssertionError(f"no stock of {profile}, {inches} in, {kind}")
