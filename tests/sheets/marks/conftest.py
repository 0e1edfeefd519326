from __future__ import annotations

import os
import shutil
import subprocess
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

MOST_SECONDS = 120


@pytest.fixture(scope="session")
def converted(tmp_path_factory: pytest.TempPathFactory) -> Callable[[bytes, str], bytes]:
    """LibreOffice without a window, as a function that opens a workbook and saves it in another form.

    Missing it skips, except where CI=true promises it.
    """
    program = shutil.which("soffice")
    if program is None and os.environ.get("CI") != "true":
        pytest.skip("no LibreOffice on this computer; these tests need one")
    folder: Path = tmp_path_factory.mktemp("office")

    def convert(data: bytes, form: str) -> bytes:
        sheet = folder / "in" / "sheet.xlsx"
        sheet.parent.mkdir(exist_ok=True)
        sheet.write_bytes(data)
        profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
        command = [str(program), profile, "--headless", "--convert-to", form, "--outdir", str(folder), str(sheet)]
        subprocess.run(command, check=True, capture_output=True, timeout=MOST_SECONDS)  # noqa: S603 - the program found above
        made = folder / f"sheet.{form.partition(':')[0]}"
        content = made.read_bytes()
        made.unlink()
        return content

    return convert
