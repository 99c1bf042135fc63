"""Every address by every kind of person. A new route that is missing from the table fails."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client
from django.urls import URLResolver, get_resolver, reverse
from django.utils import timezone

from coachbook.demo import factories
from plays.sharing.links import open_links, share
from plays.sharing.links import token as shared_token
from practice.dates.feeds import feed_link, token
from roster.models import PlayerLink
from roster.squad.links import link_for, path_of_player
from shared.models import User
from tests.cast import Cast

# What each kind of person gets from a GET: anybody without an account (visitor), the head
# coach of another team (stranger), this team's assistant and head coach, the keeper of the
# library, and who runs the club. 302 sends a visitor to sign in; 405 is a page for forms only.
OPEN = (200, 200, 200, 200, 200, 200)
KEPT = (302, 403, 403, 403, 200, 200)
STAFF = (302, 200, 200, 200, 200, 200)
CLUB = (302, 403, 403, 403, 403, 200)
TEAM = (302, 404, 200, 200, 404, 200)
DRAWN = (302, 404, 302, 302, 404, 302)  # a file that is made first: to the page with its button
COACHED = (302, 404, 403, 200, 404, 200)
SENDS = (302, 405, 405, 405, 405, 405)

TABLE: dict[str, tuple[int, ...]] = {
    "home": STAFF,
    "set-up": (404,) * 6,
    "set-up-link": (404,) * 6,
    "sign-in": (200, 302, 302, 302, 302, 302),
    "sign-in-code": (302,) * 6,  # nobody owes a code
    # Neither https nor this machine by its name: tests/coachbook/accounts/test_passkeys.py
    "sign-in-passkey": (405,) * 6,
    "ask-passkey": (405,) * 6,
    "passkeys": (302, *(404,) * 5),
    "ask-to-add-passkey": SENDS,
    "remove-passkey": SENDS,
    "end-persons-passkeys": SENDS,
    "forgotten": (404,) * 6,  # no mail server is named here: tests/coachbook/accounts/test_mail.py
    "sign-in-link": (404,) * 6,
    "sign-out": SENDS,
    "account": STAFF,
    "end-session": SENDS,
    "end-other-sessions": SENDS,
    "mail-address": (302, *(404,) * 5),
    "prove-mail": (302, *(404,) * 5),
    "codes": STAFF,
    "second-step": (302,) * 6,  # nobody owes one: tests/coachbook/accounts/test_second_step.py
    "ask-second-step": CLUB,
    "new-recovery-codes": SENDS,
    "end-codes": SENDS,
    "staff": CLUB,
    "staff-person": CLUB,
    "staff-place": SENDS,
    "staff-link": SENDS,
    "withdraw-staff-link": SENDS,
    "end-persons-codes": SENDS,
    "remove-person": CLUB,
    "bring-back-person": SENDS,
    "team-record": COACHED,
    "club-record": CLUB,
    "team-staff": COACHED,
    "change-duty": SENDS,
    "leave-staff": COACHED,
    "help": OPEN,
    "help-topic": OPEN,
    "health": OPEN,
    "library": STAFF,
    "play": STAFF,
    "revision": STAFF,
    "play-file": STAFF,
    "play-picture": STAFF,
    "play-card": STAFF,
    "library-file": STAFF,
    "playbook": STAFF,
    "playbook-file": (302, *(404,) * 5),  # nobody has asked for one
    "import-plays": KEPT,
    "starter-plays": KEPT,
    "write-play": KEPT,
    "written-play": SENDS,
    "rewrite-play": KEPT,
    "new-play": KEPT,
    "draw-play": KEPT,
    "drawn-play": KEPT,
    "judged-play": KEPT,
    "draw-photo": KEPT,
    "draw-photo-corners": SENDS,
    "draw-photo-drop": SENDS,
    "draw-photo-file": (302, 403, 403, 403, 404, 404),
    "checks": STAFF,
    "check": STAFF,
    "check-revision": STAFF,
    "check-motion": STAFF,
    "check-bands": STAFF,
    "apply-remedy": SENDS,
    "tune": KEPT,
    "tune-progress": KEPT,
    "stop-tuning": SENDS,
    "keep-tuned": SENDS,
    "revisions": STAFF,
    "edit-texts": KEPT,
    "translate-texts": KEPT,
    "save-view": KEPT,
    "publish-draft": SENDS,
    "discard-draft": SENDS,
    "share-play": KEPT,
    "share-library": KEPT,
    "shared": OPEN,
    "shared-play": OPEN,
    "shared-file": OPEN,
    "put-away": SENDS,
    "bring-back": SENDS,
    "new-team": CLUB,
    "team": TEAM,
    "edit-team": COACHED,
    "team-pace": COACHED,
    "team-ratings": COACHED,
    "new-unit": COACHED,
    "edit-unit": COACHED,
    "roster": TEAM,
    "new-player": COACHED,
    "import-roster": COACHED,
    "export-roster": TEAM,
    "edit-player": COACHED,
    "set-availability": SENDS,
    "leave-team": COACHED,
    "package": TEAM,
    "take-up": (302, 404, 403, 302, 404, 302),  # carried already: back to the package
    "take-up-ticked": SENDS,
    "edit-entry": COACHED,
    "drop-entry": SENDS,
    "update-revision": SENDS,
    "cast": TEAM,
    "cast-play": COACHED,
    "cast-cell": COACHED,
    "lock-cell": SENDS,
    "cast-stands": SENDS,
    "cast-record": TEAM,
    "cast-undo": SENDS,
    "cast-wishes": COACHED,
    "cast-pdf": TEAM,
    "propose-cast": SENDS,
    "cast-proposal": (302, 404, 403, 302, 404, 302),  # a part of the grid: back to it
    "accept-cast": SENDS,
    "stop-proposal": SENDS,
    "the-five": TEAM,
    "bench-card": TEAM,
    "coverage": TEAM,
    "wish-lesson": SENDS,
    "team-minutes": COACHED,
    "player-cast": TEAM,
    "player-data": COACHED,
    "player-data-file": COACHED,
    "retention": COACHED,
    "season": COACHED,
    "next-season": COACHED,
    "move-player": COACHED,
    "undo-move": SENDS,
    "put-season-away": SENDS,
    "bring-season-back": SENDS,
    "delete-team": COACHED,
    "sheets": TEAM,
    "make-links": SENDS,
    "link-cards": COACHED,
    "sheets-pdf": DRAWN,
    "sheets-zip": DRAWN,
    "print": TEAM,
    "print-booklets": SENDS,
    "paper": TEAM,
    "sheet": TEAM,
    "sheet-pdf": TEAM,
    "new-link": SENDS,
    "withdraw-link": SENDS,
    "withdraw-all-links": SENDS,
    "my-open": (405,) * 6,
    "my-worker": OPEN,
    "my-plays": OPEN,
    "my-play": OPEN,
    "my-reading": OPEN,
    "my-moving": OPEN,
    "my-motion": OPEN,
    "my-quiz": (200, 200, 200, 403, 200, 403),
    "understood": TEAM,
    "got-it": (405,) * 6,
    "my-sheet-pdf": OPEN,
    "practices": TEAM,
    "new-practice": COACHED,
    "new-game": COACHED,
    "practice": TEAM,
    "edit-practice": COACHED,
    "add-block": SENDS,
    "edit-block": COACHED,
    "attendance": TEAM,
    "log": TEAM,
    "practice-reps": TEAM,
    "take-rep-back": SENDS,
    "which-plays": TEAM,
    "two-plays": TEAM,
    "choice-progress": TEAM,
    "wish-play": SENDS,
    "choice-terms": SENDS,
    "take-package": SENDS,
    "take-package-back": SENDS,
    "game": TEAM,
    "game-log": TEAM,
    "call-sheet": TEAM,
    "call-board": TEAM,
    "call-sheet-pdf": TEAM,
    "new-called": TEAM,
    "edit-called": (302, *(404,) * 5),  # which possession?
    "take-called-back": SENDS,
    "after-game": TEAM,
    "practise-lesson": SENDS,
    "leave-lesson": SENDS,
    "played": TEAM,
    "install": TEAM,
    "propose": SENDS,
    "change-install": SENDS,
    "accept-install": SENDS,
    "improve": SENDS,
    "stop-improving": SENDS,
    "improve-progress": TEAM,
    "readiness": TEAM,
    "readiness-curve": TEAM,
    "assumptions": STAFF,
    "calibrate": SENDS,
    "calendar": TEAM,
    "new-series": COACHED,
    "add-absence": SENDS,
    "remove-absence": SENDS,
    "add-days-off": SENDS,
    "remove-days-off": SENDS,
    "drills": TEAM,
    "new-drill": COACHED,
    "take-drills": COACHED,
    "drill": TEAM,
    "edit-drill": COACHED,
    "drill-picture": TEAM,
    "films": TEAM,
    "called-films": (302, *(404,) * 5),  # no such possession
    "opponents": TEAM,
    "new-opponent": COACHED,
    "opponent": TEAM,
    "edit-opponent": COACHED,
    "new-observation": TEAM,
    "edit-observation": TEAM,
    "feeds": COACHED,
    "feed": OPEN,
    "edit-game": COACHED,
    "cancel-practice": SENDS,
    "order-blocks": SENDS,
    "begin-plan": SENDS,
    "keep-pattern": SENDS,
    "plan-pdf": TEAM,
    "court-now": TEAM,
    "log-worker": OPEN,
    "taps": SENDS,
    "held-reps": TEAM,
    "decide-rep": SENDS,
}

# Addresses that answer to forms only: what each kind of person gets from a POST. They are the
# same doors as above, so the stranger's 404 and the assistant's 403 are what is looked for.
POSTED = {
    "set-availability": (302, 404, 302, 302, 404, 302),
    "drop-entry": (302, 404, 403, 302, 404, 302),
    "update-revision": (302, 404, 403, 302, 404, 302),
    "make-links": (302, 404, 403, 302, 404, 302),
    "new-link": (302, 404, 403, 302, 404, 302),
    "withdraw-link": (302, 404, 403, 302, 404, 302),
    "withdraw-all-links": (302, 404, 403, 302, 404, 302),
    "my-open": (302,) + (404,) * 5,  # the first phone gets it
    "print-booklets": (302, 404, 302, 302, 404, 302),
    "lock-cell": (302, 404, 403, 302, 404, 302),
    "cast-stands": (302, 404, 403, 302, 404, 302),
    "cast-undo": (302, 404, 403, 404, 404, 404),  # which step?
    "propose-cast": (302, 404, 403, 302, 404, 302),
    "accept-cast": (302, 404, 403, 302, 404, 302),
    "stop-proposal": (302, 404, 403, 302, 404, 302),
    "wish-lesson": (302, 404, 403, 302, 404, 302),
    "undo-move": (302, 404, 403, 404, 404, 404),  # nobody has come from elsewhere
    "add-block": (302, 404, 403, 422, 404, 422),
    "wish-play": (302, 404, 403, 302, 404, 302),
    "choice-terms": (302, 404, 403, 302, 404, 302),
    "take-up-ticked": (302, 404, 403, 302, 404, 302),
    "take-package": (302, 404, 403, 302, 404, 302),
    "take-package-back": (302, 404, 403, 302, 404, 302),
    "propose": (302, 404, 403, 302, 404, 302),
    "change-install": (302, 404, 403, 302, 404, 302),
    "accept-install": (302, 404, 403, 302, 404, 302),
    "practise-lesson": (302, 404, 403, 302, 404, 302),  # nothing was shown: said so
    "leave-lesson": (302, 404, 403, 302, 404, 302),
    "improve": (302, 404, 403, 302, 404, 302),  # nothing is proposed yet: nothing starts
    "stop-improving": (302, 404, 403, 302, 404, 302),
    "assumptions": (302, 403, 403, 403, 403, 422),
    "calibrate": (302, 403, 403, 403, 403, 302),
    "add-absence": (302, 404, 422, 422, 404, 422),
    "remove-absence": (302, 404, 404, 404, 404, 404),
    "add-days-off": (302, 404, 403, 422, 404, 422),
    "remove-days-off": (302, 404, 403, 302, 404, 302),
    "cancel-practice": (302, 404, 403, 302, 404, 302),
    "order-blocks": (302, 404, 403, 302, 404, 302),
    "begin-plan": (302, 404, 403, 422, 404, 422),
    "keep-pattern": (302, 404, 403, 422, 404, 422),
    "taps": (302, 404, 422, 422, 404, 422),
    "take-called-back": (302, *(404,) * 5),
    "take-rep-back": (302, *(404,) * 5),
    "got-it": (404, 404, 404, 403, 404, 403),  # from the player's own phone only
    "decide-rep": (302, 404, 404, 404, 404, 404),
    "end-session": (302,) + (404,) * 5,  # which of their own?
    "end-other-sessions": (302,) * 6,
    "sign-in-passkey": (404,) * 6,
    "ask-passkey": (404,) * 6,
    "ask-to-add-passkey": (302, *(404,) * 5),
    "remove-passkey": (302, *(404,) * 5),
    "end-persons-passkeys": (302, 403, 403, 403, 403, 302),
    "new-recovery-codes": (302,) * 6,  # where there are none: to the page that sets them up
    "end-codes": (302,) * 6,
    "sign-out": (302, 302, 302, 302, 302, 302),
    "staff-place": (302, 403, 403, 403, 403, 422),
    "staff-link": (302, 403, 403, 403, 403, 200),
    "withdraw-staff-link": (302, 403, 403, 403, 403, 302),
    "end-persons-codes": (302, 403, 403, 403, 403, 302),
    "bring-back-person": (302, 403, 403, 403, 403, 302),
    "change-duty": (302, 404, 403, 302, 404, 302),
    "publish-draft": (302, 403, 403, 403, 302, 302),
    "discard-draft": (302, 403, 403, 403, 302, 302),
    "put-away": (302, 403, 403, 403, 302, 302),
    "bring-back": (302, 403, 403, 403, 302, 302),
    "playbook": (302,) * 6,
    "apply-remedy": (302, 403, 403, 403, 302, 302),
    "written-play": (302, 403, 403, 403, 200, 200),
    "stop-tuning": (302, 403, 403, 403, 302, 302),
    "keep-tuned": (302, 403, 403, 403, 302, 302),  # nothing is found yet
    "draw-photo-corners": (302, 403, 403, 403, 404, 404),  # of which photo?
    "draw-photo-drop": (302, 403, 403, 403, 302, 302),
    "put-season-away": (302, 404, 403, 302, 404, 302),
    "bring-season-back": (302, 404, 403, 302, 404, 302),
}


# A phone on which a personal link, or a guardian's copy, was opened is a visitor's everywhere but
# in its own pages: what (the player's, the guardian's) phone gets there, from a GET and a POST.
BY_LINK = {"my-quiz": (200, 403)}
POSTED_BY_LINK = {
    "my-open": (302, 302),  # pressed again: still theirs
    "my-quiz": (302, 403),  # no answer: asked again
    "got-it": (302, 403),
}
# A guest of the library reads published plays and saves copies. The rest of the library is not
# for them, 403, the club is strange to them, 404, and what is open to anybody is so to them.
GUESTS = {
    "home": 302,  # to the library
    **dict.fromkeys(("library", "play", "revision", "play-file", "play-picture", "play-card"), 200),
    **dict.fromkeys(("account", "sign-in-link", "set-up", "set-up-link"), None),  # as anybody's
    **dict.fromkeys(("sign-out", "end-session", "end-other-sessions"), 405),
    "codes": 200,
    **dict.fromkeys(("new-recovery-codes", "end-codes"), 405),
    **dict.fromkeys(("ask-to-add-passkey", "remove-passkey"), 405),
    "sign-in-code": 302,
    "second-step": 302,
}
OF_A_PLAYER = {name for name in TABLE if name.startswith("my-") or name == "got-it"} - {"my-worker"}


NOBODYS = "00000000-0000-4000-8000-000000000000"


def named_routes() -> set[str]:
    found: set[str] = set()

    def walk(patterns: list[Any]) -> None:
        for pattern in patterns:
            if isinstance(pattern, URLResolver):
                walk(pattern.url_patterns)
            elif pattern.name:
                found.add(pattern.name)

    walk(get_resolver().url_patterns)
    return found


def address(name: str, cast: Cast, link: PlayerLink | None = None) -> str:
    """Where a page is; ``link`` is the personal link of which a player's pages are."""
    by_row: dict[str, list[object]] = {
        **shared_links(name, cast),
        "play": [cast.play.key],
        "revision": [cast.play.key, 1],
        "play-file": [cast.play.key, 1],
        "play-picture": [cast.play.key, 1],
        "play-card": [cast.play.key, 1, "dark"],
        "revisions": [cast.play.key],
        "check": [cast.play.key],
        "check-revision": [cast.play.key, 1],
        "check-motion": [cast.play.key, 1],
        "check-bands": [cast.play.key, 1],
        "apply-remedy": [cast.play.key, 1],
        "edit-texts": [cast.play.key],
        "translate-texts": [cast.play.key, "es"],
        "share-play": [cast.play.key],
        "tune": [cast.play.key],
        "tune-progress": [cast.play.key],
        "stop-tuning": [cast.play.key],
        "keep-tuned": [cast.play.key],
        "rewrite-play": [cast.play.key],
        "draw-play": [cast.play.key],
        "drawn-play": [cast.play.key],
        "judged-play": [cast.play.key],
        "draw-photo": [cast.play.key],
        "draw-photo-corners": [cast.play.key],
        "draw-photo-drop": [cast.play.key],
        "draw-photo-file": [cast.play.key, "photo"],
        "put-away": [cast.play.key],
        "bring-back": [cast.play.key],
        "publish-draft": [cast.play.key, 1],
        "discard-draft": [cast.play.key, 1],
        "cast-cell": [cast.entry.pk, 1, 1],
        "lock-cell": [cast.entry.pk, 1, 1],
        "edit-unit": [cast.team.pk, cast.unit.pk],
        "take-up": [cast.team.pk, cast.play.key],
        "edit-block": [cast.practice.pk, cast.block.pk],
        "help-topic": ["first-steps"],
        "paper": [cast.team.pk, "calls"],
        "player-data-file": [cast.players[0].pk, "json"],
        "readiness-curve": [cast.players[0].pk, cast.entry.pk, "1"],
        "remove-absence": [cast.team.pk, 0],
        "remove-days-off": [cast.team.pk, 0],
        "decide-rep": [cast.team.pk, NOBODYS],
        "call-board": [cast.game.pk, cast.entry.pk, 0, "0" * 12],
        "new-called": [cast.game.pk, cast.entry.pk],
        **{
            name: [cast.game.pk, NOBODYS]
            for name in ("edit-called", "take-called-back", "called-films")
        },
        "take-rep-back": [cast.practice.pk, NOBODYS],
        "sign-in-link": ["none.none"],
        "prove-mail": ["none~none"],
        **{name: [cast.assistant.pk] for name in ABOUT_PERSON},
        "end-session": [0],
        "remove-passkey": [0],
        "playbook-file": [0],
        "change-duty": [cast.team.pk, cast.assistant.pk],
        "leave-staff": [cast.team.pk, cast.assistant.pk],
        "set-up-link": ["none.none"],
    }
    if name == "save-view":
        return reverse(name, args=[cast.play.key, 1]) + "?mirror=on"
    if name in by_row:
        return reverse(name, args=by_row[name])
    if name == "feed":
        return reverse(name, args=[token(feed_link(cast.team, cast.players[0]))])
    if (name.startswith("my-") and name != "my-worker") or name == "got-it":
        path = path_of_player(link or link_for(cast.players[0], timezone.now()))
        play = f"{path}{cast.entry.pk}/1/"
        opens = {"my-plays": path, "my-open": f"{path}open/"}
        opens["my-reading"] = f"{path}reading/"
        more = {f"my-{each}": f"{play}{each}/" for each in ("moving", "motion", "quiz")}
        rest = {**opens, **more, "my-play": play, "got-it": f"{play}got/"}
        return rest.get(name, f"{path}sheet.pdf")
    if name in NO_ARGUMENT:
        return reverse(name)
    pk = next((pk for names, pk in rows(cast).items() if name in names), cast.team.pk)
    return reverse(name, args=[pk])


