from django.apps import AppConfig


class UpkeepConfig(AppConfig):
    name = "portal.upkeep"
    label = "upkeep"
    verbose_name = "Upkeep"
