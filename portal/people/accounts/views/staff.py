"""Who works at the school: kept by its leads."""

from django.contrib import messages
from django.db.models import Exists, F, OuterRef
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe
from django_otp.plugins.otp_totp.models import TOTPDevice

from portal.people.accounts.forms.staff import PostForm, StaffForm
from portal.people.accounts.reauthentication import needs_proof
from portal.people.accounts.staff import (
    HeldAlreadyError,
    LastLeadError,
    add_post,
    change_post,
    end_post,
    remove_second_step,
    want_link,
)
from portal.people.asking import SignedInRequest
from portal.people.audit.log import record
from portal.people.models import Event, School, SchoolClass, StaffPost


def school_led(request: SignedInRequest) -> School:
    """Return the school that who is signed in leads. Raises Http404 for anybody else."""
    led = (post.school for post in request.user.posts_held if post.role == StaffPost.Role.LEAD)
    if (school := next(led, None)) is None:
        raise Http404
    return school


def post_led(request: SignedInRequest, post_pk: int) -> StaffPost:
    """Return a current post at that school. Raises Http404."""
    posts = StaffPost.objects.active().filter(school=school_led(request))
    return get_object_or_404(posts.select_related("user", "school"), pk=post_pk)


@require_safe
def staff(request: SignedInRequest) -> HttpResponse:
    """List who works at the school, with what they do and when they last came in."""
    school = school_led(request)
    steps = TOTPDevice.objects.filter(user=OuterRef("user"), confirmed=True)
    posts = (
        StaffPost.objects.active()
        .filter(school=school)
        .select_related("user")
        .prefetch_related("classes")
        .annotate(has_second_step=Exists(steps))
        .order_by(F("user__last_login").asc(nulls_first=True), "user__name")
    )
    return render(request, "accounts/staff.html", {"school": school, "posts": posts})


@require_http_methods(["GET", "HEAD", "POST"])
def add(request: SignedInRequest) -> HttpResponse:
    """Add somebody to the staff, by a mail with a link to set a password."""
    return needs_proof(add_to)(request, school_led(request))


def add_to(request: SignedInRequest, school: School) -> HttpResponse:
    """Take who is to be added at *school*."""
    form = StaffForm(school, request.POST or None)
    if form.is_valid():
        post = add_post(school, **form.cleaned_data)
        record(request, Event.What.STAFF_ADDED, post, school=school)
        messages.success(request, _("Added. A mail with a link to set a password is on its way."))
        return redirect("people:staff")
    return render(request, "accounts/staff_add.html", {"form": form})


@require_http_methods(["GET", "HEAD", "POST"])
def change(request: SignedInRequest, post_pk: int) -> HttpResponse:
    """Change what somebody does at the school, and in which classes."""
    return needs_proof(change_to)(request, post_led(request, post_pk))


def change_to(request: SignedInRequest, post: StaffPost) -> HttpResponse:
    """Take what the holder of *post* does from now on."""
    first = {"role": post.role, "classes": SchoolClass.objects.filter(posts=post)}
    form = PostForm(post.school, request.POST or None, initial=first)
    if form.is_valid():
        try:
            change_post(post, **form.cleaned_data)
        except LastLeadError:
            form.add_error("role", _("A school keeps at least one lead. Add another first."))
        except HeldAlreadyError:
            form.add_error("role", _("They already have that post: change the other one."))
        else:
            record(request, Event.What.STAFF_CHANGED, post, school=post.school)
            messages.success(request, _("Changed, from now on."))
            return redirect("people:staff")
    return render(request, "accounts/staff_post.html", {"form": form, "post": post})


@require_POST
def end(request: SignedInRequest, post_pk: int) -> HttpResponse:
    """End somebody's post: they are out with their next request."""
    post = post_led(request, post_pk)
    try:
        end_post(post)
    except LastLeadError:
        messages.warning(request, _("A school keeps at least one lead. Add another first."))
        return redirect("people:staff-post", post_pk)
    record(request, Event.What.STAFF_ENDED, post, school=post.school)
    messages.success(request, _("Ended. They can no longer open anything here."))
    return redirect("people:staff")


@require_POST
def send_link(request: SignedInRequest, post_pk: int) -> HttpResponse:
    """Send somebody a new link to set a password."""
    return needs_proof(send_link_to)(request, post_led(request, post_pk))


def send_link_to(request: SignedInRequest, post: StaffPost) -> HttpResponse:
    """Have the mail sent to the holder of *post*."""
    want_link(post)
    messages.success(request, _("A mail with a link to set a password is on its way."))
    return redirect("people:staff-post", post.pk)


@require_POST
def drop_second_step(request: SignedInRequest, post_pk: int) -> HttpResponse:
    """Remove the second step of somebody who has lost phone and recovery codes."""
    return needs_proof(drop_step_of)(request, post_led(request, post_pk))


def drop_step_of(request: SignedInRequest, post: StaffPost) -> HttpResponse:
    """Remove the second step of the holder of *post*."""
    if remove_second_step(post):
        record(request, Event.What.SECOND_STEP_REMOVED, post.user, school=post.school)
        messages.success(request, _("Removed. They set it up again when they next sign in."))
    else:
        messages.warning(request, _("They work at another school as well: ask there too."))
    return redirect("people:staff-post", post.pk)


@require_POST
@needs_proof
def second_step_rule(request: SignedInRequest) -> HttpResponse:
    """Set whether the school asks its staff for the second step."""
    school = school_led(request)
    school.requires_second_factor = request.POST.get("asks") == "yes"
    school.save(update_fields=["requires_second_factor"])
    record(request, Event.What.RULE_CHANGED, school, school=school)
    messages.success(request, _("Changed for everybody who works here."))
    return redirect("people:staff")
