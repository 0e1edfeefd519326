"""Tagged PDF: what a reader aloud gets, by the rules of ISO 32000-1, 14.7 and 14.8 (from memory)."""

from __future__ import annotations

import io
import re

import pikepdf
import pytest

from service.documents import field_sheet_pdf, quote_pdf


@pytest.fixture(scope="module", params=[quote_pdf, field_sheet_pdf], ids=["quote", "field sheet"])
def paper(request, quote):
    """Each document, opened by a library of another maker."""
    with pikepdf.open(io.BytesIO(request.param(quote))) as opened:
        yield opened


def elements(node):
    """Every structure element below a node, in reading order."""
    kids = node.get("/K", [])
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield kid
            yield from elements(kid)


def test_document_says_that_it_is_tagged_and_in_which_language(paper):
    """MarkInfo, Lang, and tabs in order of structure on each page."""
    assert paper.Root.MarkInfo.Marked is True
    assert str(paper.Root.Lang) == "en-US"
    assert all(str(page.Tabs) == "/S" for page in paper.pages)


def test_one_first_heading_stands_before_all_others(paper):
    """The first heading is an H1."""
    tags = [str(item.S) for item in elements(paper.Root.StructTreeRoot)]
    assert tags[0] == "/Document"
    headings = [tag for tag in tags if re.fullmatch(r"/H\d", tag)]
    assert headings[0] == "/H1"
    assert "/H2" in headings


def test_tables_have_rows_with_headed_columns(paper):
    """A table holds rows, a row holds cells; heading cells say that they head a column."""
    for item in elements(paper.Root.StructTreeRoot):
        kids = {str(kid.S) for kid in item.get("/K", []) if isinstance(kid, pikepdf.Dictionary) and "/S" in kid}
        if item.S == "/Table":
            assert kids == {"/TR"}
            first = item.K[0]
            assert {str(cell.S) for cell in first.K} == {"/TH"}
            assert all(str(cell.A.Scope) == "/Column" for cell in first.K)
        if item.S == "/TR":
            assert kids <= {"/TH", "/TD"}


def test_figures_have_words(paper):
    """Plans and sticks can be heard."""
    figures = [item for item in elements(paper.Root.StructTreeRoot) if item.S == "/Figure"]
    assert figures
    assert any("Plan of Attic study" in str(item.Alt) and "12′" in str(item.Alt) for item in figures)
    assert all(str(item.Alt) for item in figures)


def test_every_mark_on_a_page_has_its_element_and_none_is_named_twice(paper):
    """Marked content of each page equals the page's list in the parent tree, and the tree points back to it."""
    numbers = list(paper.Root.StructTreeRoot.ParentTree.Nums)
    lists = dict(zip((int(key) for key in numbers[::2]), numbers[1::2], strict=True))
    told = {}
    for item in elements(paper.Root.StructTreeRoot):
        for kid in item.get("/K", []):
            if isinstance(kid, pikepdf.Dictionary) and "/MCID" in kid:
                told.setdefault(kid.Pg.objgen, []).append(int(kid.MCID))
    for page in paper.pages:
        marks = []
        depth = 0
        for operands, operator in pikepdf.parse_content_stream(page):
            if str(operator) == "BDC":
                marks.append(int(operands[1].MCID))
            depth += {"BDC": 1, "BMC": 1, "EMC": -1}.get(str(operator), 0)
            assert depth in {0, 1}
        assert depth == 0
        assert marks == list(range(len(marks)))
        assert len(lists[int(page.StructParents)]) == len(marks)
        assert sorted(told[page.obj.objgen]) == marks


def test_all_text_is_told_or_decoration(paper):
    """No text is shown outside of marked content."""
    for page in paper.pages:
        inside = 0
        for operands, operator in pikepdf.parse_content_stream(page):
            inside += {"BDC": 1, "BMC": 1, "EMC": -1}.get(str(operator), 0)
            shown = str(operator) in {"Tj", "TJ"} and bytes(operands[0] if str(operator) == "Tj" else b"x").strip()
            assert inside or not shown
