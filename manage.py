#!/usr/bin/env python3
"""The door to everything: `python3 manage.py demo`, `start`, `test`, and Django's own commands.

Any Python 3.11 or newer will do. What is needed beyond it is installed on the first run
into an environment of the project's own, `.venv`; see coachbook/bootstrap.py.
"""

import sys

if __name__ == "__main__":
    if sys.version_info < (3, 11):  # noqa: UP036 - an older one is what it may be run with
        sys.exit("Coachbook needs Python 3.11 or newer; this is " + sys.version.split()[0] + ".")
    from coachbook import bootstrap

    sys.exit(bootstrap.main(sys.argv))
