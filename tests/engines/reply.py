"""Has the teacher answer all that came into DATA_DIR's portal and was not looked at yet.

Run as `python -m tests.engines.reply`.
"""

import django

WORDS = "Both plates have the same. How did you check?"


def main() -> None:
    """Look at each and save the reply."""
    django.setup()
    from evidence.models import Submission
    from portal.people.models import User
    from tests.assessment.builders import looked

    teacher = User.objects.get(email="teacher@example.org")
    for submission in Submission.objects.filter(looked_at=None):
        looked(submission, teacher, reply=WORDS)


if __name__ == "__main__":
    main()
