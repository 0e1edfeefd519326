"""The field lead's document: lengths, settings, framing, boards; no prices."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pdfplumber
import pytest

from service.documents import field_sheet_pdf
from service.documents.sticks import NUMBER_PT, parts_of, stick
from service.estimate.takeoff.model import Edge, Joint
from service.survey import CornerKind
from service.units import ZERO, Units
from tests.documents.papers import fonts_of, outside, overlaps, text_of

LEFT_PT, OTHER_PT = 54.0, 39.6
IN = (CornerKind.INSIDE, 90.0)


@pytest.fixture(scope="module")
def paper(quote):
    """The attic study's field sheet."""
    return field_sheet_pdf(quote)


@pytest.fixture(scope="module")
def pages(paper):
    """Its text by page."""
    return text_of(paper)


def test_no_price_anywhere(pages, quote):
    """No currency sign and none of the quote's amounts."""
    text = " ".join(pages)
    assert "$" not in text
    assert "USD" not in text
    for line in quote.lines:
        assert f"{line.amount:,.2f}" not in text


def test_every_piece_is_in_the_cut_list_on_the_plan_and_on_a_board(pages, quote):
    """Each mark is printed at least three times: cut list, plan and stick plan."""
    words = " ".join(pages).split()
    for piece in quote.pieces:
        assert words.count(piece.mark) >= 3, piece.mark


def test_long_points_are_told_twice(pages):
    """Feet, inches and fraction, and decimal inches."""
    text = " ".join(pages)
    assert "12′ 6 1/2″ 150.5″" in text
    assert "5′ 6 1/2″ 66.5″" in text


def test_metric_job_is_told_in_millimeters(make_quote):
    """150.5 in is 3822.7 mm, 3822.5 to the half (1 in = 25.4 mm exactly, NIST Handbook 44 Appendix C)."""
    text = " ".join(text_of(field_sheet_pdf(make_quote(units=Units.METRIC))))
    assert "3822.5 mm" in text
    assert "′" not in text.replace("″", "")


def test_ends_tell_joint_corner_settings_and_hand(pages):
    """A 38° crown at a square corner: 31.6 / 33.9 flat, 45 nested (saw manuals' crown table, 31.62 / 33.86).

    Right end inside: top against the fence, miter right; left end inside: bottom, miter left (that table, from memory).
    """
    text = " ".join(pages)
    assert "miter, inside 90° long on bottom edge 31.6° R / 33.9° top to fence nested 45° R" in text
    assert "miter, inside 90° long on bottom edge 31.6° L / 33.9° bottom to fence nested 45° L" in text
    assert "long on wall edge 45° R / 0° room to fence" in text
    assert "The blade leans left" in text
    assert "miter, outside 90°" in text
    assert "long on top edge" in text
    assert "scarf long on bottom edge 0° / 45°" in text


def test_room_page_says_what_stands_on_the_sheet(pages):
    """Openings with size and place, notes of room, opening and feature, and where wood is missing."""
    text = " ".join(pages)
    for words in ("window 1 36″", "window 1 B 36″ × 6′ 8″, sill 30″ 5′ 10″", "opens in", "Sloped floor by wall B.", "centered on the beam",
                  "no wood found", "Hatched stretches", "Find them before nailing."):  # fmt: skip
        assert words in text


def test_remarks_about_money_stay_in_the_office(pages):
    """The double-tax warning is not the field lead's business."""
    assert "Material tax" not in " ".join(pages)


def test_cautions_and_order_list_come_first(pages):
    """Cautions of crew and household alike, boards by length, supplies in packages with the need."""
    for words in ("Power saw: guards in place", "lead paint", "CR-458", "16′ 0″ 4", "1 × 1,000 each 410 each",
                  "6 × 10.1 fl oz 51.2 fl oz", "1 gal 0.61 gal", "replaces revision 1", "Key under the blue pot."):  # fmt: skip
        assert words in pages[0]


def test_each_room_starts_a_page(make_quote, make_room):
    """Three rooms, three pages that begin with the room's name."""
    cards = [make_room(number=i, name=f"Room {i}") for i in (1, 2, 3)]
    pages = text_of(field_sheet_pdf(make_quote(cards)))
    starts = [page.split(" At ", 1)[0] for page in pages]
    for i in (1, 2, 3):
        assert sum(text.startswith(f"{i}. Room {i}") for text in starts) == 1


def test_nothing_leaves_the_margins_or_overlaps(paper):
    """No word outside the margins (wider on the left for holes), none over another."""
    assert outside(paper, LEFT_PT, OTHER_PT, OTHER_PT, OTHER_PT) == []
    assert overlaps(paper) == []


def test_black_on_white_with_embedded_faces(paper, tmp_path):
    """Everything but the foot line is black, white or no color at all."""
    target = tmp_path / "field.pdf"
    target.write_bytes(paper)
    assert all(fonts_of(paper).values())
    with pdfplumber.open(target) as document:
        for page in document.pages:
            inks = {tuple(c["non_stroking_color"]) for c in page.chars if c["top"] < page.height - 60}
            assert inks <= {(0,), (0, 0, 0)}


