"""Where the pages of the library live."""

from __future__ import annotations

from django.urls import path

from plays.views import library, play

urlpatterns = [
    path("", library.library, name="library"),
    path("<slug:key>/", play.play, name="play"),
    path("<slug:key>/revisions/<int:number>/", play.play, name="revision"),
    path("<slug:key>/revisions/<int:number>/file/", play.play_file, name="play-file"),
]
