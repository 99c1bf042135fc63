from django.apps import AppConfig


class SharedConfig(AppConfig):
    """What every app uses: accounts, access, the record of changes, page helpers."""

    name = "shared"

    def ready(self) -> None:
        from shared import sure  # noqa: F401, PLC0415 - listens to who signs in
