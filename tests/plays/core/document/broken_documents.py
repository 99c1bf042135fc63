"""Documents of random sound plays with one fault of a known kind, or with changes anywhere.

``broken`` breaks one in a known way; ``mangled_documents`` in any way.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from copy import deepcopy
from typing import Any

from hypothesis import strategies as st

from plays.core.document.file import to_json
from plays.core.play import Play
from tests.strategies import Draw, sound_plays

JUNK: st.SearchStrategy[Any] = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from(["1", "6", "cut", "pass", "entry", "a0", "a1", {}, []]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner),
    max_leaves=5,
)


def _first(document: Any) -> Any:
    return document["phases"][0]["actions"][0]


def _cue(**cue: Any) -> Callable[[Any], Any]:
    return lambda document: _first(document).update(cues=[cue])


def _new(**action: Any) -> Callable[[Any], Any]:
    """Something done at the end of the first phase."""
    return lambda document: document["phases"][0]["actions"].append({"id": "new"} | action)


def _look(**look: Any) -> Callable[[Any], Any]:
    at = {"id": "odd", "passer": "1", "receiver": "2"} | look
    return lambda document: document.setdefault("looks", []).append(at)


def _spacing(**spacing: Any) -> Callable[[Any], Any]:
    whole = {"one": "2", "other": "3", "low": 3, "high": 5} | spacing
    twice = [whole] if spacing else [whole, whole]
    return lambda document: document.update(spacing=twice)


def _counter(**counter: Any) -> Callable[[Any], Any]:
    whole = {"id": "odd", "defence": "sag", "from_phase": "p0", "says": "Go."} | counter
    return lambda document: document.setdefault("counters", []).append(whole)


def _joint(role: str, cutter: str, part: str = "open") -> dict[str, Any]:
    joint = {"name": "lonely", "shape": "gate", "part": part}
    return {"id": f"s{role}", "role": role, "kind": "screen", "cutter": cutter, "joint": joint}


def _circle(document: Any) -> None:
    for one, two in (("x", "y"), ("y", "x")):
        cues = [{"on": "start", "action": two}]
        hold = {"id": one, "role": "3" if one == "x" else "4", "kind": "hold", "cues": cues}
        document["phases"][0]["actions"].append(hold)


def _lose_a_start(document: Any) -> None:
    document["starts"].pop()


def _idle(document: Any) -> None:
    """Nothing happens but that the 1 stays."""
    document["phases"] = [
        {"id": "p0", "title": "Wait", "actions": [{"id": "h", "role": "1", "kind": "hold"}]}
    ]
    for key in ("looks", "counters"):
        document.pop(key, None)


def _inside(document: Any) -> None:
    document["spot"] = {"edge": "baseline", "side": "left", "along": 1}
    document["thrower"] = document["ball"] = document["starts"][0]["role"]
    document["starts"][0]["at"] = [-1, 0.5]


def _over_nothing(document: Any) -> None:
    """A counter for who goes under a screen that is set for nobody, or not for this one."""
    written = [*document["phases"], *document.get("counters", [])]
    actions = [a for w in written for key in ("actions", "add", "replace") for a in w.get(key, [])]
    screened = {action.get("cutter") for action in actions} - {None}
    whose = [role for role in "12345" if role not in screened][:1] if screened else []
    _counter(remove=[_first(document)["id"]], defence="under", whose=whose)(document)


BREAKERS: dict[str, tuple[Callable[[Any], Any], ...]] = {
    "missing": (lambda d: d.pop("name"), lambda d: _first(d).pop("role")),
    "unknown_key": (lambda d: d.update(colour="red"), lambda d: _first(d).update(speed=3)),
    "choice": (
        lambda d: _first(d).update(kind="run"),
        lambda d: d["starts"][0].update(role="6"),
        lambda d: d.update(court="playground"),
    ),
    "type": (lambda d: d.update(name=3), lambda d: d.update(starts="everywhere")),
    "place": (lambda d: d["starts"][0].update(at=[1]),),
    "no_version": (lambda d: d.pop("coachbook_play"),),
    "newer": (lambda d: d.update(coachbook_play=99),),
    "empty_text": (
        lambda d: d.update(name="  "),
        lambda d: d["phases"][0].update(title=""),
        lambda d: d.update(teach=["", "x"]),
        _counter(says=" "),
    ),
    "key": (lambda d: d.update(key="Big Key"),),
    "long_text": (lambda d: d.update(name="n" * 61),),
    "out_of_range": (
        lambda d: d.update(needs=[{"role": "1", "quality": "speed", "level": 6}]),
        lambda d: d.update(needs=[{"role": "1", "quality": "speed", "level": 1, "weight": 0}]),
        _cue(on="signal", wait=-1),
    ),
    "need_twice": (lambda d: d.update(needs=[{"role": "1", "quality": "speed", "level": 2}] * 2),),
    "call_unknown_role": (lambda d: d.update(call="Lamp {6}"),),
    "call_braces": (lambda d: d.update(call="Lamp {5"),),
    "limits_crossed": (lambda d: d.update(conditions={"margin_from": 2, "margin_to": 1}),),
    "no_start": (_lose_a_start, lambda d: d.update(starts=[])),
    "two_starts": (lambda d: d["starts"].append(deepcopy(d["starts"][0])),),
    "same_place": (lambda d: d["starts"][0].update(at=d["starts"][1]["at"]),),
    "start_off": (lambda d: d["starts"][0].update(at=[40, 5]),),
    "thrower_in": (_inside,),
    "path_off": (_new(role="2", kind="cut", path=[[30, 3]]),),
    "two_guards": (lambda d: d.update(defenders=[{"guards": "1", "stance": "deny"}] * 2),),
    "no_stance": (lambda d: d.update(defenders=[{"guards": "1"}]),),
    "no_phases": (lambda d: d.update(phases=[]),),
    "no_actions": (lambda d: d["phases"].append({"id": "e", "title": "E", "actions": []}),),
    "id_twice": (
        lambda d: d["phases"][0]["actions"].append(deepcopy(_first(d))),
        lambda d: d["phases"].append(deepcopy(d["phases"][0])),
    ),
    "misplaced": (
        _new(role="2", kind="hold", to="3"),
        _cue(on="signal", action="a0"),
        _new(role="2", kind="cut", path=[[1, 2]], joint={"name": "j", "shape": "double"}),
    ),
    "nowhere": (_new(role="2", kind="cut"),),
    "to_nobody": (_new(role="2", kind="pass"),),
    "to_self": (_new(role="2", kind="pass", to="2"),),
    "own_screen": (_new(role="2", kind="screen", cutter="2"),),
    "idle_role": (_idle,),
    "joint_alone": (_new(**_joint("2", "3")),),
    "cue_no_action": (_cue(on="end"),),
    "cue_never": (_cue(on="end", action="never"), _cue(on="passes", action="never", point=0)),
    "cue_no_screen": (
        lambda d: d["phases"][0]["actions"].extend(
            [
                {"id": "h", "role": "2", "kind": "hold"},
                {"id": "g", "role": "3", "kind": "hold", "cues": [{"on": "set", "action": "h"}]},
            ]
        ),
    ),
    "cue_point": (
        lambda d: d["phases"][0]["actions"].extend(
            [
                {"id": "h", "role": "2", "kind": "cut", "path": [[1, 1]]},
                {
                    "id": "g",
                    "role": "3",
                    "kind": "hold",
                    "cues": [{"on": "passes", "action": "h", "point": 1}],
                },
            ]
        ),
    ),
    "cue_cycle": (_circle,),
    "no_ball": (
        lambda d: d["phases"][0]["actions"].extend(
            [{"id": f"t{r}", "role": r, "kind": "pass", "to": "5"} for r in "12"]
        ),
    ),
    "two_balls": (
        lambda d: d["phases"][0]["actions"].extend(
            [{"id": f"t{r}", "role": r, "kind": "dribble", "path": [[1, 4]]} for r in "12"]
        ),
    ),
    "look_nobody": (_look(action="nothing"),),
    "look_self": (_look(receiver="1", action="a0"),),
    "counter_no_phase": (_counter(from_phase="nowhere", remove=["a0"]),),
    "spacing_self": (_spacing(other="2"),),
    "spacing_range": (_spacing(low=5),),
    "spacing_twice": (_spacing(),),
    "whose_twice": (
        _counter(remove=["a0"], whose=["2", "2"]),
        _look(action="a0", read={"defence": "front", "whose": ["2", "2"]}),
    ),
    "switch_alone": (_counter(remove=["a0"], defence="switch", whose=["2"]),),
    "who_traps": (_counter(remove=["a0"], defence="trap", whose=["2"]),),
    "no_screen": (_over_nothing,),
    "counter_empty": (_counter(),),
    "counter_no_action": (_counter(remove=["nothing"]),),
    "counter_both": (lambda d: _counter(remove=[_first(d)["id"]], replace=[_first(d)])(d),),
}


def broken(play: Play, code: str, number: int) -> dict[str, Any]:
    """The document of a sound play with one known fault put into it."""
    document: dict[str, Any] = json.loads(json.dumps(to_json(play)))
    BREAKERS[code][number](document)
    return document


@st.composite
def mangled_documents(draw: Draw) -> dict[str, Any]:
    """A sound play's document after one to three random changes anywhere."""
    document: dict[str, Any] = json.loads(json.dumps(to_json(draw(sound_plays()))))
    for _ in range(draw(st.integers(1, 3))):
        holder = draw(st.sampled_from(_holders(document)))
        keys = list(holder) if isinstance(holder, dict) else list(range(len(holder)))
        change = draw(st.sampled_from(["junk", "drop", "add", "move"]))
        if change == "add" or not keys:
            if isinstance(holder, dict):
                holder[draw(st.text(max_size=6) | st.sampled_from(["to", "cut", "at"]))] = draw(
                    JUNK
                )
            else:
                holder.append(draw(JUNK))
        elif change == "drop":
            del holder[draw(st.sampled_from(keys))]
        elif change == "move":
            one, two = draw(st.sampled_from(keys)), draw(st.sampled_from(keys))
            holder[one], holder[two] = holder[two], holder[one]
        else:
            holder[draw(st.sampled_from(keys))] = draw(JUNK)
    return document


def _holders(value: Any) -> list[Any]:
    """Every object and list inside a document, itself included."""
    found = [value]
    for inner in value.values() if isinstance(value, dict) else value:
        if isinstance(inner, dict | list):
            found += _holders(inner)
    return found
