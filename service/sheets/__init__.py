"""Workbooks: the layouts as data, the guard before the reader, the reader, the templates."""
