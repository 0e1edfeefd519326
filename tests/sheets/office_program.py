"""The spreadsheet program LibreOffice without a window, which opens a workbook and saves it as people do."""

from __future__ import annotations

import os
import shutil
import subprocess

import pytest


def soffice():
    """The program; missing it skips, except where CI=true promises it."""
    program = shutil.which("soffice") or shutil.which("libreoffice")
    if program is None:
        if os.environ.get("CI") == "true":
            pytest.fail("LibreOffice is missing (Debian: apt-get install libreoffice-calc-nogui)")
        pytest.skip("no LibreOffice on this computer; the round trips need it")
    return program


def converted(folder, files, kind):
    """Files opened and saved in another kind (`xlsx`, `ods`, `pdf`), in a folder of that name; with a profile of its own."""
    target = folder / kind
    subprocess.run(  # noqa: S603 - the program found above, our own files
        [
            soffice(), f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless", "--norestore",
            "--convert-to", kind, "--outdir", str(target), *map(str, files),
        ],
        check=True, capture_output=True, timeout=180,
    )  # fmt: skip
    return {file.stem: target / f"{file.stem}.{kind}" for file in files}
