from django.apps import AppConfig


class PracticeConfig(AppConfig):
    """Practices, games and reps."""

    name = "practice"
