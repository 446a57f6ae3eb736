"""The addresses of the portal as a demo has them."""

from django.urls import include, path

from portal.urls import urlpatterns as portals

urlpatterns = [*portals, path("demo/", include("portal.demo.urls"))]
