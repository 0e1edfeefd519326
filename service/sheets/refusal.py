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


def wrong_type(found: str, cure: str = SAVE_AS, code: Code = Code.SHEET_WRONG_TYPE) -> RefusedError:
    """It is something else; the kinds that people send most have codes of their own."""
    return RefusedError(code, f"This is no Excel workbook (.xlsx) but {found}.", cure, found)


def encrypted(detail: str, cure: str) -> RefusedError:
    """It is locked."""
    return RefusedError(Code.SHEET_ENCRYPTED, detail, cure)


def too_large(detail: str, found: str = "") -> RefusedError:
    """It is more than a room sheet ever is."""
    cure = "Upload the filled template alone; delete pictures, unused rows and tabs that don't belong to the job."
    return RefusedError(Code.SHEET_TOO_LARGE, detail, cure, found)


def unpacks_too_far(detail: str, found: str = "") -> RefusedError:
    """A small file that would unpack to an enormous one."""
    cure = "Copy the filled rows into a fresh template and upload that file."
    return RefusedError(Code.SHEET_UNPACKS_TOO_FAR, detail, cure, found)


def cut_off(detail: str, found: str = "") -> RefusedError:
    """Its end is missing."""
    cure = "Send or download it again, or open it in your spreadsheet program and save it; then upload that file."
    return RefusedError(Code.SHEET_CUT_OFF, detail, cure, found)


def declares_entities() -> RefusedError:
    """A part declares a document type, the door to entity attacks."""
    detail = "A part of the workbook declares a document type (DOCTYPE), which workbooks never do."
    cure = "Copy the filled rows into a fresh template and upload that file."
    return RefusedError(Code.SHEET_DECLARES_ENTITIES, detail, cure, "DOCTYPE")


def unreadable(detail: str, found: str = "") -> RefusedError:
    """It claims to be a workbook and isn't a sound one."""
    cure = "Open it in your spreadsheet program, save it again as Excel Workbook (.xlsx), and upload that file."
    return RefusedError(Code.SHEET_UNREADABLE, detail, cure, found)
