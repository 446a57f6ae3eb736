"""Who has been signed in with this browser: what a stranger did elsewhere is not held against it.

The mark lies in the session that is left after signing out, for a fortnight. It opens nothing.
"""

from django.contrib.auth import logout
from django.http import HttpRequest

from portal.people.models import User

BEEN, RAN_OUT = "been here", "ran out"
MOST = 5


def note_been_here(request: HttpRequest, user: User) -> None:
    """Note that *user* has shown in this browser who they are."""
    others = [pk for pk in request.session.get(BEEN, []) if pk != user.pk]
    request.session[BEEN] = [user.pk, *others][:MOST]


def leave(request: HttpRequest, *, ran_out: bool = False) -> None:
    """End the session of who is signed in; *ran_out*: because its time was over."""
    user = request.user
    been = request.session.get(BEEN, [])
    logout(request)
    request.session[BEEN] = been
    if user.is_authenticated:
        note_been_here(request, user)
    if ran_out:
        request.session[RAN_OUT] = user.pk


def left_by_time(request: HttpRequest) -> User | None:
    """Return who was signed in here until their time ran out, if nobody has signed out since."""
    pk = getattr(request, "ran_out", None) or request.session.get(RAN_OUT)
    return User.objects.filter(pk=pk, is_active=True).first() if pk else None


def account_here(request: HttpRequest, email: str) -> User | None:
    """Return who has been signed in here with *email*, or is now; proved to be theirs or not."""
    email = User.normalise(email)
    here = getattr(request, "user", None)  # none yet while somebody is being signed in
    if here and here.is_authenticated:
        return here if email and here.email == email else None
    session = getattr(request, "session", None)
    been = session.get(BEEN) if session else None
    known = User.objects.filter(pk__in=been, is_active=True) if been else []
    return next((user for user in known if user.email == email), None)
