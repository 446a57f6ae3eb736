from django.apps import AppConfig


class PrivacyConfig(AppConfig):
    name = "portal.data_protection"
    label = "privacy"
    verbose_name = "Privacy"
