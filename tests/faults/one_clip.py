"""Puts one clip that waits to be prepared into the database of DATA_DIR, and queues it.

Run as `python -m tests.faults.one_clip FILE`; prints the id of the piece.
"""

import sys
from pathlib import Path

import django


def main(clip: Path) -> None:
    """Make the invented school with one submission, its clip in the store."""
    django.setup()
    from evidence.jobs import queue
    from tests.evidence.builders import make_arrived_piece, make_submission
    from tests.village import Village

    piece = make_arrived_piece(
        make_submission(Village.build()), clip.read_bytes(), kind="clip", turn=90
    )
    queue([piece.pk])
    sys.stdout.write(f"{piece.pk}\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
