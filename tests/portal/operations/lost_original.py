"""Puts a piece into the database of DATA_DIR whose file is gone, and has it prepared.

Run as `python -m tests.portal.operations.lost_original`.
"""

import django


def main() -> None:
    """Make the village, a submission and its piece; delete the piece's file; send the job."""
    django.setup()
    from evidence.jobs import queue
    from evidence.storage import store
    from tests.evidence.builders import make_arrived_piece, make_submission
    from tests.village import Village

    piece = make_arrived_piece(make_submission(Village.build(), note="Canary-Note"))
    store.remove([piece.original])
    queue([piece.pk])


if __name__ == "__main__":
    main()
