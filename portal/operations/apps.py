from django.apps import AppConfig


class UpkeepConfig(AppConfig):
    name = "portal.operations"
    label = "upkeep"
    verbose_name = "Upkeep"
