"""Who asks: an account, or somebody who has not signed in."""

from typing import TYPE_CHECKING, TypeAlias, TypeGuard, Union

from django.http import HttpRequest

if TYPE_CHECKING:
    from django.contrib.auth.models import AnonymousUser

    from portal.people.models import User

# What `visible_to` and its sisters are asked about: `request.user`, whoever that is.
Asker: TypeAlias = Union["User", "AnonymousUser"]


class SignedInRequest(HttpRequest):
    """A request of somebody signed in, as every view gets it that is not opened to strangers."""

    user: "User"


def is_signed_in(request: HttpRequest) -> TypeGuard[SignedInRequest]:
    """Whether somebody signed in asks."""
    return request.user.is_authenticated
