"""The quote's last page names every assumption of the trade book that a price rests on, and nothing else."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from pathlib import Path

import pytest

from service.documents import quote_pdf
from tests.documents.papers import text_of
from tests.pipeline.estimates import SAMPLES, sample_quote

TRADE = Path(__file__).parents[2] / "service" / "trade"
GOOD = sorted(path.stem for path in SAMPLES.glob("*.xlsx") if path.stem not in {"price_list", "broken"})
KEY = re.compile(r"\[([a-z]+\.[a-z0-9 -]+)\]")
HEADING = "What the figures rest on"


@cache
def assumed() -> frozenset[str]:
    """Keys of all entries of grade assumption, read from the files themselves."""
    return frozenset(
        f"{file.stem}.{key}"
        for file in TRADE.glob("*.toml")
        for key, entry in tomllib.loads(file.read_text("utf-8")).items()
        if entry.get("grade") == "assumption"
    )


def rested_on(quote) -> set[str]:
    """Assumptions that the basis of a line, an option, a supply or a labor row names."""
    rows = (*quote.lines, *quote.options, *quote.supplies, *quote.labor)
    named = {name.removeprefix("trade:") for row in rows for name in row.basis if name.startswith("trade:")}
    return named & assumed()


@pytest.mark.parametrize("name", GOOD)
def test_the_last_page_names_exactly_the_assumptions_used(name):
    """Keys printed in brackets under the heading are those that bases name: none missing, none more, each once."""
    quote = sample_quote(name)
    text = " ".join(text_of(quote_pdf(quote)))
    printed = [key.replace(" ", "") for key in KEY.findall(text.partition(HEADING)[2])]
    assert sorted(printed) == sorted(rested_on(quote))
    assert len(printed) >= 3


def test_some_assumptions_are_not_used_by_a_small_job():
    """The list is of this job: an assumption about rooms that do not close is in no basis, so the check above can fail."""
    used = rested_on(sample_quote("bay"))
    assert assumed() - used
    assert "rooms.gap-base" not in used