def shared_links(name: str, cast: Cast) -> dict[str, list[object]]:
    """Where the one link to the cast's play leads; it is made only where it is asked for."""
    if name not in {"shared", "shared-play", "shared-file"}:
        return {}
    said = shared_token(open_links(cast.play).first() or share(cast.play, cast.keeper))
    whole: list[object] = [said, cast.play.key]
    return {"shared": [said], "shared-play": whole, "shared-file": whole}


def rows(cast: Cast) -> dict[tuple[str, ...], int]:
    """Which row an address is about; a team where nothing is said."""
    about_player = (
        "edit-player",
        "set-availability",
        "leave-team",
        "sheet",
        "sheet-pdf",
        "new-link",
        "withdraw-link",
        "player-cast",
        "player-data",
        "move-player",
        "undo-move",
    )
    about_game = (
        *(
            "game",
            "game-log",
            "call-sheet",
            "call-sheet-pdf",
            "after-game",
            "practise-lesson",
            "leave-lesson",
            "edit-game",
            "install",
            "propose",
            "change-install",
            "accept-install",
        ),
        *("improve", "stop-improving", "improve-progress"),
    )
    return {
        about_game: cast.game.pk,
        about_player: cast.players[0].pk,
        ("edit-entry", "drop-entry", "update-revision", "cast-play", "cast-stands"): cast.entry.pk,
        ("films",): cast.entry.pk,
        ("practice", "edit-practice", "add-block", "attendance", *PLAN): cast.practice.pk,
        ("drill", "edit-drill", "drill-picture"): cast.drill.pk,
        ("opponent", "edit-opponent", "new-observation"): cast.opponent.pk,
        ("edit-observation",): cast.observation.pk,
    }


