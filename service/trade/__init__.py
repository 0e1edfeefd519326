"""The trade book: every number that the trade, a maker or the law sets, with its source."""
