from __future__ import annotations

import io
from pathlib import Path

import openpyxl

from tests.web.office import SAMPLES


def test_the_marked_sheet_comes_by_one_press(page) -> None:
    """Without JavaScript, the page of faults gives the sheet back marked, named after it, and stays where it is."""
    page.goto("/")
    page.set_input_files("#file", SAMPLES / "broken.xlsx")
    page.get_by_role("button", name="Make the quote").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="Get your sheet back with the faults marked").click()
    assert download.value.suggested_filename == "broken marked.xlsx"
    copy = io.BytesIO(Path(download.value.path()).read_bytes())
    assert openpyxl.load_workbook(copy).sheetnames[-1] == "Faults found"
    assert page.title().startswith("Error:")