PLAN = (
    "log",
    "practice-reps",
    "cancel-practice",
    "order-blocks",
    "begin-plan",
    "keep-pattern",
    "plan-pdf",
    "court-now",
)

ABOUT_PERSON = (
    *("staff-person", "staff-place", "staff-link", "withdraw-staff-link"),
    *("end-persons-codes", "end-persons-passkeys", "remove-person", "bring-back-person"),
)

NO_ARGUMENT = {
    *(
        "home",
        "set-up",
        "sign-in",
        "sign-out",
        "account",
        "sign-in-code",
        "forgotten",
        "mail-address",
        "codes",
        *("second-step", "ask-second-step"),
        "new-recovery-codes",
        "end-codes",
        *("sign-in-passkey", "ask-passkey", "passkeys", "ask-to-add-passkey"),
        "end-other-sessions",
        "staff",
        "club-record",
        "help",
        "health",
    ),
    *(
        "library",
        "library-file",
        "playbook",
        "import-plays",
        "starter-plays",
        "write-play",
        "written-play",
        "new-play",
        "checks",
        "share-library",
        "new-team",
        "log-worker",
        "my-worker",
        "assumptions",
        "calibrate",
    ),
}


def people(cast: Cast) -> tuple[User | None, ...]:
    return (None, cast.stranger, cast.assistant, cast.head, cast.keeper, cast.runner)


