from django.apps import AppConfig

from coachbook.accounts.verbs import VERBS
from shared.verbs import tell


class CoachbookConfig(AppConfig):
    """The site: home, sign-in, start-up checks, commands that run the whole."""

    name = "coachbook"

    def ready(self) -> None:
        from coachbook import checks  # noqa: F401, PLC0415 - registers the checks
        from coachbook.accounts import sign_in_log  # noqa: F401, PLC0415 - listens to who signs in

        tell(VERBS)
