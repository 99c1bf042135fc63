"""The check's index held against the club's own games: reckoned in the background, and kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, replace

from plays.core.check.check import check_many
from plays.core.check.setting import Setting, checked, staged
from plays.core.defence.stance import Tactic
from plays.core.document.form import problems
from plays.core.play import Play as PlayValue
from plays.models import Play, Revision
from plays.ports import Carrier, GamesIndex
from plays.values import play_value, read_ahead
from practice.choosing.judging import setting_of
from practice.core.learning.index import (
    IndexCalibration,
    IndexFit,
    LookTry,
    calibrate_index,
    tries,
)
from practice.core.learning.order import LookOrder, order_of
from practice.core.reps.called import SEEN, CalledPlay
from practice.core.reps.rep import Id
from practice.games.possessions import possessions_of
from practice.models import CalledPlay as CalledRow
from practice.models import ReadinessSettings
from practice.parameters import settings_row
from roster.models import PackagePlay, Team
from shared.core.language import Language
from shared.models import User


def calibrate_games(language: Language) -> IndexCalibration:
    """Every team's possessions against what the check says of the states that were run."""
    teams = Team.objects.filter(pk__in=CalledRow.objects.values("game__team")).order_by("pk")
    judged = [each for team in teams for each in team_tries(team)]
    return calibrate_index(judged, language)


def team_tries(team: Team) -> list[LookTry]:
    """Every look that the team's possessions reached, with its index against what was met."""
    called = possessions_of(team)
    run = {each.revision for each in called if each.revision is not None}
    rows = {row.pk: row for row in Revision.objects.filter(pk__in=run).defer("document")}
    read_ahead(rows.values())
    plays: dict[Id, PlayValue] = {pk: play_value(row) for pk, row in rows.items()}
    orders: dict[tuple[Id, Id | None], LookOrder] = {
        (each.play, each.revision): order_of(plays[each.revision])
        for each in called
        if each.revision is not None
    }
    known = {pk: indices(play, setting_of(team)) for pk, play in plays.items()}

    def of(possession: CalledPlay, look: str) -> float | None:
        state = known.get(possession.revision, {}) if possession.revision is not None else {}
        return state.get((look, possession.defence or Tactic.CHASE))

    return tries(called, orders, of)


def indices(play: PlayValue, setting: Setting) -> Mapping[tuple[str, Tactic], float]:
    """The index of each look against each defence; nothing for a play with faults of form."""
    floor = staged(play, setting)
    if problems(play) or problems(floor):
        return {}
    if setting.pace.is_own:
        told = {tac: checked(play, replace(setting, defence=tac.value)) for tac in SEEN}
    else:  # the table's pace: all at once, at the cost of little over one
        found = check_many(floor, ages=(setting.age,), defences=SEEN, rule_set=setting.rule_set)
        told = {tactic: report for (_, tactic), report in found.items()}
    return {
        (verdict.window.look.id, tactic): verdict.index
        for tactic, report in told.items()
        for verdict in report.verdicts
    }


def keep_index(row: ReadinessSettings, made: IndexCalibration) -> None:
    """Keep what was found, as plain values."""
    fit = made.fit
    row.games = {
        "judged": made.judged,
        "sentence": made.sentence,
        "scores": asdict(made.scores) if made.scores else None,
        "fit": None
        if fit is None
        else {
            "level": fit.level,
            "slope": fit.slope,
            "plays": {str(play): offset for play, offset in fit.plays.items()},
        },
    }
    row.save()


def kept_fit(found: Mapping[str, object] | None) -> IndexFit | None:
    """The curve that may be used, if there is one."""
    fit = (found or {}).get("fit")
    if not isinstance(fit, dict):
        return None
    return IndexFit(fit["level"], fit["slope"], {int(pk): v for pk, v in fit["plays"].items()})


def games_index(user: User, play: Play, carrier: Carrier | None) -> GamesIndex | None:
    """What the check page says of the index in games; nothing to a guest of the library."""
    if user.is_guest:
        return None
    found = settings_row().games
    if not found:
        return GamesIndex("")
    fit = kept_fit(found)
    if fit is None:
        return GamesIndex(found["sentence"])
    rows = PackagePlay.objects.filter(play=play, team=carrier.team) if carrier else ()
    entry = next(iter(rows), None)
    return GamesIndex(found["sentence"], lambda index: fit.chance(index, entry.pk if entry else 0))
