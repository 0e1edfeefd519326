"""Hostile text, missing glyphs, huge and tiny jobs, the same bytes every time."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from service.documents import field_sheet_pdf, plan_svg, quote_pdf
from service.documents.fonts import MISSING, PRINTABLE, fitted, markup, printable, width
from service.firm import Position
from service.survey import CornerKind
from tests.documents.papers import boxes, outside, overlaps, text_of

QUOTE_MARGINS = (54.0, 54.0, 54.0, 54.0)
FIELD_MARGINS = (54.0, 39.6, 39.6, 39.6)
IN, OUT = (CornerKind.INSIDE, 90.0), (CornerKind.OUTSIDE, 90.0)
CROWN = ((Position.CROWN, "CR-458", "0", "2.85"),)
HOSTILE = '<b>bold</i> & <img src="file:///etc/hostname"/> <a href="javascript:x">y</a> &#65; ]]> %s {0}'


def both(quote):
    """The two papers with their margins."""
    return (quote_pdf(quote), QUOTE_MARGINS), (field_sheet_pdf(quote), FIELD_MARGINS)


@pytest.mark.parametrize("character", "½¼¾⅛⅜⅝⅞′″°×−–·☐")
def test_face_holds_the_trades_characters(character):
    """Fractions, primes, degree and dashes are in both faces."""
    assert ord(character) in PRINTABLE
    assert printable(character) == character


@pytest.mark.parametrize(
    ("text", "drawn"),
    [
        ("王 Tuckett", f"{MISSING} Tuckett"),
        ("a\x00b\x07c\u200bd\u202ee", "abcde"),
        ("tab\there", "tab here"),
        ("thin\u2009space\u00a0kept", "thin space\u00a0kept"),
        ("e\u0301", "é"),
        ("one\r\ntwo\rthree", "one\ntwo\nthree"),
        ("\ud800", MISSING),
        ("😀", MISSING),
    ],
)
def test_text_is_made_printable(text, drawn):
    """Lacking characters become squares, controls vanish, white space is plain, accents are composed."""
    assert printable(text) == drawn


def test_markup_escapes_and_keeps_lines():
    """The toolkit's own markup never comes from a user."""
    assert markup("a < b & c\nd") == "a &lt; b &amp; c<br/>d"


def test_fitted_text_fits_and_shows_what_is_missing():
    """The longest start that fits, then an ellipsis; a text that fits stays whole."""
    long = "W" * 400
    short = fitted(long, 9.0, 100.0)
    assert short.endswith("…")
    assert width(short, 9.0) <= 100.0 < width(f"{short[:-1]}W…", 9.0)
    assert fitted("Bram", 9.0, 100.0) == "Bram"


def test_missing_glyph_is_replaced_where_all_can_see(make_quote, quote):
    """A customer whose name the typeface lacks is printed as squares, not as nothing."""
    text = " ".join(text_of(quote_pdf(make_quote(job=replace(quote.job, customer="王小明 & Söhne")))))
    assert "□□□ & Söhne" in text


def test_hostile_text_is_printed_literally(make_quote, make_room, quote):
    """Markup, entities, links and image tags in names and notes come out as typed."""
    card, pieces = make_room(name=HOSTILE, notes=HOSTILE)
    walls = (replace(card.walls[0], notes=HOSTILE), *card.walls[1:])
    made = make_quote(
        [(replace(card, walls=walls), pieces)],
        job=replace(quote.job, customer=HOSTILE, job_name=HOSTILE, notes=HOSTILE),
        firm=replace(quote.firm, name=HOSTILE),
    )
    for data, margins in both(made):
        text = " ".join(text_of(data)).replace(" ", "")
        assert HOSTILE.replace(" ", "") in text
        assert outside(data, *margins) == []
        assert overlaps(data) == []
        assert b"/URI" not in data
        assert b"/Subtype /Image" not in data


def test_long_words_are_broken_not_cut(make_quote, make_room, quote):
    """Names of 200 letters without a space stay inside margins and cells, whole."""
    long = "Llanfairpwll" * 17
    card, pieces = make_room(name=long)
    walls = tuple(replace(wall, name=f"{wall.name}{long}") for wall in card.walls)
    runs = tuple(replace(run, wall=f"{run.wall}{long}", profile=long) for run in card.runs)
    pieces = [replace(piece, wall=f"{piece.wall}{long}", profile=long) for piece in pieces]
    made = make_quote(
        [(replace(card, walls=walls, runs=runs), pieces)],
        job=replace(quote.job, customer=long, job_name=long, site_address=long),
        firm=replace(quote.firm, name=long, email=long),
    )
    for data, margins in both(made):
        assert outside(data, *margins) == []
        assert overlaps(data) == []
        assert long in "".join(text_of(data)).replace(" ", "")


def test_note_longer_than_a_page_flows_on(make_quote, make_room, quote):
    """A wall's note of three pages splits its row instead of stopping the document."""
    card, pieces = make_room()
    note = "Mind the cat. " * 600 + "End of note."
    walls = (replace(card.walls[0], notes=note), *card.walls[1:])
    made = make_quote([(replace(card, walls=walls), pieces)], job=replace(quote.job, notes=note))
    data = field_sheet_pdf(made)
    assert " ".join(text_of(data)).count("End of note.") == 2
    assert outside(data, *FIELD_MARGINS) == []


