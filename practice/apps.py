from django.apps import AppConfig

from practice.verbs import VERBS
from shared.verbs import tell


class PracticeConfig(AppConfig):
    """Practices, games and reps."""

    name = "practice"

    def ready(self) -> None:
        """Tell the roster how to ask who is ready for which role, and what comes next; the
        library what games say of the check's index; and the record how its changes are told."""
        from plays.ports import index_with  # noqa: PLC0415
        from practice.dates.answer import coming  # noqa: PLC0415
        from practice.learned.index import games_index  # noqa: PLC0415
        from practice.readiness.answer import readiness_now  # noqa: PLC0415 - models are loaded by now
        from roster.ports import answer_with, dates_with  # noqa: PLC0415

        answer_with(readiness_now)
        dates_with(coming)
        index_with(games_index)
        tell(VERBS)
