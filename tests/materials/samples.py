"""What every sample sheet takes, stage by stage up to its materials."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from schemas.job import survey_from
from schemas.price_list import price_list_from
from service.estimate.cuts.plan import cut_plan
from service.estimate.labor import joint_cost
from service.estimate.materials.buying import bought
from service.estimate.rooms import RoomRules, shaped_rooms
from service.estimate.takeoff.rules import TakeoffRules
from service.estimate.takeoff.runs import taken_off
from service.problems import Problems
from service.sheets.reader import read_price_list, read_room_sheet
from service.trade.book import shipped_book

if TYPE_CHECKING:
    from service.estimate.materials.model import Materials
    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.model import Run
    from service.firm import PriceList

FOLDER = Path(__file__).parents[2] / "sample_sheets"
SOUND = ("bay", "l_shaped", "metric", "open_plan", "rectangle", "ten_rooms")


@dataclass(frozen=True)
class Sample:
    """One sample job as its materials stage leaves it."""

    shapes: tuple[RoomShape, ...]
    runs: tuple[Run, ...]
    materials: Materials


@cache
def listed() -> PriceList:
    """The sample price list."""
    reading = read_price_list((FOLDER / "price_list.xlsx").read_bytes())
    found, _ = price_list_from(reading.document, name="standard", version=1)
    assert found is not None
    return found


@cache
def sample(name: str) -> Sample:
    """A sample sheet, bought for with the sample price list."""
    survey, _ = survey_from(read_room_sheet((FOLDER / f"{name}.xlsx").read_bytes()).document)
    assert survey is not None
    problems, book, prices = Problems(), shipped_book(), listed()
    shapes = shaped_rooms(survey.rooms, survey.job.units, RoomRules.of(book), problems)
    runs = taken_off(shapes, survey.trim, prices, TakeoffRules.of(book), problems)
    plan = cut_plan(runs, prices, joint_cost(prices), problems)
    assert plan is not None
    materials = bought(shapes, runs, plan, prices, book, problems)
    assert materials is not None
    return Sample(tuple(shapes), tuple(runs), materials)