def test_sixty_rooms(make_quote, make_room):
    """Sixty rooms: every room has its plan and its page, sums still stand, page numbers run on."""
    cards = [make_room(number=i, name=f"Room {i}", layers=CROWN) for i in range(1, 61)]
    made = make_quote(cards)
    (quote_data, margins), (field_data, field_margins) = both(made)
    pages = text_of(quote_data)
    assert all(f"Room {i}" in " ".join(pages) for i in range(1, 61))
    assert f"Page {len(pages)} of {len(pages)}" in pages[-1]
    sample = (1, 2, 3, 9, 20, len(pages))
    assert outside(quote_data, *margins, pages=sample) == []
    assert overlaps(quote_data, pages=sample) == []
    field = text_of(field_data)
    assert all(any(page.startswith(f"{i}. Room {i}") for page in field) for i in range(1, 61))
    assert outside(field_data, *field_margins, pages=(1, 2, 5, 90, len(field))) == []


@pytest.mark.parametrize(
    "walls",
    [
        (("A", "480", *IN), ("B", "40", *IN), ("C", "478", *IN), ("D", "2", *OUT), ("E", "2", *IN), ("F", "38", *IN)),
        (("A", "480", *IN), ("B", "2", *IN), ("C", "480", *IN), ("D", "2", *IN)),
        (("A", "14", *OUT), ("B", "14", *OUT), ("C", "14", *OUT), ("D", "14", *OUT)),
        (("A", "96", CornerKind.OPEN, 90.0),),
        (("A", "120", CornerKind.INSIDE, 135.0), ("B", "60", *IN), ("C", "162.4", *IN), ("D", "102.4", *IN)),
        tuple((f"Wall {i}", "30", CornerKind.INSIDE, 150.0) for i in range(1, 13)),
    ],
    ids=["notch", "slit", "island", "one wall", "bay", "twelve sides"],
)
def test_strange_rooms_are_drawn_within_the_page(make_quote, make_room, walls):
    """A 2 in wall beside a 40 ft one, a slit, an island, a single open wall, odd angles, a round of twelve."""
    card, pieces = make_room(walls=walls)
    for data, margins in both(make_quote([(card, pieces)])):
        assert outside(data, *margins) == []
        assert overlaps(data) == []
        text = " ".join(text_of(data))
        for name, *_ in walls:
            assert name in text


def test_job_without_rooms_pieces_or_payments(make_quote, make_room):
    """An estimate with nothing on its walls is still a document."""
    card, _ = make_room(runs=(), joists=())
    empty = make_quote(
        pieces=(), boards=(), supplies=(), payment_schedule=(), cautions=(), assumptions=(), options=(), warnings=()
    )
    for made in (replace(empty, rooms=(card,)), replace(empty, rooms=(), lines=())):
        for data, margins in both(made):
            assert outside(data, *margins) == []
            assert "Page 1 of" in text_of(data)[0]


def test_turned_labels_stay_apart_too(quote):
    """Characters of text that runs along a wall never lie on each other's middle."""
    for _, _, _, turned in boxes(field_sheet_pdf(quote)):
        cores = [((c["x0"] + c["x1"]) / 2, (c["top"] + c["bottom"]) / 2) for c in turned]
        assert len(cores) == len({(round(x, 1), round(y, 1)) for x, y in cores})
        for i, (x, y) in enumerate(cores):
            assert all(abs(x - u) + abs(y - v) > 1.5 for u, v in cores[i + 1 :])


def test_same_quote_same_bytes(quote):
    """Twice in one process."""
    assert quote_pdf(quote) == quote_pdf(quote)
    assert field_sheet_pdf(quote) == field_sheet_pdf(quote)


PROGRAM = """
import hashlib, runpy, sys
made = runpy.run_path("tests/documents/conftest.py")["made_quote"]()
from service.documents import field_sheet_pdf, plan_svg, quote_pdf
whole = quote_pdf(made) + field_sheet_pdf(made) + plan_svg(made, 1).encode()
print(hashlib.sha256(whole).hexdigest())
"""


def test_same_bytes_in_other_processes_hash_seeds_and_time_zones(quote):
    """Other hash seed, time zone and SOURCE_DATE_EPOCH change nothing."""
    whole = quote_pdf(quote) + field_sheet_pdf(quote) + plan_svg(quote, 1).encode()
    digests = {hashlib.sha256(whole).hexdigest()}
    root = Path(__file__).parents[2]
    for seed, zone in (("1", "Asia/Tokyo"), ("4242", "America/Denver")):
        environment = {
            **os.environ,
            "PYTHONHASHSEED": seed,
            "TZ": zone,
            "SOURCE_DATE_EPOCH": "1000000000",
            "PYTHONPATH": ".",
        }
        run = subprocess.run(  # noqa: S603 - this very interpreter, our own program
            [sys.executable, "-c", PROGRAM], cwd=root, env=environment, capture_output=True, text=True, check=True
        )
        digests.add(run.stdout.strip())
    assert len(digests) == 1
