"""Shows the service at work: installs it beside itself, starts it, sends a sample room sheet through it.

    python3 deploy/start.py            keeps serving until Ctrl-C
    python3 deploy/start.py --once     writes the documents to .run/first-quote/ and ends
    python3 deploy/start.py --help     options and exit codes

This file must be readable by any old Python, so that it can say in words which one is needed.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - an older Python must be told, not shown a syntax error
    sys.stderr.write("This needs Python 3.11 or newer; this is Python {}.{}.\n".format(*sys.version_info))
    sys.stderr.write("Start it with a newer one, for example: python3.12 deploy/start.py\n")
    sys.exit(3)

if __name__ == "__main__":
    import first_quote

    sys.exit(first_quote.main())