def test_every_route_is_in_the_table() -> None:
    assert named_routes() == set(TABLE)


@pytest.mark.parametrize("name", sorted(TABLE))
def test_who_may_read(name: str, cast: Cast) -> None:
    path = address(name, cast)
    got = tuple(cast.client(person).get(path).status_code for person in people(cast))
    assert got == TABLE[name]


@pytest.mark.parametrize("name", sorted(POSTED))
def test_who_may_send(name: str, cast: Cast) -> None:
    path = address(name, cast)
    got = tuple(cast.client(person).post(path).status_code for person in people(cast))
    assert got == POSTED[name]


def guest_of(cast: Cast) -> Client:
    guest = factories.UserFactory.create(username="guest", name="Gro", is_guest=True)
    return cast.client(guest)


def shut(name: str, cast: Cast) -> int:
    """What a guest gets where nothing is said: by where the page lives."""
    return 403 if address(name, cast).startswith("/library/") else 404


@pytest.mark.parametrize("name", sorted(TABLE))
def test_what_a_guest_of_the_library_may_read(name: str, cast: Cast) -> None:
    asked = guest_of(cast).get(address(name, cast)).status_code
    anybodys = TABLE[name][0] != 302 or name == "account"  # open, or one's own
    assert asked == (GUESTS.get(name) or (TABLE[name][1] if anybodys else shut(name, cast)))


