"""Addresses that exist in the demo only."""

from django.contrib.auth.decorators import login_not_required
from django.urls import path

from portal.demo import views
from portal.gallery import Gallery

app_name = "demo"
urlpatterns = [
    path("", views.start, name="start"),
    path("as/<slug:key>/", views.come_in_as, name="as"),
    path("step/<slug:key>/", views.step, name="step"),
    path("mails/", views.mail, name="mails"),
    path("again/", views.again, name="again"),
    path("components/", login_not_required(Gallery.as_view()), name="components"),
]
