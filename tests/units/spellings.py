"""Spellings of lengths: what each is on an imperial and on a metric sheet, worked out by hand.

Outcome: `150.5 in` or `3810 mm`, the exact value (1 in = 25.4 mm exactly, NIST Handbook 44, Appendix C; 12 in = 1 ft);
or the word for why it is refused, whose sentence `REASONS` gives. One outcome holds for sheets of both kinds.
"""

from __future__ import annotations

REASONS = {
    "empty": "It is empty.",
    "negative": "A length cannot be negative.",
    "two": "It reads as two lengths.",
    "unit": "Its unit is not known.",
    "formula": "It is a formula that was stored as text.",
    "share": "A share is no length.",
    "inches": "After feet, the inches must be less than 12.",
    "feet": "Inches follow whole feet only.",
    "upper": "In a fraction the upper number is the smaller one; put a space after the whole inches.",
    "zero": "A fraction cannot be divided by zero.",
    "tape": "No tape is divided into parts of ",
    "ask": "A fraction without a unit on a metric sheet may be inches.",
    "readings": "It can be read as ",
    "feet or inches": "It can be ",
    "comma": "A comma stands where no decimal sign can be.",
    "none": "It is not one length.",
}

ONE_MEANING: list[tuple[str, str]] = [
    # feet and inches
    ("12' 6 1/2\"", "150.5 in"), ("12'-6-1/2\"", "150.5 in"), ("12' 6-1/2\"", "150.5 in"), ("12'6 1/2\"", "150.5 in"),
    ("12'6-1/2\"", "150.5 in"), ("12 ' 6 1/2 \"", "150.5 in"), ("12' 6 1/2", "150.5 in"), ("12' - 6 1/2\"", "150.5 in"),
    ("12'", "144 in"), ("12'0\"", "144 in"), ("12' 0\"", "144 in"), ("12'-0\"", "144 in"), ("12' 6\"", "150 in"),
    ("12'6\"", "150 in"), ("12'6", "150 in"), ("12' 6", "150 in"), ("12' 6.5\"", "150.5 in"), ("12'6.5", "150.5 in"),
    ("12' .5\"", "144.5 in"), ("12' 1/2\"", "144.5 in"), ("12'1/2\"", "144.5 in"), ("0' 6\"", "6 in"), ("0'", "0 in"),
    ("12' 11 63/64\"", "9983/64 in"), ("12' 11.9\"", "155.9 in"), ("8' 1\"", "97 in"), ("9' 2 1/4\"", "110.25 in"),
    ("5'11 3/4", "71.75 in"), ("100' 3/32\"", "38403/32 in"), ("12' 6''", "150 in"), ("12'6\" ", "150 in"),
    ("012' 06\"", "150 in"), ("1' 1 1/12\"", "157/12 in"), ("1/2'", "6 in"), ("12 1/2'", "150 in"), ("12.54'", "150.48 in"),
    ("12.5'", "150 in"), (".5'", "6 in"), ("12.'", "144 in"),
    # words for feet and inches
    ("12 ft 6.5 in", "150.5 in"), ("12 ft 6 1/2 in", "150.5 in"), ("12ft 6in", "150 in"), ("12ft6in", "150 in"),
    ("12 ft. 6 in.", "150 in"), ("12 ft", "144 in"), ("12ft", "144 in"), ("12 FT", "144 in"), ("12 Ft. 6 In.", "150 in"),
    ("12 feet 6 inches", "150 in"), ("12 feet", "144 in"), ("1 foot", "12 in"), ("1 foot 1 inch", "13 in"),
    ("12 ft 6", "150 in"), ('12 ft 6"', "150 in"), ("12' 6 in", "150 in"), ("12 ft-6 in", "150 in"), ("12 ft 6 ins", "150 in"),
    # inches
    ('150.5"', "150.5 in"), ('150 1/2"', "150.5 in"), ("150.5 in", "150.5 in"), ("150 1/2 in.", "150.5 in"), ('1/2"', "0.5 in"),
    ('3/8"', "0.375 in"), ('15/16"', "15/16 in"), ('63/64"', "63/64 in"), ('1 1/2"', "1.5 in"), ('1-1/2"', "1.5 in"),
    ("6 in", "6 in"), ("6 in.", "6 in"), ("6 inch", "6 in"), ("6 inches", "6 in"), ("6IN", "6 in"), ("6''", "6 in"), ('0"', "0 in"),
    ('6."', "6 in"), ('.5"', "0.5 in"), ('12.541666666666668"', "12.541666666666668 in"), ('150.3"', "150.3 in"), ('9 3 / 4"', "9.75 in"),
    ('6- 1/2"', "6.5 in"), ('0/2"', "0 in"), ('3/10"', "0.3 in"), ('12 3/100"', "12.03 in"), ('1/3"', "1/3 in"), ('5/6"', "5/6 in"),
    # typographic dress
    ("12′ 6 1/2″", "150.5 in"), ("12’ 6 1/2”", "150.5 in"), ("12‘ 6“", "150 in"), ("12´ 6´´", "150 in"), ('12` 6"', "150 in"),
    ("12ʹ 6ʺ", "150 in"), ("12' 6〃", "150 in"), ("12＇", "144 in"), ('6½"', "6.5 in"), ('6 ½"', "6.5 in"), ('½"', "0.5 in"),
    ('¼"', "0.25 in"), ('6 ¾"', "6.75 in"), ('⅛"', "0.125 in"), ('⅜"', "0.375 in"), ('⅝"', "0.625 in"), ('⅞"', "0.875 in"),
    ('⅓"', "1/3 in"), ('⅔"', "2/3 in"), ('⅙"', "1/6 in"), ('⅚"', "5/6 in"), ('6-½"', "6.5 in"), ("12'6½\"", "150.5 in"),
    ("12′-6⅝″", "150.625 in"), ('6 1⁄2"', "6.5 in"), ('6 1∕2"', "6.5 in"), ("12'–6\"", "150 in"), ("12'—6\"", "150 in"),
    ("12'‑6\"", "150 in"), ("12'−6\"", "150 in"), ("12'‐6\"", "150 in"), ("½ ft", "6 in"), ("12½ ft", "150 in"),
    # white space and what cannot be seen
    ("12'\u00a06\"", "150 in"), ("12'\u202f6\"", "150 in"), ("12'\u20096\"", "150 in"), ("12'\u30006\"", "150 in"), ("12'\t6\"", "150 in"),
    ("12'\n6\"", "150 in"), ("  12'   6\"  ", "150 in"), ("\u200b12'", "144 in"), ("\ufeff12'", "144 in"), ("12'\u200e", "144 in"),
    ("12'\u200d6\"", "150 in"), ("1\u00ad2'", "144 in"), ("\u206012' 6\"", "150 in"),
    # metric
    ("3810 mm", "3810 mm"), ("3810mm", "3810 mm"), ("3810 MM", "3810 mm"), ("3810.0 mm", "3810 mm"), ("3810. mm", "3810 mm"),
    ("381 cm", "3810 mm"), ("381cm", "3810 mm"), ("3.81 m", "3810 mm"), ("3.81m", "3810 mm"), ("3.81 M", "3810 mm"), ("12.5 mm", "12.5 mm"),
    ("12.7 mm", "0.5 in"), ("1.27 cm", "0.5 in"), (".0127 m", "0.5 in"), ("0 mm", "0 mm"), ("3810 mm.", "3810 mm"), ("3.81 m.", "3810 mm"),
    ("3810 millimeters", "3810 mm"), ("3810 millimetres", "3810 mm"), ("1 millimeter", "1 mm"), ("381 centimeters", "3810 mm"),
    ("381 centimetres", "3810 mm"), ("1 centimetre", "10 mm"), ("3.81 meters", "3810 mm"), ("3.81 metres", "3810 mm"), ("1 meter", "1000 mm"),
    ("3 810 mm", "3810 mm"), ("3\u202f810 mm", "3810 mm"), ("3\u00a0810.5 mm", "3810.5 mm"), ("12 1/2 mm", "12.5 mm"), ("½ m", "500 mm"),
    ("3\u2009810\u00a0mm", "3810 mm"),
    # decimal commas that can be nothing else
    ('12,5"', "12.5 in"), ("12,5 mm", "12.5 mm"), ("3,81 m", "3810 mm"), ('0,125"', "0.125 in"), ("0,5 m", "500 mm"), ("12' 6,5\"", "150.5 in"),
    ("12,50'", "150 in"), ("1234,567 mm", "1234.567 mm"), ("1,2345 m", "1234.5 mm"), ("1,250.5 mm", "1250.5 mm"),
    ("1.250,5 mm", "1250.5 mm"), ("3 810,5 mm", "3810.5 mm"), ("1,250,000 mm", "1250000 mm"), ("1.250,50 mm", "1250.5 mm"),
    # refused on both
    ("", "empty"), (" ", "empty"), ("\u200b", "empty"), ("\u00a0", "empty"), ("-5", "negative"), ("-5'", "negative"), ('−5"', "negative"),
    ("–5", "negative"), ("- 5 mm", "negative"), ("-0", "negative"), ("twelve feet", "none"), ("12 feet about", "none"), ("about 12'", "none"),
    ("10' 12'", "two"), ('10" 12"', "two"), ("12' 6\" 3\"", "two"), ("8 x 10", "two"), ('8"x10"', "two"), ("8 × 10", "two"), ("8×10", "two"),
    ("8' by 10'", "two"), ("8' to 10'", "two"), ("12'; 14'", "two"), ("12' & 14'", "two"), ("12' + 2\"", "two"), ("12 6", "two"),
    ('12 6 1/2"', "two"), ("1 m 20 cm", "two"), ("12' 6' 3\"", "two"), ("12' 6 7", "two"), ("12' 6\"1/2", "none"), ("3.81m 150in", "two"),
    ("12' or 13'", "two"), ("12' 12\"", "inches"), ("12' 14", "inches"), ("12' 12 1/2\"", "inches"), ("12'12", "inches"), ("12.5' 6\"", "feet"),
    ("12 1/2' 6\"", "feet"), ("½' 3\"", "feet"), ('21/2"', "upper"), ('3/2"', "upper"), ('4/4"', "upper"), ('12 9/8"', "upper"),
    ('1/0"', "zero"), ('12 1/0"', "zero"), ('3/19"', "tape"), ('6 5/7"', "tape"), ("12' 6 5/9\"", "tape"), ('1/128"', "tape"),
    ('12 1/5"', "tape"), ("1/2/3", "none"), ("6.5 1/2", "two"), ("6½ 1/2", "two"), ("½½", "two"), ("6½½", "two"), ("1,250 mm", "readings"),
    ('1,250"', "readings"), ("12,375'", "readings"), ("12' 1,250\"", "readings"), ("12, 6", "comma"), ("1,25,3", "comma"), ("12',6\"", "comma"),
    ("4, 20, 36", "comma"), ("1.25,3", "comma"), ("12,", "comma"), ("1,,5", "comma"), ("1.2.3", "none"), ("1..2", "none"), ("..5", "none"),
    (".", "none"), ("'", "none"), ('"', "none"), ("/", "none"), ("1/", "none"), ("/2", "none"), ("1e3", "none"), (',5"', "comma"), ("1_000", "none"), ("0x10", "two"),
    ("NaN", "none"), ("Infinity", "none"), ("TRUE", "none"), ("#REF!", "none"), ("2024-01-02", "none"), ("1:30", "none"), ("12:6", "none"),
    ("6 - 1/2", "none"), ("6 -1/2", "none"), ("12' -", "none"), ("12'-", "none"), ("ft", "none"), ("in", "none"), ("mm", "none"), ("+5", "none"),
    ("12 yd", "unit"), ("12 km", "unit"), ("12 µm", "unit"), ("12 feets", "unit"), ("12 incheſ", "none"), ("12 sq ft", "none"), ("12 kg", "unit"),
    ("50%", "share"), ("12 %", "share"), ("=1+1", "formula"), ("=1/2", "formula"), ("=\"12'\"", "formula"), ("١٢", "none"), ("१२", "none"),
    ("１２", "none"), ("12'6\"\"", "none"), ("12''6'", "none"), ("<b>12</b>", "none"), ("9" * 10, "none"), ("1." + "1" * 18, "none"),
    ("9" * 5000, "none"), ("5-11", "none"), ("5-11 3/4", "none"), ('12-6"', "none"), ("12'6'", "none"), ("n/a", "none"), ("?", "none"),
    ("see note", "none"), ("12' 6\" +/-", "none"), ("12\\'", "none"), ("12' 6\" OK", "none"),
]  # fmt: skip
"""Spelling and outcome on sheets of both kinds."""

