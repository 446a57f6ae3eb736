"""Puts the invented school into the database of DATA_DIR: work sent, some ready, a mail waiting.

Run as `python -m tests.portal.operations.filled`.
"""

import django

MANY = 40  # photos that are ready; each is two files


def main() -> None:
    """Make the village, submissions of both homes, their files, and the week's mails."""
    django.setup()
    from portal.people.models import Home, Invitation, User
    from tests.evidence.builders import jpeg, make_arrived_piece, make_ready_piece, make_submission
    from tests.village import Village

    village = Village.build()
    User.objects.update(email_confirmed_at="2026-09-01T00:00:00Z")
    Home.objects.update(wants_mail=True)
    aishas = make_submission(village, note="Canary-Wagtail counted spoons")
    for number in range(MANY):
        make_ready_piece(aishas, jpeg(f"hsl({9 * number}, 60%, 50%)"), position=number)
    make_arrived_piece(aishas, jpeg("white", (640, 480)))
    bens = make_submission(village, village.ben, village.bens_home)
    make_ready_piece(bens, jpeg("black"))
    Invitation.issue(village.aisha, village.first_home, village.people["office"])


if __name__ == "__main__":
    main()
