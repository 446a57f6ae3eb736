#!/usr/bin/env python3
"""Run Kitchen Counter's commands, with the libraries they need.

Plain enough for any Python to read, so that an old one can say which is needed.
"""

import os
import sys

if sys.version_info < (3, 11):
    NEEDED = "Kitchen Counter needs Python 3.11 or newer; this is Python %d.%d (%s)."
    sys.exit(NEEDED % (sys.version_info[0], sys.version_info[1], sys.executable))

from pathlib import Path

# Taken from within the package, which itself needs the libraries that this fetches.
sys.path.insert(0, str(Path(__file__).resolve().parent / "portal"))
from installing.libraries import have_libraries

del sys.path[0]


def main():
    """Run the command that was given."""
    have_libraries(sys.argv)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "portal.settings")
    if sys.argv[1:2] in (["demo"], ["serve"], ["labels"]):
        from portal.supervisor import interrupts
        from portal.supervisor.options import settle

        interrupts.listen()
        settle(sys.argv[1], sys.argv[2:])
    from django.core.management import execute_from_command_line

    from portal.supervisor.sentences import in_sentences

    with in_sentences(sys.argv):
        execute_from_command_line(sys.argv)


if __name__ == "__main__":
    try:
        main()
    except KeyboardInterrupt:
        sys.stderr.write("Stopped.\n")
        sys.exit(130)
