"""The marked copy: a user's own workbook back, its faults colored, noted in their cells and listed on a last tab.

The workbook is patched, never saved anew: only the parts that must change are spliced, every other part stays
byte for byte. What is ours carries a mark, so that the reader skips it and a second marking replaces it.
"""

from service.sheets.marks.marking import marked
from service.sheets.marks.splicing import UnpatchableError

__all__ = ["UnpatchableError", "marked"]
