from django.urls import URLPattern

app_name = "tasks"
urlpatterns: list[URLPattern] = []
