"""What came back to a home: the replies to what it sent, and which of them it has not read yet."""

from django.db.models import Case, OuterRef, Subquery, When

from evidence.models import Submission, SubmissionQuerySet
from evidence.submissions.answered import not_read
from portal.people.asking import Asker
from portal.people.models import Child


def answered(user: Asker) -> SubmissionQuerySet:
    """Return what the home of *user* sent and is told that it was looked at."""
    own = Submission.objects.from_home_of(user).active()
    return own.answered().filter(look__isnull=False)


def has_news(user: Asker) -> bool:
    """Whether a reply came that the home of *user* has not opened yet."""
    # By the children: whose home it is from would else be asked of every submission there is.
    own = answered(user).filter(child__in=Child.objects.at_home_with(user))
    return own.unopened().exists()


def newest_replies(user: Asker) -> dict[int, Submission]:
    """Return by the key of each child of the home the work whose reply comes first on its card.

    The newest that was not opened yet; where all were, the newest. Asks the database once for
    all children, and once a reader: it is kept with *user* while a page is drawn.
    """
    if not hasattr(user, "newest_replies"):
        first = (
            answered(user)
            .filter(child=OuterRef("pk"))
            .order_by(Case(When(not_read(), then=0), default=1), "-looked_at", "-pk")
        )
        newest = Subquery(first.values("pk")[:1])
        keys = Child.objects.at_home_with(user).annotate(newest=newest).values("newest")
        works = Submission.objects.filter(pk__in=keys).select_related("look").whole()
        rows = works.prefetch_related("voice_replies")
        user.newest_replies = {work.child_id: work for work in rows}
    return user.newest_replies