def test_rows_are_tall_enough_to_write_in(paper, tmp_path):
    """Cut-list rows are at least 7 mm; figures of the long points are 11 pt."""
    target = tmp_path / "field.pdf"
    target.write_bytes(paper)
    with pdfplumber.open(target) as document:
        page = next(
            page for page in document.pages if "re-measured" in page.extract_text() and "1-01" in page.extract_text()
        )
        figures = [c["size"] for c in page.chars if c["text"] == "″" and c["x0"] < 320]
        assert figures
        assert max(figures) == pytest.approx(11)
        rules = sorted(
            {
                round(line["top"], 1)
                for line in page.lines
                if line["x1"] - line["x0"] > 20 and abs(line["top"] - line["bottom"]) < 0.1
            }
        )
    gaps = [below - above for above, below in pairwise(rules) if below - above > 18]
    assert min(gaps) >= 7 / 25.4 * 72


def test_sticks_are_drawn_to_scale(quote):
    """On a 192 in board drawn 384 pt long a piece is 2 pt an inch, and pieces, kerf, offcut and waste fill it."""
    pieces = {piece.mark: piece for piece in quote.pieces}
    for boards in quote.boards:
        for pattern in boards.patterns:
            parts = parts_of(pattern, pieces, Units.IMPERIAL, 2.0)
            for part, mark in zip(parts, pattern.pieces, strict=False):
                assert part.size == pytest.approx(2.0 * float(pieces[mark].long_point))
            assert parts[0].left == pytest.approx(NUMBER_PT)
            lost = 2.0 * float(pattern.kerf) / len(pattern.pieces)
            assert parts[-1].right - NUMBER_PT == pytest.approx(384.0, abs=lost + 0.01)


def test_offcuts_to_keep_are_labeled(paper, pages, quote):
    """Each offcut worth keeping is listed with its label, and the label stands under its board in the stick plan."""
    text = " ".join(pages)
    kept = [(one.profile, pattern) for one in quote.boards for pattern in one.patterns if pattern.offcut]
    assert kept
    assert "Offcuts to keep" in text
    for profile, pattern in kept:
        label = f"{profile} · {pattern.offcut.text()} · quote Q-0042 rev. 2 · board {pattern.number}"
        assert text.count(" ".join(label.split())) == 2, label
    assert overlaps(paper) == []


def test_no_offcut_no_list(make_quote, quote):
    """Where every remainder is waste there is no list of offcuts, and no word of labels."""
    text = " ".join(text_of(field_sheet_pdf(make_quote(boards=tuple(without_offcuts(one) for one in quote.boards)))))
    assert "Offcuts to keep" not in text
    assert "label" not in text


def without_offcuts(boards):
    """The same boards, their offcuts waste."""
    patterns = tuple(
        replace(pattern, offcut=ZERO, waste=pattern.waste + pattern.offcut, is_offcut=True)
        for pattern in boards.patterns
    )
    return replace(boards, patterns=patterns)


def test_what_the_boards_become_is_told_by_profile(pages, quote):
    """Boards, pieces, cuts, offcuts and waste of each profile as lengths with shares, the shares to 0.1%."""
    text = " ".join(pages).split("What the boards become")[1].split("Stick plans")[0]
    for boards in quote.boards:
        usage = boards.usage
        row = text.split(f" {boards.profile} ")[1]
        for part in (usage.pieces, usage.offcuts):
            share = f"{float(part.inches / usage.boards.inches):.1%}".replace(".0%", "%")
            words = f"{part.text()} {share}" if part else "–"
            assert " ".join(words.split()) in " ".join(row.split()[:24]), (boards.profile, words)


def test_boards_from_the_rack_are_marked(make_quote, quote):
    """A board that is an offcut on hand says so under its number, once for each."""
    boards = tuple(without_offcuts(one) for one in quote.boards)
    text = " ".join(text_of(field_sheet_pdf(make_quote(boards=boards))))
    assert text.count("offcut on hand") == sum(len(one.patterns) for one in boards)


def test_a_shared_cut_is_slanted(quote):
    """Of two pieces whose ends one cut makes, both lean there and say so; their other ends stand upright."""
    by_mark = {piece.mark: piece for piece in quote.pieces}
    spliced = next(piece for piece in quote.pieces if piece.right.joint is Joint.SCARF)
    first = replace(spliced, right=replace(spliced.right, long_edge=Edge.BACK))
    second = replace(spliced, mark="1-99", left=replace(spliced.right, long_edge=Edge.FACE), right=spliced.left)
    by_mark |= {first.mark: first, "1-99": second}
    pattern = replace(quote.boards[0].patterns[0], pieces=(first.mark, "1-99"))
    one, two = parts_of(pattern, by_mark, Units.IMPERIAL, 0.9)[:2]
    assert [one.shares_left, one.shares_right, two.shares_left, two.shares_right] == [False, True, True, False]
    drawn = stick(pattern, by_mark, Units.IMPERIAL, 400.0, pattern.length)
    assert drawn.alt.count("one cut with the next") == 1


def test_long_board_and_short_piece_keep_their_labels(make_quote, make_room):
    """A 2 in piece beside a 40 ft wall is still named on its board."""
    walls = (("A", "480", *IN), ("B", "2", *IN), ("C", "480", *IN), ("D", "2", *IN))
    cards = [make_room(walls=walls)]
    data = field_sheet_pdf(make_quote(cards))
    assert outside(data, LEFT_PT, OTHER_PT, OTHER_PT, OTHER_PT) == []
    assert overlaps(data) == []
    text = " ".join(text_of(data))
    for piece in cards[0][1]:
        assert text.count(piece.mark) >= 3
