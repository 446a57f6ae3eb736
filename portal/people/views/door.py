"""Coming in and going out."""

from django.contrib import messages
from django.contrib.auth import login, logout
from django.contrib.auth.decorators import login_not_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from portal.people.coming_in import ADDRESS, SlipTakenError, ask_for_code, use_code, use_slip
from portal.people.forms import AddressForm, CodeForm, SlipForm, StaffSignInForm
from portal.people.models import User

MODEL_BACKEND = "django.contrib.auth.backends.ModelBackend"


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    """Ask an adult at home for an address, and send a code there."""
    form = AddressForm(request.POST or None)
    if form.is_valid():
        ask_for_code(request, form.cleaned_data["email"])
        return redirect("people:code")
    return render(request, "people/sign_in.html", {"form": form})


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
            login(request, user, backend=MODEL_BACKEND)
            return redirect("home")
        form.add_error("code", _("This code is wrong or too old. Ask for a new one."))
    address = request.session[ADDRESS]
    return render(request, "people/code.html", {"form": form, "address": address})


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def staff_sign_in(request: HttpRequest) -> HttpResponse:
    """Sign a member of staff in by password."""
    form = StaffSignInForm(request, request.POST or None)
    if form.is_valid():
        login(request, form.user)
        return redirect("home")
    return render(request, "people/staff_sign_in.html", {"form": form})


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def come_in(request: HttpRequest) -> HttpResponse:
    """Let the holder of a printed slip in, as being at home with its child."""
    me = request.user if request.user.is_authenticated else None
    first = {"name": me.name, "email": me.email} if me else None
    form = SlipForm(request.POST or None, initial=first)
    if form.is_valid():
        email = me.email if me else form.cleaned_data["email"]
        if me is None and User.objects.filter(email=email).exists():
            form.add_error(
                "email", _("You have been here before: sign in first, then use the slip.")
            )
        elif enter(request, form, me, email):
            return redirect("people:confirm" if me is None else "home")
    return render(request, "people/come_in.html", {"form": form})


def enter(request: HttpRequest, form: SlipForm, me: User | None, email: str) -> bool:
    """Use the slip of a valid *form* and sign its holder in; False with an error on the form."""
    try:
        user = use_slip(form.cleaned_data["slip"], me, name=form.cleaned_data["name"], email=email)
    except SlipTakenError:
        form.add_error("slip", _("This slip has just been used. Ask school for a new one."))
        return False
    if me is None:
        login(request, user, backend=MODEL_BACKEND)
    return True


@require_http_methods(["GET", "HEAD", "POST"])
@transaction.atomic
def confirm(request: HttpRequest) -> HttpResponse:
    """Offer to confirm the address, so that codes may be sent there."""
    if request.method == "POST":
        ask_for_code(request, request.user.email)
        return redirect("people:code")
    return render(request, "people/confirm.html")


@login_not_required
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """End the session, and have the browser forget what it kept."""
    logout(request)
    messages.success(request, _("You have signed out."))
    response = redirect("people:sign-in")
    response["Clear-Site-Data"] = '"cache", "storage"'
    return response
