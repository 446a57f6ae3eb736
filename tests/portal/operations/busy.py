"""Families send and workers finish, again and again, until somebody closes our input.

Run as `python -m tests.portal.operations.busy`; prints a line after each round, and at the end for
how many seconds the slowest of them was held up.
"""

import select
import sys
import time

import django


def main() -> None:
    """Take in a photo, then make the one before ready and delete its original."""
    django.setup()
    from evidence.models import Piece, Rendition, Submission
    from evidence.storage import store
    from tests.evidence.builders import jpeg, make_arrived_piece, stored

    submission = Submission.objects.earliest("pk")
    earlier: Piece | None = None
    slowest = 0.0
    while not select.select([sys.stdin], [], [], 0)[0]:
        began = time.monotonic()
        photo = jpeg(f"#{time.time_ns() % 0xFFFFFF:06x}", (120, 90))
        piece = make_arrived_piece(submission, photo)
        if earlier:
            name = stored(photo, store.RENDITIONS)
            Rendition.objects.create(
                piece=earlier, role="display", name=name, media_type="image/jpeg",
                size=len(photo), sha256=piece.sha256,
            )  # fmt: skip
            Piece.objects.filter(pk=earlier.pk).update(original="", state="ready")
            store.remove([earlier.original])
        earlier = piece
        slowest = max(slowest, time.monotonic() - began)
        sys.stdout.write("round\n")
        sys.stdout.flush()
    sys.stdout.write(f"slowest {slowest:.2f}\n")


if __name__ == "__main__":
    main()
