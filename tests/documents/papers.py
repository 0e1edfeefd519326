"""Reading a PDF the way a careful reader does: words with their boxes, margins, faces, amounts."""

from __future__ import annotations

import io
import re
from decimal import Decimal
from functools import lru_cache

import pdfplumber
import pypdf

AMOUNT = re.compile(r"^−?[\d,]+\.\d{2}$")


def text_of(data):
    """All text, page after page, white space made plain."""
    pages = pypdf.PdfReader(io.BytesIO(data)).pages
    return [" ".join(page.extract_text().split()) for page in pages]


@lru_cache(maxsize=6)
def boxes(data, pages=None):
    """Per page: its size and the boxes of its words (level text) and characters (text turned on a plan)."""
    found = []
    with pdfplumber.open(io.BytesIO(data), pages=pages) as paper:
        for page in paper.pages:
            words = page.filter(is_level).extract_words()
            turned = [c for c in page.chars if not is_level(c) and c["text"].strip()]
            found.append((float(page.width), float(page.height), words, turned))
            page.close()
    return found


def is_level(item):
    """True for text that is not turned, and for anything that is no text."""
    return item["object_type"] != "char" or abs(item["matrix"][1]) < 1e-6


def outside(data, left, right, top, bottom, pages=None):
    """Words and characters that leave the margins, with half a point of grace."""
    return [
        item["text"]
        for width, height, words, turned in boxes(data, pages)
        for item in (*words, *turned)
        if item["x0"] < left - 0.5
        or item["x1"] > width - right + 0.5
        or item["top"] < top - 0.5
        or item["bottom"] > height - bottom + 3.0
    ]


def overlaps(data, pages=None):
    """Pairs of words whose ink may meet: boxes are shrunk to the height of the small letters."""
    pairs = []
    for _, _, words, _ in boxes(data, pages):
        cores = [(_core(word), word["text"]) for word in words]
        cores.sort(key=lambda item: item[0][1])
        for i, (one, text) in enumerate(cores):
            for other, more in cores[i + 1 :]:
                if other[1] >= one[3]:
                    break
                if one[0] < other[2] and other[0] < one[2]:
                    pairs.append((text, more))
    return pairs


def _core(word):
    height = word["bottom"] - word["top"]
    return word["x0"] + 0.3, word["top"] + 0.28 * height, word["x1"] - 0.3, word["bottom"] - 0.28 * height


def rows_of(data):
    """Lines of words from top to bottom, page after page."""
    lines = []
    for _, _, words, _ in boxes(data):
        line, last = [], None
        for word in sorted(words, key=lambda w: (round(w["bottom"]), w["x0"])):
            if last is not None and round(word["bottom"]) - last > 2:
                lines.append(line)
                line = []
            line.append(word["text"])
            last = round(word["bottom"])
        lines.append(line)
    return lines


def amount(text):
    """A printed amount as a decimal; None when the text is none."""
    return Decimal(text.replace(",", "").replace("−", "-")) if AMOUNT.match(text) else None


def fonts_of(data):
    """Name of every face a page can draw with, and whether its file is embedded."""
    faces = {}
    for page in pypdf.PdfReader(io.BytesIO(data)).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            face = font.get_object()
            descriptor = face.get("/FontDescriptor")
            faces[face["/BaseFont"]] = bool(descriptor and "/FontFile2" in descriptor.get_object())
    return faces
