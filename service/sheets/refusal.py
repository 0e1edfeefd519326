"""Why an upload is not opened at all: one exception inside the guard, one problem outside."""

from __future__ import annotations

from service.problems import Code, Problem, Severity

CHOOSE = "Choose the filled template (.xlsx) and upload that file."
SAVE_AS = "Save it as Excel Workbook (.xlsx) in your spreadsheet program and upload that file."


class RefusedError(Exception):
    """The guard's verdict; `problem` says it to people."""

    def __init__(self, code: Code, detail: str, cure: str = SAVE_AS, found: str = "") -> None:
        """Keep the verdict as a problem of the whole document."""
        super().__init__(detail)
        self.problem = Problem(code, Severity.ERROR, "", detail, cure, found)


def wrong_type(found: str, cure: str = SAVE_AS) -> RefusedError:
    """It is something else."""
    return RefusedError(Code.SHEET_WRONG_TYPE, f"This is no Excel workbook (.xlsx) but {found}.", cure, found)


def too_large(detail: str, found: str = "") -> RefusedError:
    """It is more than a room sheet ever is."""
    cure = "Upload the filled template alone; delete pictures, unused rows and tabs that don't belong to the job."
    return RefusedError(Code.SHEET_TOO_LARGE, detail, cure, found)


def unreadable(detail: str, found: str = "") -> RefusedError:
    """It claims to be a workbook and isn't a sound one."""
    cure = "Open it in your spreadsheet program, save it again as Excel Workbook (.xlsx), and upload that file."
    return RefusedError(Code.SHEET_UNREADABLE, detail, cure, found)
