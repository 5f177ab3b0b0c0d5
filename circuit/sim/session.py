"""A circuit under one's hands: run for as long as one likes, move something, break something, mend it, go on.

    board = Session(circuit)
    board.do(press("foot", 0.6, at=0.0))
    trace = board.run(1.0)
    board.fail("pri", "burst")
    print(board.run(0.5).last("pri"), board.pressure("front-left"))

A page, a notebook and a test play the same engine by it. Everything that comes out is predicted.
"""

from collections.abc import Callable
from math import inf

from circuit.model.circuit import Circuit
from circuit.model.places import NoSuchPlace, device_named, space_named
from circuit.model.trace import Trace
from circuit.sim import engines
from circuit.sim.arrays import DONE, Arrays
from circuit.sim.assemble import Timetable, arrays_of
from circuit.sim.renumber import Otherwise, renumbered
from circuit.sim.run import finish, job_of, prepare
from circuit.sim.running import Running, opened
from circuit.sim.script import Action, Engine, Options, Script, Variant
from circuit.sim.timetable import Course
from circuit.sim.variants import (
    Extra, add, altered_by, by_owner, change_of, changed, extras_of, failure_of, with_settings, without_idle,
)

_NO_TIME = Timetable((0.0, 0.0), ((),))


class Session:
    """A run held still between calls.

    circuit, script, start, engine, options: as of `simulate`; the script's actions are done when their time comes.
    now: s. Raises NoSuchPlace for a script that names what is not there.
    """

    def __init__(self, circuit: Circuit, script: Script = Script(), *, start: str = "charged",
                 engine: Engine = Engine(), options: Options = Options()):
        self.circuit, self.now = circuit, 0.0
        self.failures: dict[tuple[str, str], float] = {}
        """What has failed, and how much of it: see `Variant.sizes`."""
        self._problem = prepare(circuit, script, 0.0, start=start, engine=engine, options=options, by_hand=True)
        self._own = len(self._problem.network.elements)
        self._extras: dict[Extra, int] = {}
        self._held: set[int] = set()
        self._standing: dict[int, tuple[float, float, float]] = {}
        self._events: list[tuple[float, int, float]] = []
        self._due: list[tuple[float, Callable[[Session], None]]] = []
        self._settings: dict[tuple[str, str], object] = {}
        self._open()

    # --- hands -------------------------------------------------------------------------------------------------------

    def do(self, *actions: Action) -> None:
        """Does what a script can do; the actions' times count from now. A line is torn by `fail`. Raises NoSuchPlace."""
        network, plan = self._problem.network, self._problem.plan
        before = self._size()
        del network.elements[self._own:]
        try:
            for action in sorted(actions, key=lambda a: a.at):
                if action.what == "burst":
                    raise NoSuchPlace(f"in a session a line is torn by fail({action.place!r}, 'burst')")
                plan.act(action._replace(at=self.now + action.at))
        finally:
            self._own = len(network.elements)
            add(network, self._extras)
        if self._size() != before:
            self._rebuild()

    def fail(self, device: str, failure: str, size: float = 1.0) -> None:
        """Lets a part fail as its kind declares, from now on. size: as `Variant.sizes`. Raises NoSuchPlace."""
        thing, found = failure_of(self.circuit, device, failure)
        if found.scales:
            self._set_so(Variant("", ((thing.name, found.name),)))
        self.failures[thing.name, found.name] = size
        new = [e for e in extras_of(self.circuit, self._variant()) if e not in self._extras]
        if new:
            self._extras |= {extra: len(self._extras) + place for place, extra in enumerate(new)}
            add(self._problem.network, new)
            self._rebuild()
        else:
            self._renumber()

    def mend(self, device: str, failure: str) -> None:
        """Takes a failure out again; what it let out is gone. Raises NoSuchPlace for one that is not there."""
        key = (device_named(self.circuit, device).name, failure)
        if key not in self.failures:
            raise NoSuchPlace(f"`{device}` has no failure `{failure}` just now")
        del self.failures[key]
        self._renumber()

    def turn(self, device: str, setting: str, value: float) -> None:
        """Turns a setting, SI, from now on. Raises NoSuchPlace for one that cannot be turned while it is played."""
        settings = {**self._settings, (device_named(self.circuit, device).name, setting): value}
        self._set_so(self._variant()._replace(settings=settings))
        self._settings = settings
        self._renumber()

    def at(self, time: float, deed: "Callable[[Session], None]") -> None:
        """Does something with this session when its time has come, s."""
        self._due.append((time, deed))

    # --- time --------------------------------------------------------------------------------------------------------

    def run(self, seconds: float) -> Trace:
        """Goes on for a time and returns what happened meanwhile; its times count from the session's begin."""
        if not 0.0 < seconds < inf:
            raise ValueError(f"a session cannot run for {seconds} s")
        end, first = self.now + seconds, self._running.air()
        self._running.put_row("gone", [0.0] * self._arrays.outside)
        courses = self._problem.plan.courses
        moments = {m[0] for course in courses.values() for m in course.moments if self.now < m[0] < end}
        moments |= {time for time, _ in self._due if self.now < time < end}
        status, record, counts = DONE, [], [0, 0, 0]
        for until in sorted(moments | {end}):
            self._do_due()
            self._stand(until)
            status, rows = self._running.frame(until)
            record.append(rows)
            self.now = self._running.number("t")
            self._note_events()
            for place, name in enumerate(("taken", "refused", "forced")):
                counts[place] += int(self._running.number(name))
                self._running.put_number(name, 0)
            if status != DONE:
                break
        whole = b"".join(record) if isinstance(record[0], bytes) else [n for rows in record for n in rows]
        result = engines.result_of(self._job, whole, self._running.row("gone", self._arrays.outside), [], status,
                                   tuple(counts), 0.0)
        return finish(self._problem, result._replace(air=(first, self._running.air()), events=self._events))

    def _do_due(self) -> None:
        now = [deed for time, deed in self._due if time <= self.now + 1e-9]
        self._due = [each for each in self._due if each[1] not in now]
        for deed in now:
            deed(self)

    def _note_events(self) -> None:
        happened = int(self._running.number("happened"))
        events = self._running.row("events", 3 * happened)
        self._events += [(events[k], int(events[k + 1]), events[k + 2]) for k in range(0, 3 * happened, 3)]
        self._running.put_number("happened", 0)

    def pressure(self, place: str) -> float:
        """Absolute Pa in a place now."""
        network = self._problem.network
        rigs = self._problem.plan.rigs
        node = rigs[place] if place in rigs else network.nodes[space_named(self.circuit, place)]
        return self._running.row("pressure", node + 1)[node]

    def state(self, device: str, variable: str) -> float:
        """A state variable of a device now. Raises NoSuchPlace."""
        key = (device_named(self.circuit, device).name, variable)
        slot = self._problem.network.sums.inputs.get(key)
        if slot is None:
            raise NoSuchPlace(f"`{device}` has no `{variable}`")
        return self._running.row("input", slot + 1)[slot]

    # --- the numbers behind it ---------------------------------------------------------------------------------------

    def _size(self) -> tuple[int, int]:
        network = self._problem.network
        return len(network.elements), len(network.sums.start)

    def _variant(self) -> Variant:
        return Variant("", tuple(self.failures), sizes=self.failures, settings=self._settings)

    def _open(self) -> None:
        problem = self._problem
        self._arrays = problem.arrays
        self._job = job_of(problem, engines.choose(problem.options.engine))
        self._running: Running = opened(self._job)
        self._running.put_number("entered", 1)
        self._running.put_number("step", problem.arrays.first_step)

    def _rebuild(self) -> None:
        """Goes on with further elements or inputs from how everything stands."""
        old, problem = self._running, self._problem
        a, sums = problem.arrays, problem.network.sums
        rows = {name: old.row(name, count) for name, count in (
            ("input", a.inputs), ("rate", a.inputs), ("pressure", a.nodes), ("held", a.nodes), ("turned", a.latches),
            ("gone", a.outside))}
        since, per = old.number("since"), self._arrays.nd_per
        self._problem = problem._replace(arrays=arrays_of(problem.network, _NO_TIME),
                                         start=[*problem.start, *sums.start[a.inputs:]])
        self._open()
        for name, values in rows.items():
            self._running.put_row(name, values)
        self._running.put_number("t", self.now)
        self._running.put_number("since", since)
        self._renumber(per)

    def _renumber(self, per: list[float] | None = None) -> None:
        """Puts the failures there are into the rows. per: Pa/kg of the nodes as the air they hold stands for; None: the rows'."""
        variant = self._variant()
        change = change_of(self._problem, variant, by_owner(self._problem.network))
        stands, before = self._problem._replace(arrays=self._set_so(variant)), per or self._arrays.nd_per
        self._arrays = without_idle(changed(stands, change, self._extras).arrays, self._own)
        if self._arrays.nd_per != before:  # what room water takes leaves the pressure as it was
            held = self._running.row("held", self._arrays.nodes)
            self._running.put_row("held", [mass * old / new if new else mass
                                           for mass, old, new in zip(held, before, self._arrays.nd_per)])
        self._running.renumber(self._arrays)
        for slot in self._held - set(change.held):
            self._standing.pop(slot, None)
        self._held = set(change.held)
        values = self._running.row("input", self._arrays.inputs)
        for slot, value in change.held.items():
            values[slot] = value
        self._running.put_row("input", values)
        self._running.put_number("step", self._arrays.first_step)

    def _set_so(self, variant: Variant) -> Arrays:
        """The rows with the settings of a variant, turned or drifted. Raises NoSuchPlace."""
        problem, names = self._problem, altered_by(self.circuit, variant)
        if not names:
            return problem.arrays
        circuit = with_settings(self.circuit, variant)
        try:
            return renumbered(problem.network, problem.arrays, circuit, names, len(self._extras))
        except Otherwise:
            named = ", ".join(f"{setting} of `{name}`" for name, setting in variant.settings) or f"`{', '.join(names)}`"
            raise NoSuchPlace(f"{named} cannot be turned while it is played") from None

    def _stand(self, until: float) -> None:
        """Inputs as hands have put them by now; until: s, when they change next."""
        running, inputs = self._running, self._problem.arrays.inputs
        running.carry_on()
        values, rates = running.row("input", inputs), running.row("rate", inputs)
        moved = False
        for slot, course in self._problem.plan.courses.items():
            moment = latest(course, self.now)
            if slot in self._held or self._standing.get(slot) == moment:
                continue
            self._standing[slot] = moment
            time, value, rate = moment
            values[slot], rates[slot] = value + rate * (self.now - time), rate
            moved = True
        if moved:
            running.put_row("input", values)
            running.put_row("rate", rates)
            running.put_number("step", self._arrays.first_step)
        running.refresh(until)


def latest(course: Course, time: float) -> tuple[float, float, float]:
    """The last moment of a course that has come."""
    return next(moment for moment in reversed(course.moments) if moment[0] <= time)

