"""Sharing by link: made and withdrawn by keepers, read by anybody, with copies that say whence."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from plays.access import kept_play_for
from plays.core.document.file import write_readable
from plays.core.moves.origins import copied
from plays.core.moves.translated import told_in
from plays.models import Play, SharedPlay
from plays.play.page import view_if_drawable
from plays.sharing import links
from plays.values import play_value
from shared.access import one_of, require, user_of
from shared.core.numbers import whole_number
from shared.models import Club
from shared.once import once
from shared.pages import page
from shared.phones import site_address
from shared.speech import language_now
from shared.sure import asks_password


@require_http_methods(["GET", "POST"])
@asks_password("POST")
@once
def share(request: HttpRequest, key: str = "") -> HttpResponse:
    """The links to a play, or without a key to the whole shelf: make one, or withdraw one."""
    user = user_of(request)
    require(user.may_edit_library)
    play = kept_play_for(user, key) if key else None
    if play is not None and (play.current is None or play.put_away):
        raise Http404
    if request.method == "POST":
        number = whole_number(request.POST.get("withdraw", ""))
        if number is None:
            links.share(play, user)
        elif links.withdraw(play, number, user):
            messages.success(request, _("The link opens nothing any more."))
        return redirect(request.path)
    base = site_address(request)
    rows = [
        (link, f"{base}{reverse('shared', args=[links.token(link)])}")
        for link in links.open_links(play)
    ]
    context = {"section": "library", "play": play, "rows": rows, "days": links.LASTS.days}
    return page(request, "plays/share.html", context, secret=True)


@login_not_required
@require_safe
def shared(request: HttpRequest, token: str, key: str = "") -> HttpResponse:
    """What a link opens: its play, or the list of the shelf, or one play of it."""
    link = _link(token)
    plays = links.plays_behind(link)
    if link.play_id is None and not key:
        context = {"plays": list(plays), "token": token, "until": link.opens_until}
        return page(request, "plays/shared_library.html", context, secret=True)
    play = _play(link, key)
    speech = language_now()
    value = told_in(play_value(play.published()), speech.code)
    context = {
        "play": play,
        "value": value,
        "view": view_if_drawable(value, speech),
        "token": token,
        "until": link.opens_until,
        "of_library": link.play_id is None,
    }
    return page(request, "plays/shared_play.html", context, secret=True)


@login_not_required
@require_safe
def shared_file(_request: HttpRequest, token: str, key: str) -> HttpResponse:
    """A copy as a play file, which says where it was taken from."""
    play = _play(_link(token), key)
    revision = play.published()
    value = copied(play_value(revision), f"{Club.objects.get()}, {revision}")
    response = HttpResponse(write_readable(value), content_type="application/json")
    name = f"{play.key}-{revision.number}.json"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


def _link(token: str) -> SharedPlay:
    found = links.link_behind(token)
    if found is None:
        raise Http404
    return found


def _play(link: SharedPlay, key: str) -> Play:
    plays = links.plays_behind(link)
    return one_of(plays, key=key) if key else one_of(plays)
