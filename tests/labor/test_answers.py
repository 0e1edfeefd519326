"""The labor plan in the JSON of a quote and on the field sheet."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

import pytest

from schemas.quote import quote_document, quote_from
from service.documents import field_sheet_pdf
from service.documents.labor_plan import work_by_day
from service.estimate.labor import LaborPlan
from service.estimate.labor.model import DayTask, LaborDay, Wait
from tests.documents.papers import outside, overlaps, text_of
from tests.pipeline.estimates import sample_quote

LEFT_PT, OTHER_PT = 54.0, 39.6


@pytest.mark.parametrize("office", [True, False])
def test_every_role_reads_the_plan(office):
    """The plan stands in the quote for the office and for others, hours as decimal texts, and holds no money."""
    document = quote_document(sample_quote("l_shaped"), office=office)["labor_plan"]
    assert (document["working_days"], document["visits"]) == (len(document["days"]), 1)
    hours = [task["hours"] for day in document["days"] for task in day["tasks"]]
    assert all(re.fullmatch(r"\d+(\.\d+)?", text) for text in hours)
    assert sum(map(Decimal, hours)) == sum(row.hours for row in sample_quote("l_shaped").labor if row.task != "trip")
    assert "amount" not in str(document)
    assert "USD" not in str(document)


def test_the_plan_is_read_back_as_it_was_stored():
    """A stored quote has the same plan again; one stored before there was a plan has none."""
    document = quote_document(sample_quote("ten_rooms"), office=True)
    assert quote_from(document).labor_plan == sample_quote("ten_rooms").labor_plan
    del document["labor_plan"]
    assert quote_from(document).labor_plan is None


@pytest.mark.parametrize("name", ["l_shaped", "metric"])
def test_work_by_day_is_on_the_field_sheet(name):
    """Each day has its heading, each wait its words; nothing leaves the margins or covers something else."""
    quote = sample_quote(name)
    paper = field_sheet_pdf(quote)
    pages = text_of(paper)
    first = next(i for i, text in enumerate(pages) if text.startswith("Work by day"))
    last = next(i for i, text in enumerate(pages) if text.startswith("1. "))
    text = " ".join(pages[first:last])
    for day in quote.labor_plan.days:
        assert f"Day {day.elapsed_day} · " in text
        assert all(item.description in text for item in day.tasks)
    for wait in quote.labor_plan.waits:
        assert wait.text in text
    assert "may come down today" in text
    numbers = tuple(range(first + 1, last + 1))
    assert outside(paper, LEFT_PT, OTHER_PT, OTHER_PT, OTHER_PT, numbers) == []
    assert overlaps(paper, numbers) == []


def told(plan):
    """The page's words."""
    return " ".join(item.text for item in work_by_day(plan, 500.0) if hasattr(item, "text"))


def test_days_without_work_are_said():
    """A day that the glue needs is told, with the visit that begins after it and when props may come down."""
    tasks = (DayTask("hang-ceiling", 1, "Hall", "Hang ceiling board", Decimal(3)),)
    wait = Wait(1, "Hall", "adhesive", Decimal(24), 1, 2, "Hall: the props stay.", "trade:labor.adhesive-cure")
    days = (LaborDay(1, 1, 1, tasks), LaborDay(2, 4, 2, tasks))
    words = told(LaborPlan(2, 4, 2, days, (wait,)))
    assert "2 days of work within 4 days, 2 visits" in words.replace("\N{NO-BREAK SPACE}", " ")
    assert "Days 2 to 3: no work on the job" in words
    assert "Day 4 · visit 2" in words
    assert words.index("Hall: the props stay.") < words.index("Props in Hall may come down today")


def test_no_plan_no_page():
    """A quote stored before there were plans, or without work, has no such page; one too long says so."""
    assert work_by_day(None, 500.0) == []
    assert work_by_day(LaborPlan(0, 0, 0, (), ()), 500.0) == []
    assert "too long to be planned day by day" in told(LaborPlan(900, 900, 1, (), ()))
    pages = text_of(field_sheet_pdf(replace(sample_quote("rectangle"), labor_plan=None)))
    assert not any("Work by day" in text for text in pages)
