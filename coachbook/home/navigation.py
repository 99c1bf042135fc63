"""What the frame of every page needs: the club, the help page, one's teams, a team's tabs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from django.http import HttpRequest
from django.urls import reverse
from django.utils.functional import Promise, SimpleLazyObject
from django.utils.translation import gettext_lazy as _

from coachbook.help.pages import topic_of_route
from roster.models import Team
from shared.models import Club, User

MOST_TEAMS: Final = 8  # in the bar; the first page has them all


@dataclass(frozen=True, slots=True)
class TabPage:
    """A link in the frame; ``section`` is what views call the pages that belong to it.

    ``when_there`` keeps it out of sight elsewhere: who wants it finds the way where it is wanted.
    """

    label: Promise
    route: str
    section: str
    coach_only: bool = False
    when_there: bool = False


@dataclass(frozen=True, slots=True)
class Tab:
    """One of a team's five tabs, with the pages within it, the first of which it opens."""

    label: Promise
    pages: tuple[TabPage, ...]

    @property
    def route(self) -> str:
        """What a tap on the tab opens."""
        return self.pages[0].route

    @property
    def sections(self) -> frozenset[str]:
        """The sections whose pages stand under this tab."""
        return frozenset(each.section for each in self.pages)


TABS: Final = (
    Tab(_("Today"), (TabPage(_("Today"), "team", "team"),)),
    Tab(_("Roster"), (TabPage(_("Roster"), "roster", "roster"),)),
    Tab(
        _("Plays"),
        (
            TabPage(_("Package"), "package", "package"),
            TabPage(_("Cast"), "cast", "cast"),
            TabPage(_("The five"), "the-five", "five"),
            TabPage(_("Coverage"), "coverage", "coverage", when_there=True),
        ),
    ),
    Tab(
        _("Practice"),
        (
            TabPage(_("Practices"), "practices", "practices"),
            TabPage(_("Calendar"), "calendar", "calendar"),
            TabPage(_("Readiness"), "readiness", "readiness"),
            TabPage(_("Drills"), "drills", "drills"),
        ),
    ),
    Tab(
        _("Sheets"),
        (
            TabPage(_("Sheets"), "sheets", "sheets"),
            TabPage(_("Print"), "print", "print"),
            TabPage(_("Personal links"), "link-cards", "links", coach_only=True),
            TabPage(_("Understood"), "understood", "understood", coach_only=True),
        ),
    ),
)


def navigation(request: HttpRequest) -> dict[str, Any]:
    """The club, read only where a template shows it, the help page for this page, the tabs."""
    route = request.resolver_match.url_name if request.resolver_match else None
    topic = topic_of_route().get(route or "")
    address = reverse("help-topic", args=[topic]) if topic else reverse("help")
    return {
        "club": SimpleLazyObject(Club.objects.first),
        "help_address": address,
        "team_tabs": TABS,
        "bar_teams": SimpleLazyObject(lambda: teams_in_bar(getattr(request, "user", None))),
    }


def teams_in_bar(user: object) -> list[Team]:
    """The teams in which somebody has a place and whose season goes on, by name: one query.

    Who runs the club without a place in any team finds all of them on the first page.
    """
    if not isinstance(user, User):
        return []
    rows = Team.objects.filter(staff_places__user=user, archived_on=None)
    return list(rows.only("name", "season")[:MOST_TEAMS])
