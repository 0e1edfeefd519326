"""Writes the workbooks of `sample_sheets/`, every time with the same content.

Run from the repository root, in the project's environment: `python deploy/make_samples.py [FOLDER]`.
All people, places, firms, prices, wages and production rates are invented.
"""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))
sys.path.insert(0, str(ROOT / "deploy"))

from samples import broken, price_list, room_sheets  # noqa: E402 - the root must be on the path first


def samples() -> dict[str, bytes]:
    """Every sample workbook by file name."""
    return {"price_list.xlsx": price_list.workbook()} | room_sheets.workbooks() | {"broken.xlsx": broken.workbook()}


def main(folder: Path) -> int:
    """Write the samples into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in samples().items():
        (folder / name).write_bytes(content)
        print(f"{name:20} {len(content):>7,} bytes")
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "sample_sheets"))
