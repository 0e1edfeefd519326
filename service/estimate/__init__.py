"""The estimate, pure: measured rooms and a price list in, a priced quote out; no clock, file, log or global."""
