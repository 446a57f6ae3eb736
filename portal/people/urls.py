"""Addresses of the door and the roster."""

from django.urls import path

from portal.people.views import door, roster

app_name = "people"
urlpatterns = [
    path("sign-in/", door.sign_in, name="sign-in"),
    path("sign-in/code/", door.code, name="code"),
    path("sign-in/staff/", door.staff_sign_in, name="staff-sign-in"),
    path("come-in/", door.come_in, name="come-in"),
    path("come-in/confirm/", door.confirm, name="confirm"),
    path("sign-out/", door.sign_out, name="sign-out"),
    path("classes/", roster.classes, name="classes"),
    path("classes/<int:class_pk>/homes/", roster.roster, name="roster"),
    path("children/<int:child_pk>/invite/", roster.invite, name="invite"),
    path("children/<int:child_pk>/revoke/", roster.revoke, name="revoke"),
]
