"""Sends one more photo to the school of DATA_DIR, one that was never there before.

Run as `python -m tests.portal.operations.one_more`.
"""

import django


def main() -> None:
    """Add a piece that waits to be prepared to the first submission."""
    django.setup()
    from evidence.models import Submission
    from tests.evidence.builders import jpeg, make_arrived_piece

    make_arrived_piece(Submission.objects.earliest("pk"), jpeg("orange", (300, 200)))


if __name__ == "__main__":
    main()
