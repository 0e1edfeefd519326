from __future__ import annotations

import io

import openpyxl
import pytest

from tests.sheets.templates import TEMPLATES


@pytest.fixture(params=TEMPLATES)
def blank(request):
    """Layout and bytes of each template."""
    layout, maker = TEMPLATES[request.param]
    return layout, maker()


@pytest.fixture
def template(blank):
    """Layout and opened workbook of each template."""
    layout, data = blank
    return layout, openpyxl.load_workbook(io.BytesIO(data))
