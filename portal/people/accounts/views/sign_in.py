"""Coming in and going out."""

from django.contrib import messages
from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from portal.people.accounts.forms.sign_in import (
    AddressForm,
    CodeForm,
    LinkForm,
    SlipForm,
    StaffSignInForm,
)
from portal.people.accounts.known_browsers import leave
from portal.people.accounts.next_url import go_on, remember
from portal.people.accounts.rate_limits import were_slips_wrong_too_often
from portal.people.accounts.reauthentication import mark_fresh
from portal.people.accounts.sign_in import (
    ADDRESS,
    MODEL_BACKEND,
    SlipTakenError,
    TooOftenError,
    ask_for_code,
    let_in,
    let_in_by_code,
    password_instead,
    use_code,
    use_slip,
)
from portal.people.asking import SignedInRequest
from portal.people.audit.log import record
from portal.people.models import Device, Event, Invitation, User
from portal.people.timezone_middleware import school_of

TOO_OFTEN = 429


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    """Ask an adult at home for an address, and send a code there."""
    if wanted := request.GET.get("next"):
        remember(request, wanted)
    form = AddressForm(request.POST or None)
    if form.is_valid():
        try:
            ask_for_code(request, form.cleaned_data["email"])
        except TooOftenError:
            form.add_error(None, too_often_words())
            return render(request, "accounts/sign_in.html", {"form": form}, status=TOO_OFTEN)
        return redirect("people:code")
    return render(request, "accounts/sign_in.html", {"form": form})


def too_often_words() -> str:
    """Say what to do when codes were asked for too often; the same for any address."""
    return _(
        "Too many codes were asked for. Use the last mail, wait a quarter of an hour and ask "
        "again, or ask school for a slip."
    )


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def code(request: HttpRequest) -> HttpResponse:
    """Take the code from the mail: sign in, or confirm the address of who is signed in."""
    if ADDRESS not in request.session:
        return redirect("people:sign-in")
    form = CodeForm(request.POST or None)
    if form.is_valid():
        user = use_code(request, form.cleaned_data["code"])
        if user is not None:
            return redirect(let_in_by_code(request, user))
        form.add_error(
            "code",
            _(
                "This code is wrong or too old. Open the link in the mail here, or ask for "
                "a new code."
            ),
        )
    address = request.session[ADDRESS]
    return render(request, "accounts/code.html", {"form": form, "address": address})


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def link(request: HttpRequest) -> HttpResponse:
    """Take the link from the mail: a button, so that a scanner which opens links spends nothing."""
    form = LinkForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        user = use_code(request, form.cleaned_data["link"])
        if user is not None:
            return redirect(let_in_by_code(request, user))
        form.add_error(
            None,
            _(
                "The link is too old, was used already, or was asked for on another device. "
                "Open it where you asked, or type the 6 digits there."
            ),
        )
    context = {"form": form, "has_asked": ADDRESS in request.session}
    return render(request, "accounts/link.html", context)


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def staff_sign_in(request: HttpRequest) -> HttpResponse:
    """Sign a member of staff in by password."""
    if wanted := request.GET.get("next"):
        remember(request, wanted)
    form = StaffSignInForm(request, request.POST or None)
    if form.is_valid() and form.user:
        return redirect(let_in(request, form.user))
    if form.too_often:
        return locked_out(request, HttpResponse(), None)
    if form.is_bound and form.user is None and "email" in form.cleaned_data:
        known = User.objects.proved(form.cleaned_data["email"]).first()
        record(request, Event.What.SIGN_IN_FAILED, known, school=school_of(known))
    return render(request, "accounts/staff_sign_in.html", {"form": form})


def locked_out(
    request: HttpRequest, response: HttpResponse, credentials: dict[str, str] | None
) -> HttpResponse:
    """Say that the password was wrong too often here, and when it may be tried again."""
    return render(request, "accounts/locked_out.html", status=TOO_OFTEN)


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def come_in(request: HttpRequest) -> HttpResponse:
    """Let the holder of a printed slip or a mailed invitation in, as at home with its child."""
    me = request.user if request.user.is_authenticated else None
    first = {"name": me.name, "email": me.email} if me else None
    form = SlipForm(request.POST or None, initial=first)
    if form.is_bound and "slip" in form.errors and were_slips_wrong_too_often(request):
        context = {"form": SlipForm(initial=first), "too_often": True}
        return render(request, "accounts/join_by_slip.html", context, status=TOO_OFTEN)
    if form.is_valid():
        email = me.email if me else form.cleaned_data["email"]
        reached = email or form.cleaned_data["slip"].email
        if me is None and User.objects.proved(reached).exists():
            form.add_error(
                "email",
                _(
                    "This address is in use here. If it is yours, sign in first, then use the "
                    "slip. If not, type another or none."
                ),
            )
        elif (user := enter(request, form, me, email)) is not None:
            return redirect(way_on(request, user, is_new=me is None))
    return render(request, "accounts/join_by_slip.html", {"form": form})


def enter(request: HttpRequest, form: SlipForm, me: User | None, email: str) -> User | None:
    """Use the slip of a valid *form* and sign its holder in; None with an error on the form.

    It proves again who somebody is that has no address for a code: to a home of their own.
    """
    invitation = form.cleaned_data["slip"]
    own = me is not None and not me.is_proved and is_home_of(me, invitation)
    try:
        user = use_slip(invitation, me, name=form.cleaned_data["name"], email=email)
    except SlipTakenError:
        form.add_error("slip", _("This slip has just been used. Ask school for a new one."))
        return None
    if me is None and not user.has_post:
        login(request, user, backend=MODEL_BACKEND)
    if own or (me is None and not user.has_post):
        mark_fresh(request)
    record(request, Event.What.CAME_IN, invitation, who=user)
    return user


def is_home_of(me: User, invitation: Invitation) -> bool:
    """Whether *invitation* is to a child that *me* is at home with already, in that home."""
    return me.guardianships.current().filter(child=invitation.child, home=invitation.home).exists()


def way_on(request: HttpRequest, user: User, *, is_new: bool) -> str:
    """Return where *user*, who used a slip, goes on: to prove an address that was typed, first."""
    if is_new and user.has_post:
        return password_instead(request)
    if is_new and user.email and not user.is_proved:
        return reverse("people:confirm")
    return go_on(request)


@require_http_methods(["GET", "HEAD", "POST"])
def confirm(request: SignedInRequest) -> HttpResponse:
    """Offer to confirm the address that was typed, so that codes may be sent there."""
    if request.user.is_proved or not request.user.email:
        return redirect("people:account")
    if request.method == "POST":
        try:
            ask_for_code(request, request.user.email)
        except TooOftenError:
            messages.warning(request, too_often_words())
            return redirect("people:confirm")
        return redirect("people:code")
    return render(request, "accounts/confirm.html")


@login_not_required
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """End the session, and have the browser forget what it kept."""
    if request.user.is_authenticated:
        record(request, Event.What.SIGNED_OUT)
        Device.objects.filter(session_key=request.session.session_key).delete()
    leave(request)
    messages.success(request, _("You have signed out."))
    response = redirect("people:sign-in")
    kept = "keep" in request.POST  # what one typed and did not save, on one's own computer
    response["Clear-Site-Data"] = '"cache"' if kept else '"cache", "storage"'
    return response
