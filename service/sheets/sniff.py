"""What an upload is, by its first bytes; the file's name is never asked."""

from __future__ import annotations

from service.problems import Code
from service.sheets.refusal import CHOOSE, RefusedError, wrong_type

_OLE2 = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ENCRYPTED_STREAM = "EncryptedPackage".encode("utf-16-le")
_ZIP = b"PK\x03\x04"
_EMPTY_ZIP = b"PK\x05\x06"
_MAGIC = (
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture (PNG)"),
    (b"\xff\xd8\xff", "a photograph (JPEG)"),
    (b"GIF8", "a picture (GIF)"),
    (b"BM", "a picture (BMP)"),
    (b"II*\x00", "a picture (TIFF)"),
    (b"MM\x00*", "a picture (TIFF)"),
    (b"RIFF", "a picture or a recording"),
    (b"\x1f\x8b", "a gzip archive"),
    (b"7z\xbc\xaf\x27\x1c", "a 7-Zip archive"),
    (b"Rar!", "a RAR archive"),
    (b"{\\rtf", "a rich-text document"),
)
_PICTURE_BRANDS = (b"heic", b"heix", b"mif1", b"avif")
_TEXT_SAMPLE = 4096


def check_kind(data: bytes) -> None:
    """Refuse whatever does not start as a zip archive, each kind by its name."""
    if not data:
        raise RefusedError(
            Code.SHEET_UNREADABLE, "The file is empty (0 bytes).", "Choose the filled room sheet and upload it again."
        )
    if data.startswith(_OLE2):
        raise _old_or_encrypted(data)
    if data.startswith(_EMPTY_ZIP):
        raise wrong_type("an empty archive", CHOOSE)
    if not data.startswith(_ZIP):
        raise _stranger(data)


def _old_or_encrypted(data: bytes) -> RefusedError:
    if _ENCRYPTED_STREAM in data:
        return RefusedError(
            Code.SHEET_ENCRYPTED, "The workbook is protected by a password.",
            "Open it, remove the password to open (File, Info, Protect Workbook), save it and upload that file.",
        )  # fmt: skip
    return wrong_type("an old Office file (.xls)")


def _stranger(data: bytes) -> RefusedError:
    """Tables in another format can be saved as a workbook; pictures and the like can't."""
    table = _table_kind(data[:_TEXT_SAMPLE])
    return wrong_type(table) if table else wrong_type(_other_kind(data), CHOOSE)


def _other_kind(data: bytes) -> str:
    if data[4:8] == b"ftyp":
        return "a photograph (HEIC)" if data[8:12] in _PICTURE_BRANDS else "a film"
    return next((name for magic, name in _MAGIC if data.startswith(magic)), "a file of another kind")


def _table_kind(sample: bytes) -> str:
    if any(sample.startswith(magic) for magic, _ in _MAGIC):
        return ""
    start = sample.lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n").lower()
    if start.startswith((b"<!doctype html", b"<html", b"<table", b"<meta")):
        return "a web page (HTML)"
    if start.startswith(b"<"):
        return "an XML file"
    return "a text file (CSV or the like)" if _is_text(sample) else ""


def _is_text(sample: bytes) -> bool:
    if b"\x00" in sample:
        return sample.startswith((b"\xff\xfe", b"\xfe\xff"))
    strange = sum(byte < 9 or 13 < byte < 32 for byte in sample)  # noqa: PLR2004 - control characters but tab, line ends
    return strange == 0
