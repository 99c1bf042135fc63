"""The statements by which a database makes a federation's rows itself, in bulk."""

from __future__ import annotations

from datetime import date
from typing import Final

CARRIED: Final = 8  # plays of a team


def reps_made(reps: int, vendor: str, today: date) -> tuple[str, ...]:
    """Statements that make reps of past practices, their roles and the sums of both."""
    key, hour = {
        "postgresql": ("gen_random_uuid()", "p.date + time '18:00' + n * interval '1 minute'"),
        "sqlite": ("lower(hex(randomblob(16)))", "datetime(p.date, '+18 hours', n || ' minutes')"),
    }[vendor]
    past = 46  # practices of each team until today, see above
    numbers = "WITH RECURSIVE numbers(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM numbers"
    each = f"{numbers} WHERE n < (SELECT {reps} / count(*) / {past} FROM roster_team))"  # noqa: S608 - whole numbers of ours
    by_team = "SELECT *, row_number() OVER (PARTITION BY team_id ORDER BY id) AS turn FROM"
    return (
        f"""INSERT INTO practice_rep (id, practice_id, entry_id, revision_id, mode, is_clean,
            erred, slip, at, received_at)
        {each}
        SELECT {key}, p.id, e.id, e.revision_id,
            CASE n % 3 WHEN 0 THEN 'live' WHEN 1 THEN 'half_speed' ELSE 'walk_through' END,
            n % 4 <> 0, '', '', {hour}, {hour}
        FROM ({by_team} practice_practice) p CROSS JOIN numbers
        JOIN ({by_team} roster_packageplay) e
            ON e.team_id = p.team_id AND e.turn = 1 + (n + p.turn) % {CARRIED}
        WHERE p.date <= '{today.isoformat()}'""",  # noqa: S608 - nothing of a visitor's
        """INSERT INTO practice_reprole (rep_id, role, player_id)
        SELECT r.id, c.role, c.player_id FROM practice_rep r
        JOIN roster_casting c ON c.entry_id = r.entry_id AND c.depth = 1""",
        """INSERT INTO practice_repsum (practice_id, entry_id, player_id, role, mode, is_clean,
            count, first_at)
        SELECT r.practice_id, r.entry_id, o.player_id, o.role, r.mode, r.is_clean, count(*),
            min(r.at)
        FROM practice_rep r JOIN practice_reprole o ON o.rep_id = r.id
        GROUP BY r.practice_id, r.entry_id, o.player_id, o.role, r.mode, r.is_clean""",
    )


def changes_made(vendor: str) -> str:
    """A statement that makes a record of every team: its coaches have entered each practice."""
    day = {"postgresql": "p.date + time '12:00'", "sqlite": "datetime(p.date, '+12 hours')"}[vendor]
    return f"""INSERT INTO shared_change (at, user_id, verb, subject, team)
        SELECT {day}, s.user_id, 'added practice', 'practice ' || p.id, p.team_id
        FROM practice_practice p JOIN roster_staff s ON s.team_id = p.team_id"""  # noqa: S608 - ours