@pytest.mark.parametrize("name", sorted(TABLE))
def test_what_a_guest_of_the_library_may_send(name: str, cast: Cast) -> None:
    """Nothing but what anybody may, and to their own account."""
    asked = guest_of(cast).post(address(name, cast)).status_code
    if name in GUESTS or TABLE[name][0] != 302:
        may = {"sign-in", "sign-out", "account", "end-other-sessions", "my-open"}
        may |= {"codes", "new-recovery-codes", "end-codes", "sign-in-code"}
        assert asked in ({200, 302, 422} if name in may else {403, 404, 405})
    else:
        assert asked == shut(name, cast)


def phones(cast: Cast) -> list[tuple[Client, PlayerLink]]:
    """A player's phone and a guardian's, each with the link that was opened on it."""
    now, ada = timezone.now(), cast.players[0]
    made = [(Client(), link_for(ada, now, guardians=copy)) for copy in (False, True)]
    for phone, link in made:
        assert phone.post(address("my-open", cast, link)).status_code == 302
    return made


def seen_by_link(name: str) -> tuple[int, int]:
    """What the player's phone and the guardian's get: what a visitor does, but for their pages."""
    return BY_LINK.get(name, (TABLE[name][0],) * 2)


@pytest.mark.parametrize("name", sorted(TABLE))
def test_what_a_phone_with_a_link_may_read(name: str, cast: Cast) -> None:
    got = tuple(phone.get(address(name, cast, link)).status_code for phone, link in phones(cast))
    assert got == seen_by_link(name)


