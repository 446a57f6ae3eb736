"""The addresses of what becomes of children's data."""

from django.urls import path

from portal.data_protection.consent import views
from portal.data_protection.data_export import views as copies
from portal.data_protection.views import children, desk, family, worry

app_name = "privacy"
CHILD = "children/<int:child_pk>/privacy/"
urlpatterns = [
    path("privacy/", family.family, name="family"),
    path("privacy/children/<int:child_pk>/consent/", family.consent, name="consent"),
    path("privacy/children/<int:child_pk>/copy/", family.copy, name="family-copy"),
    path("privacy/children/<int:child_pk>/ask/", family.ask, name="ask"),
    path("copies/<str:token>/", copies.copy_page, name="copy"),
    path("copies/<str:token>/state/", copies.copy_state, name="copy-state"),
    path("copies/<str:token>/file/", copies.copy_file, name="copy-file"),
    path("worry/", worry.worry, name="worry"),
    path("classes/<int:class_pk>/consents/", views.class_consents, name="class-consents"),
    path("school/privacy/", desk.desk, name="desk"),
    path("school/privacy/rules/", desk.rules, name="rules"),
    path("school/privacy/tonight/", desk.what_goes_tonight, name="tonight"),
    path("school/privacy/wishes/<int:wish_pk>/settle/", desk.settle, name="settle"),
    path(CHILD, children.child_page, name="child"),
    path(f"{CHILD}paper/", children.paper, name="paper"),
    path(f"{CHILD}hold/", children.hold, name="hold"),
    path(f"{CHILD}copy/", children.copy, name="child-copy"),
    path(f"{CHILD}erase/", children.erase, name="erase"),
]
