"""Runs the whole gate in an environment of its own: style, types, floors, tests, coverage.

    python3 deploy/test.py             everything; exit 0 only when all of it passes
    python3 deploy/test.py --help      options and exit codes

This file must be readable by any old Python, so that it can say in words which one is needed.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - an older Python must be told, not shown a syntax error
    sys.stderr.write("This needs Python 3.11 or newer; this is Python {}.{}.\n".format(*sys.version_info))
    sys.stderr.write("Start it with a newer one, for example: python3.12 deploy/test.py\n")
    sys.exit(3)

if __name__ == "__main__":
    import gate

    sys.exit(gate.main())
