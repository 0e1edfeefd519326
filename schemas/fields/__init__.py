"""Strict fields of requests: every spelling a sheet or a JSON document may use, and nothing else.

marshmallow's own fields accept more than the contract (digit groups, exponents, a trailing newline) and
round in silence; these refuse with a code, what was found and what to type.
"""
