"""A scene as data for the page's player: its parts of time, courses of pressure, and what happens when."""

from collections.abc import Iterator
from typing import Any

from circuit.model.trace import Trace
from circuit.report.page.instruments import states
from circuit.report.page.pack import packed, parts_of, sampled, times_of
from circuit.report.studies.trials import asked, came
from circuit.studies.scenes import Scene
from circuit.studies.trials import Tried

_FRAMES = 160
_MOST_EVENTS = 60


def played(scene: Scene, spaces: list[int]) -> dict[str, Any]:
    """A scene as data for the page: its parts of time, courses of pressure, and what happens when."""
    trace = scene.trace
    end = trace.end if scene.until is None else scene.until
    moments = [time for time, _ in scene.done]
    parts = ((end, _FRAMES),) if scene.even else parts_of(moments, end)
    return {
        "key": scene.key, "group": scene.group, "title": scene.title, "says": scene.says, "parts": parts,
        "courses": packed(sampled(trace, spaces, times_of(parts))), "done": scene.done, "engine": scene.engine,
        "states": states(trace), "events": list(_snapped(trace, end)), "complete": trace.complete,
        "notes": list(trace.notes), "expected": _expected(scene.run) if scene.run else [],
    }


def _expected(run: Tried) -> list[list[Any]]:
    """Each expectation of a trial: whether it was met, where, what was asked, what came."""
    return [[outcome.met, outcome.place, asked(outcome), came(outcome)] for outcome in run.outcomes]


def _snapped(trace: Trace, end: float) -> Iterator[list[Any]]:
    """What valves and knobs do by themselves."""
    for event in trace.events[:_MOST_EVENTS]:
        device = trace.circuit.by_name.get(event.device)
        if device is None or event.time > end or all(latch.variable != event.variable for latch in device.kind.latches):
            continue
        if "pushed" in event.variable:
            what = event.variable.removesuffix("pushed").strip("-")
            words = f"{device.name} pops out" + (f" ({what})" if what else "")
        else:
            words = f"{device.name}: {'' if event.value else 'no longer '}{event.variable}"
        yield [round(event.time, 2), words]
