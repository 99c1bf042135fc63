"""Whatever a sound play holds, it can be checked, drawn and told: no page of it breaks."""

from __future__ import annotations

import json
import math
import re

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plays.core.check.moments import moments
from plays.core.check.samples import sampled
from plays.core.check.setting import DEFENCES, Setting, checked, line_of
from plays.core.defence.verdict import marked
from plays.core.drawing.margin import margin_picture
from plays.core.drawing.stage import stage
from plays.core.drawing.strip import count_strip
from plays.core.drawing.strip_picture import strip_picture
from plays.core.motion.team_pace import TeamPace, Timed
from plays.core.play import ROLES, AgeGroup, Play, RuleSet
from plays.core.words.speaker import Voice
from shared.core.drawing.svg import svg_text
from tests.strategies import sound_plays

SECONDS = st.floats(1.2, 6.0)
PACES = st.builds(
    TeamPace,
    constants=st.dictionaries(st.sampled_from(["reaction", "settle"]), st.floats(0.1, 0.9)),
    timed=st.builds(Timed, ten=st.none() | SECONDS),
    people=st.dictionaries(st.sampled_from(ROLES), st.builds(Timed, ten=SECONDS), max_size=5),
)
SETTINGS = st.builds(
    Setting,
    age=st.sampled_from(AgeGroup),
    effort=st.sampled_from([0.5, 0.9, 1.0]),
    defence=st.sampled_from(DEFENCES),
    rule_set=st.none() | st.sampled_from(RuleSet),
    pace=PACES,
)


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(sound_plays(), SETTINGS)
def test_every_sound_play_can_be_checked_and_shown(play: Play, setting: Setting) -> None:
    report = checked(play, setting)
    strip = count_strip(report.line, report)
    for width in (224.0, 760.0):
        picture = strip_picture(strip, play.name, width=width)
        assert picture.height < 4000
        assert "nan" not in svg_text(picture)
    begin = {role: complex(report.play.start_of(role).x, 0.0) for role in ROLES}
    floor = svg_text(stage(report.line, begin).picture)
    assert "nan" not in floor
    movers = re.findall(r'data-mover="([a-z]+)', floor)
    assert movers.count("ball") == 1
    assert moments(report.line, Voice())
    for verdict in report.verdicts:
        assert "nan" not in svg_text(margin_picture(verdict))
        assert math.isfinite(verdict.margin)
    line = line_of(play, setting)
    assert line.spans == report.line.spans
    data = sampled(line, 10.0, marked(line, setting.scheme))
    assert "NaN" not in json.dumps(data)
