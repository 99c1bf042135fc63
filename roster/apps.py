from typing import Any

from django.apps import AppConfig
from django.db import transaction

from roster.verbs import VERBS
from shared.pieces import drop
from shared.verbs import tell


def forget_pieces(instance: Any, **_: Any) -> None:
    """A player was renamed, left or was erased: what was drawn with their name goes."""
    transaction.on_commit(lambda: drop(instance.team_id))


class RosterConfig(AppConfig):
    """Teams, players, the package and the cast."""

    name = "roster"

    def ready(self) -> None:
        """Tell the library how to ask which teams carry a play, and the record of changes how
        the roster's are told; forget pieces with their people."""
        from django.db.models.signals import post_delete, post_save  # noqa: PLC0415

        from plays.ports import answer_with  # noqa: PLC0415 - models are loaded by now
        from roster.package.answer import carriers_of  # noqa: PLC0415

        answer_with(carriers_of)
        tell(VERBS)
        for signal in (post_save, post_delete):
            signal.connect(forget_pieces, "roster.Player", dispatch_uid="forget_pieces")
