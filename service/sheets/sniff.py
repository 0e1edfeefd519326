"""What an upload is, by its first bytes; the file's name is never asked."""

from __future__ import annotations

from dataclasses import dataclass

from service.problems import Code
from service.sheets.refusal import CHOOSE, RefusedError, encrypted, wrong_type

_OLE2 = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ENCRYPTED_STREAM = "EncryptedPackage".encode("utf-16-le")
_ZIP = b"PK\x03\x04"
_EMPTY_ZIP = b"PK\x05\x06"
_PICTURE = Code.SHEET_IS_PICTURE
_MAGIC = (
    (b"%PDF", "a PDF", Code.SHEET_IS_PDF),
    (b"\x89PNG", "a picture (PNG)", _PICTURE),
    (b"\xff\xd8\xff", "a photograph (JPEG)", _PICTURE),
    (b"GIF8", "a picture (GIF)", _PICTURE),
    (b"BM", "a picture (BMP)", _PICTURE),
    (b"II*\x00", "a picture (TIFF)", _PICTURE),
    (b"MM\x00*", "a picture (TIFF)", _PICTURE),
    (b"\x1f\x8b", "a gzip archive", Code.SHEET_WRONG_TYPE),
    (b"7z\xbc\xaf\x27\x1c", "a 7-Zip archive", Code.SHEET_WRONG_TYPE),
    (b"Rar!", "a RAR archive", Code.SHEET_WRONG_TYPE),
    (b"{\\rtf", "a rich-text document", Code.SHEET_WRONG_TYPE),
)
_PICTURE_BRANDS = (b"heic", b"heix", b"mif1", b"avif")
_WEB_PAGE = (b"<!doctype html", b"<html", b"<table", b"<meta")
_TEXT_SAMPLE = 4096
_SAVE = "Open it in your spreadsheet program, save it as Excel Workbook (.xlsx), and upload that file."


@dataclass(frozen=True, slots=True)
class _Kind:
    """A kind of file, as people call it."""

    words: str
    code: Code
    cure: str


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
        kind = _magic_kind(data) or _text_kind(data[:_TEXT_SAMPLE])
        kind = kind or _Kind("a file of another kind", Code.SHEET_WRONG_TYPE, CHOOSE)
        raise wrong_type(kind.words, kind.cure, kind.code)


def _old_or_encrypted(data: bytes) -> RefusedError:
    if _ENCRYPTED_STREAM in data:
        return encrypted(
            "The workbook is protected by a password.",
            "Open it, remove the password to open (File, Info, Protect Workbook), save it and upload that file.",
        )
    return wrong_type("an old Office file (.xls)", code=Code.SHEET_IS_OLD_XLS)


def _magic_kind(data: bytes) -> _Kind | None:
    if data[4:8] == b"ftyp":
        return _Kind("a photograph (HEIC)", _PICTURE, CHOOSE) if data[8:12] in _PICTURE_BRANDS else _film()
    if data.startswith(b"RIFF"):
        return _Kind("a picture (WebP)", _PICTURE, CHOOSE) if data[8:12] == b"WEBP" else _film()
    return next((_Kind(words, code, CHOOSE) for magic, words, code in _MAGIC if data.startswith(magic)), None)


def _film() -> _Kind:
    return _Kind("a film or a recording", Code.SHEET_WRONG_TYPE, CHOOSE)


def _text_kind(sample: bytes) -> _Kind | None:
    """Tables in another format, which a spreadsheet program can save as a workbook."""
    start = sample.lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n").lower()
    if start.startswith(_WEB_PAGE):
        return _Kind("a web page (HTML)", Code.SHEET_IS_WEB_PAGE, _SAVE)
    if start.startswith(b"<"):
        return _Kind("an XML file", Code.SHEET_WRONG_TYPE, _SAVE)
    if start.startswith((b"{", b"[{")) and _is_text(sample):
        return _Kind("a JSON document", Code.SHEET_WRONG_TYPE, "Send JSON with the type application/json.")
    return _Kind("a text file (CSV or the like)", Code.SHEET_IS_CSV, _SAVE) if _is_text(sample) else None


def _is_text(sample: bytes) -> bool:
    if b"\x00" in sample:
        return sample.startswith((b"\xff\xfe", b"\xfe\xff"))
    strange = sum(byte < 9 or 13 < byte < 32 for byte in sample)  # noqa: PLR2004 - control characters but tab, line ends
    return strange == 0
