from django.apps import AppConfig


class RosterConfig(AppConfig):
    """Teams, players, the package and the cast."""

    name = "roster"

    def ready(self) -> None:
        """Tell the library how to ask which teams carry a play."""
        from plays.ports import answer_with  # noqa: PLC0415 - models are loaded by now
        from roster.package.answer import carriers_of  # noqa: PLC0415

        answer_with(carriers_of)
