from django.apps import AppConfig


class SharedConfig(AppConfig):
    """What every app uses: accounts, access, the record of changes, page helpers."""

    name = "shared"
