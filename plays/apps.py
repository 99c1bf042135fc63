from django.apps import AppConfig


class PlaysConfig(AppConfig):
    """The play library."""

    name = "plays"
