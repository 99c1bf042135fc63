"""What is held about a player: a copy of it, taking it out, and when it goes by itself."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext
from django.views.decorators.http import require_http_methods, require_safe

from practice.privacy.clearing import latest_clearing
from practice.privacy.erase import erase, is_erased, mentions, plays_naming
from practice.privacy.held import counted_about, held_about, write_csv, write_json
from practice.privacy.retention import KEPT_FOR, expire, expiry_of
from roster.access import led_player_for, led_team_for
from shared.access import user_of
from shared.pages import page
from shared.record import note_change
from shared.sure import asks_password

# What a coach asks for first, by the table's name in the copy.
COUNTED = (
    ("casting", gettext_lazy("Roles")),
    ("rep role", gettext_lazy("Reps")),
    ("attendance", gettext_lazy("Attendance")),
    ("player link", gettext_lazy("Personal links")),
)


@asks_password("POST")
@require_http_methods(["GET", "POST"])
def player_data(request: HttpRequest, pk: int) -> HttpResponse:
    """What is held about a player, and the door out: POST erases."""
    user = user_of(request)
    player = led_player_for(user, pk)
    if request.method == "POST":
        (number,) = erase([player], user, typed="typed" in request.POST)
        said = _("The data is erased. What was done stays under %(number)s.")
        messages.success(request, said % {"number": number})
        return redirect("roster", player.team_id)
    held, erased = counted_about(player), is_erased(player)
    context = {
        "player": player,
        "team": player.team,
        "section": "roster",
        "erased": erased,
        "counts": [(word, held[table]) for table, word in COUNTED],
        "rows": held.total(),
        "mentions": [] if erased else list(dict.fromkeys(each.text for each in mentions(player))),
        "plays": [] if erased else plays_naming(player),
        "clearing": latest_clearing(),
    }
    return page(request, "practice/player_data.html", context)


@asks_password("GET")
@require_safe
def player_data_file(request: HttpRequest, pk: int, ending: str) -> HttpResponse:
    """Everything held about a player, as a file to hand over."""
    user = user_of(request)
    player = led_player_for(user, pk)
    facts = held_about(player)
    note_change(user, "took a player's data", player, team=player.team_id)
    is_json = ending == "json"
    response = HttpResponse(
        write_json(facts) if is_json else write_csv(facts),
        content_type="application/json" if is_json else "text/csv; charset=utf-8",
    )
    name = f"player-{player.pk}.{'json' if is_json else 'csv'}"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


@asks_password("POST")
@require_http_methods(["GET", "POST"])
def retention(request: HttpRequest, pk: int) -> HttpResponse:
    """What goes after the season, and when; POST lets it go where the day has come."""
    user = user_of(request)
    team = led_team_for(user, pk)
    expiry = expiry_of(team)
    today = timezone.localdate()
    if request.method == "POST":
        count = expire(expiry, user) if expiry else 0
        said = ngettext("%(n)d player is erased.", "%(n)d players are erased.", count)
        messages.success(request, said % {"n": count})
        return redirect("retention", pk)
    context = {
        "team": team,
        "section": "roster",
        "expiry": expiry,
        "days": KEPT_FOR.days,
        "due": expiry is not None and expiry.is_due(today),
        "clearing": latest_clearing(),
    }
    return page(request, "practice/retention.html", context)
