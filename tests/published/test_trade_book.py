"""Numbers of the trade book that a publication or a law prints."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.trade.book import Grade, shipped_book

BOOK = shipped_book()

PRINTED = [
    ("fastening.nails-per-joint", "2", "EN0069A section 4-9 (public domain)"),
    ("fastening.nails-per-wide-joint", "3", "EN0069A section 4-9 (public domain)"),
    ("fastening.wide-above", "8", "EN0069A section 4-9 (public domain)"),
    ("fastening.nails-per-stud", "2", "NAVEDTRA 14044 chapter 6 (public domain)"),
    ("fastening.casing-nail-spacing", "16", "NAVEDTRA 14044 chapter 6 (public domain): pairs about 16 in apart"),
    ("waste.nails", "0.20", "EN0069A table 4-1 (public domain)"),
    ("fastening.penetration-diameters", "6", "NDS 2018 section 12.1.6.4"),
    ("fastening.withdrawal-constant", "1380", "NDS 2018 Table 12.2C, FPL-RN-093"),
    ("fastening.withdrawal-exponent", "2.5", "NDS 2018 Table 12.2C, FPL-RN-093"),
    ("fastening.permanent-load-factor", "0.9", "NDS 2018 Table 2.3.2, from memory"),
    ("fastening.toe-nail-factor", "0.67", "NDS 2018 section 12.5.4, from memory"),
    ("fastening.cable-reach", "1.25", "NEC 300.4(D), from memory"),
    ("fastening.box-6d-per-lb", "315", "GSA CID A-A-1963 Table I (public domain)"),
    ("fastening.box-8d-per-lb", "190", "GSA CID A-A-1963 Table I (public domain)"),
    ("fastening.box-10d-per-lb", "119", "GSA CID A-A-1963 Table I (public domain)"),
    ("fastening.finish-8d-per-lb", "189", "dealers' tables, from memory"),
    ("fastening.finish-10d-per-lb", "121", "dealers' tables, from memory"),
    ("fastening.finish-16d-per-lb", "90", "dealers' tables, from memory"),
    ("cautions.lead-year", "1978", "40 CFR 745.83"),
    ("cautions.lead-area", "6", "40 CFR 745.83"),
    ("cautions.lead-job-days", "30", "40 CFR 745.83"),
    ("cautions.asbestos-year", "1980", "29 CFR 1926.1101(b), (k)"),
    ("features.fan-blade-height", "84", "Department of Energy; 29 CFR 1926.300(b)(5): 7 ft"),
    ("features.fan-wall-clearance", "18", "Department of Energy: 18 in"),
    ("features.fan-marked-weight", "35", "NEC 314.27(C), 422.18"),
    ("features.fan-independent-weight", "70", "NEC 314.27(C), 422.18"),
    ("features.light-independent-weight", "50", "NEC 314.27(A), from memory"),
    ("features.fan-small-area", "75", "ENERGY STAR, older table, seen second hand, from memory"),
    ("features.fan-small-least", "29", "ENERGY STAR, older table, seen second hand, from memory"),
    ("features.fan-small-most", "36", "ENERGY STAR, older table, seen second hand, from memory"),
    ("features.fan-medium-area", "144", "ENERGY STAR, older table, seen second hand, from memory"),
    ("features.fan-medium-least", "36", "ENERGY STAR, older table, seen second hand, from memory"),
    ("features.fan-medium-most", "42", "ENERGY STAR, older table, seen second hand, from memory"),
    ("features.fan-large-area", "225", "ENERGY STAR, older table, seen second hand, from memory"),
    ("features.fan-large-least", "44", "ENERGY STAR, older table, seen second hand, from memory"),
    ("features.fan-large-most", "44", "ENERGY STAR, older table, seen second hand, from memory"),
    ("features.fan-great-area", "400", "ENERGY STAR, older table, seen second hand, from memory"),
    ("features.fan-great-least", "50", "ENERGY STAR, older table, seen second hand, from memory"),
    ("features.fan-great-most", "54", "ENERGY STAR, older table, seen second hand, from memory"),
    ("wood.poplar", "0.00289", "Wood Handbook Table 13-5 (public domain)"),
    ("wood.red-oak", "0.00369", "Wood Handbook Table 13-5 (public domain)"),
    ("wood.pine", "0.00216", "Wood Handbook Table 13-5, from memory"),
    ("wood.maple", "0.00353", "Wood Handbook Table 13-5, from memory"),
    ("wood.cherry", "0.00248", "Wood Handbook Table 13-5, from memory"),
    ("wood.walnut", "0.00274", "Wood Handbook Table 13-5, from memory"),
    ("wood.douglas-fir", "0.00267", "Wood Handbook Table 13-5, from memory"),
    ("calibration.mad-scale", "1.4826", "Hampel 1974 (1 over the normal upper quartile), from memory"),
]


@pytest.mark.parametrize(("key", "printed", "place"), PRINTED)
def test_entry_is_what_is_printed(key, printed, place):
    """The book holds the number that its publication or law prints, and owns up where it is from memory."""
    entry = BOOK[key]
    assert entry.value == Decimal(printed)
    assert entry.grade in {Grade.PUBLISHED, Grade.LAW}
    source = BOOK.sources[entry.source]
    assert source.seen is not ("from memory" in place)


@pytest.mark.parametrize(("key", "low", "high"), [("primer", 500, 600), ("paint", 400, 500)])
def test_printed_range_is_kept(key, low, high):
    """Coverage stays within the printed ranges (Army TM 43-0139 Table 3-2, public domain), at their careful end."""
    assert low == BOOK.value(f"finish.{key}-coverage") < high


def test_all_graded_numbers_are_checked():
    """Every published or legal number of the book stands in a check of this folder."""
    elsewhere = {"finish.primer-coverage", "finish.paint-coverage", "fastening.steel-weight"}
    graded = {entry.key for entry in BOOK if entry.grade in {Grade.PUBLISHED, Grade.LAW}}
    assert graded == {key for key, _, _ in PRINTED} | elsewhere
