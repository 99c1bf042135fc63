from django.apps import AppConfig


class RosterConfig(AppConfig):
    """Teams, players, the package and the cast."""

    name = "roster"
