"""The plays that come with the app, for a club that has no file of its own yet."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from coachbook.demo.files import demo_plays
from plays.files.bring_in import preview_of
from plays.files.file import FilePlay, PlayFile
from shared.access import require, user_of
from shared.pages import page


@require_safe
def starter_plays(request: HttpRequest) -> HttpResponse:
    """Show them like the plays of a file that was chosen: nothing is saved before it is sent."""
    user = user_of(request)
    require(user.may_edit_library)
    file = PlayFile(tuple(FilePlay(value.name, value, ()) for value in demo_plays()))
    context = {"section": "library", "preview": preview_of(file), "is_starter": True}
    return page(request, "plays/bring_in.html", context)