BY_UNITS: list[tuple[str, str, str]] = [
    # bare figures: inches on an imperial sheet, millimeters on a metric one
    ("150", "150 in", "150 mm"), ("150.5", "150.5 in", "150.5 mm"), ("6", "6 in", "6 mm"), ("6.", "6 in", "6 mm"), (".5", "0.5 in", "0.5 mm"),
    ("0", "0 in", "0 mm"), ("007", "7 in", "7 mm"), ("3810", "3810 in", "3810 mm"), ("12.541666666666668", "12.541666666666668 in", "12.541666666666668 mm"),
    ("\u00a0150\u00a0", "150 in", "150 mm"), ("999999999", "999999999 in", "999999999 mm"),
    # bare fractions: inches, and asked about on a metric sheet
    ("1/2", "0.5 in", "ask"), ("3/8", "0.375 in", "ask"), ("6 1/2", "6.5 in", "ask"), ("6-1/2", "6.5 in", "ask"), ("6½", "6.5 in", "ask"),
    ("½", "0.5 in", "ask"), ("150 1/2", "150.5 in", "ask"), ("9 7/16", "9.4375 in", "ask"), ("6- 1/2", "6.5 in", "ask"), ("0/2", "0 in", "ask"),
    ("21/2", "upper", "upper"), ("3/19", "tape", "tape"),
    # groups of three figures: metric alone
    ("3 810", "two", "3810 mm"), ("3\u202f810", "two", "3810 mm"), ("3 810.5", "two", "3810.5 mm"), ("12 100", "two", "12100 mm"),
    # decimal commas: a bare one on an imperial sheet may stand between feet and inches
    ("12,5", "feet or inches", "12.5 mm"), ("12,6", "feet or inches", "12.6 mm"), ("12,11", "feet or inches", "12.11 mm"),
    ("12,50", "12.5 in", "12.5 mm"), ("12,12", "12.12 in", "12.12 mm"), ("0,125", "0.125 in", "0.125 mm"), ("1,250", "readings", "readings"),
    ("3810,5", "3810.5 in", "3810.5 mm"), ("1,250.5", "1250.5 in", "1250.5 mm"), ("1.250,5", "1250.5 in", "1250.5 mm"),
]  # fmt: skip
"""Spelling, outcome on an imperial sheet, outcome on a metric one."""

SPELLINGS: list[tuple[str, str, str]] = [
    *((text, units, outcome) for text, outcome in ONE_MEANING for units in ("imperial", "metric")),
    *((text, "imperial", imperial) for text, imperial, _ in BY_UNITS),
    *((text, "metric", metric) for text, _, metric in BY_UNITS),
]
"""Spelling, units of the sheet, outcome."""
