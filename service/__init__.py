"""Estimates interior trim: a filled room sheet in, a priced quote out."""
