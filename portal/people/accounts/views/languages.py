"""Choosing a language, and what staff may know of each."""

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBadRequest
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST, require_safe

from portal.people.asking import SignedInRequest
from portal.people.languages import COOKIE, known
from portal.people.models import StaffPost
from portal.translation.languages import ENGLISH_NAMES, OWN_NAMES, RIGHT_TO_LEFT, catalogue

A_YEAR = 365 * 24 * 60 * 60


@login_not_required
@require_POST
def choose(request: HttpRequest) -> HttpResponse:
    """Go on in another language on the page where it was chosen."""
    language = known(request.POST.get("language"))
    if language is None:
        return HttpResponseBadRequest()
    back = request.POST.get("next", "")
    safe = back.startswith("/") and url_has_allowed_host_and_scheme(
        back, {request.get_host()}, require_https=request.is_secure()
    )
    response = redirect(back if safe else "home")
    if request.user.is_authenticated:
        request.user.language = language
        request.user.save(update_fields=["language"])
    response.set_cookie(
        COOKIE,
        language,
        max_age=A_YEAR,
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Lax",
    )
    return response


@require_safe
def languages(request: SignedInRequest) -> HttpResponse:
    """Tell lead and office which languages families can choose, and who has read each."""
    offices = (StaffPost.Role.LEAD, StaffPost.Role.OFFICE)
    if not any(post.role in offices for post in request.user.posts_held):
        raise Http404
    rows = [
        {
            "code": code,
            "name": ENGLISH_NAMES[code],
            "own_name": OWN_NAMES[code],
            "direction": "rtl" if code in RIGHT_TO_LEFT else "ltr",
            "catalogue": catalogue(code),
        }
        for code in OWN_NAMES
    ]
    return render(request, "accounts/languages.html", {"rows": rows})
