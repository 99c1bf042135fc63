from django.apps import AppConfig

from plays.verbs import VERBS
from shared.verbs import tell


class PlaysConfig(AppConfig):
    """The play library."""

    name = "plays"

    def ready(self) -> None:
        """Tell the record of changes how the library's are told."""
        tell(VERBS)