@pytest.mark.parametrize("name", sorted(TABLE))
def test_what_a_phone_with_a_link_may_send(name: str, cast: Cast) -> None:
    visitors = Client().post(address(name, cast)).status_code if name not in OF_A_PLAYER else 405
    got = tuple(phone.post(address(name, cast, link)).status_code for phone, link in phones(cast))
    assert got == POSTED_BY_LINK.get(name, (visitors,) * 2)


@pytest.mark.parametrize("name", sorted(OF_A_PLAYER))
def test_a_phone_with_a_link_opens_no_other_players_pages(name: str, cast: Cast) -> None:
    """Neither a team-mate's nor those of another team, once they belong to a phone."""
    own = phones(cast)
    for other in (cast.players[1], cast.other_player):
        link = link_for(other, timezone.now())
        Client().post(address("my-open", cast, link))
        for phone, _link in own:
            for method in METHODS:
                answer = phone.generic(method, address(name, cast, link))
                assert answer.status_code in {404, 405}


METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE")
UNKNOWN = METHODS[3:]


@pytest.mark.parametrize("name", sorted(TABLE))
def test_no_page_knows_any_other_method(name: str, cast: Cast) -> None:
    """PUT, PATCH, DELETE and the like end at the door; HEAD tells no more than a GET."""
    clients: list[tuple[Client, PlayerLink | None]] = [(cast.client(p), None) for p in people(cast)]
    clients += phones(cast)
    read = False
    for (client, link), seen in zip(clients, (*TABLE[name], *seen_by_link(name)), strict=True):
        path = address(name, cast, link)
        got = {method: client.generic(method, path).status_code for method in UNKNOWN}
        assert set(got.values()) <= {302, 403, 404, 405}, got
        if name in OF_A_PLAYER:  # who opens a link that nobody has opened changes what it is
            assert client.head(path).status_code in {client.get(path).status_code, 405}
        elif seen != 200 or not read:  # the page itself is made for one of those who may read it
            assert client.head(path).status_code in {seen, 405}
            read = read or seen == 200


@pytest.mark.parametrize("name", sorted(TABLE))
def test_who_may_not_read_sends_nothing_either(name: str, cast: Cast) -> None:
    for person, seen in zip(people(cast), TABLE[name], strict=True):
        if seen in {403, 404}:
            assert cast.client(person).post(address(name, cast)).status_code in {403, 404, 405}


def test_what_answers_to_forms_only_is_tried_with_forms() -> None:
    forms_only = {name for name, got in TABLE.items() if got[1] == 405}
    assert forms_only <= set(POSTED)


def test_a_players_link_opens_nobody_elses_sheet(cast: Cast) -> None:
    path = path_of_player(link_for(cast.players[0], timezone.now()))
    client = cast.client(None)
    assert client.get(path).status_code == 200
    assert client.get(path[:-4] + "xyz/").status_code == 404
    assert client.get(reverse("sheet", args=[cast.players[1].pk])).status_code == 302
