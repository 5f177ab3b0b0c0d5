"""One fault told: its words against the pressures they are read from, its pictures, two faults at once, the command.

Times and pressures are those of a simulation; what they are held to here are settings of the design (the warning's
pressure, closing pressures) or the same run read in another way.
"""

import json
import xml.etree.ElementTree as xml
from functools import cache

import pytest

from circuit.cli import main
from circuit.faults.single import single
from circuit.faults.study import Rank, Study, rank, study
from circuit.faults.telling import Stop, Told, tell
from circuit.pipeline import load
from circuit.report.faults.curves import chart
from circuit.report.account import text as in_words
from circuit.report.faults.hidden import hidden_faults
from circuit.report.studies.faults import account
from circuit.report.faults.paper import files, text
from circuit.report.faults.stop import clock
from circuit.report.faults.story import story
from circuit.studies.reserve import reserve
from circuit.units import ATMOSPHERE
from tests.faults.studied import EXAMPLES, study_of

TRUCK = str(EXAMPLES / "truck-6x4" / "design.air")


@cache
def studied(example: str, fault: str) -> Study:
    """The study of an example's faults that are named; of the truck all, which other tests ask for too."""
    if example == "truck-6x4":
        return study_of(example)
    circuit = load(str(EXAMPLES / example / "design.air"))
    return study(circuit, [each for each in single(circuit) if each.name in fault.split(" + ")])


@cache
def told(example: str, fault: str, hold: float = 10.0) -> Told:
    found = studied(example, fault)
    (effect,) = found.together(fault)
    return tell(found, effect, hold)


def stop(found: Told, axle: str) -> Stop:
    return next(each for each in found.stops if each.axle == axle)


def said(found: Told) -> str:
    return " ".join(text(story(found)).split())


def test_primary_lost_the_warning_comes_first_the_front_brakes_and_the_springs_follow_the_pedal():
    found = told("truck-6x4", "pri: burst")
    assert [event.kind for event in found.events] == ["warning", "brake"]
    warns = found.events[0].time
    assert found.trace.pressure("pri", warns) == pytest.approx(ATMOSPHERE + 4.3e5, abs=1e3), "as the switch is set"
    assert stop(found, "front").given == pytest.approx(stop(found, "front").sound, abs=0.1e5)
    rear = stop(found, "drive-1")
    assert rear.given < ATMOSPHERE + 0.1e5 and rear.springs == pytest.approx((0, 1, 0, 1, 0), abs=0.05)
    words = said(found)
    assert f"{clock(warns)} pri-warning warns" in words and "sec holds 8.5 bar" in words
    assert "drive-1 and drive-2 get no air from the pedal" in words and "let go again with the pedal" in words


def test_control_line_lost_nothing_shows_until_the_pedal_and_then_it_brings_the_trailer_down():
    found = told("combination-semi", "tractor.control-head: off", 90.0)
    assert not found.events
    assert {event.kind for event in found.later} >= {"warning", "springs"}
    assert stop(found, "semi.front").reached is None
    assert stop(found, "tractor.front").first > ATMOSPHERE + 7e5 > stop(found, "tractor.front").given
    assert "no low-pressure warning until the pedal has been down" in said(found).lower()
    short = told("combination-semi", "tractor.control-head: off")
    assert "held down for longer" in said(short).lower() and "to 3.1 bar" in said(short)


def test_two_slow_faults_at_once_take_both_circuits_and_a_running_engine_hides_it():
    found = told("truck-6x4", "park-shuttle: parked mid way + pri: leaks")
    assert found.effect.fault.parts == (("park-shuttle", "parked-mid-way"), ("pri", "leaks"))
    assert all(found.trace.last(tank) < ATMOSPHERE + 0.3e5 for tank in ("pri", "sec"))
    assert "it hides the leak" in said(found)
    alone = told("truck-6x4", "pri: leaks")
    assert alone.trace.pressure("sec", alone.acts.pedal) == pytest.approx(ATMOSPHERE + 8.5e5, abs=0.05e5)


def test_a_discharge_line_burst_counts_the_applications_that_are_left():
    """Nothing is filled again, so they are as many as with the engine standing: the primary's from 8.5 to 4.3 bar, less
    those in which it dips below that while the pedal goes down and the wet reservoir has not followed yet."""
    found = told("truck-6x4", "hose pump.2 -> dryer.1: burst")
    assert not found.events and found.again is not None
    primary = next(store for store in reserve(found.circuit).stores if store.name == "pri")
    warned = next(n for n, left in enumerate(primary.left) if left < ATMOSPHERE + 4.3e5)
    assert warned - 3 <= found.again.warns <= warned
    assert f"{found.again.warns} full applications, and a warning comes on" in said(found)


@pytest.mark.parametrize(("fault", "kept"), (
    ("tube aux-guard.2 -> block: burst", 5.2), ("aux-guard: stuck open + tube aux-guard.2 -> block: burst", 0.0)))
def test_an_auxiliary_line_takes_the_wet_reservoir_to_the_closing_pressure_or_to_nothing(fault: str, kept: float):
    found = told("auxiliary-manifold", fault)
    assert (found.trace.pressure("wet", found.acts.pedal) - ATMOSPHERE) / 1e5 == pytest.approx(kept, abs=0.15)
    assert found.again is not None and (found.again.warns is None) == (kept > 0), "with the valve no warning comes on"


def test_a_hidden_fault_comes_with_its_proof():
    words = said(told("truck-6x4", "modulator: stuck feeding"))
    assert "prove it at every service" in words.lower() and "empty pri by its drain, press the pedal" in words


@pytest.mark.slow
def test_a_spring_relay_that_does_not_feed_shows_when_the_springs_are_to_come_off():
    found = told("truck-europe", "spring-relay: does not feed")
    assert rank(found.effect) is Rank.STUCK
    assert "springs of rear stay on once they are parked" in " ".join(in_words(account(found.study.circuit)).split())
    assert "released again they stay on" in said(found)


def test_a_proof_is_an_order_that_can_be_followed():
    proofs = hidden_faults(study_of("truck-6x4"))
    assert len(proofs) >= 8
    own = [each for each in proofs if not each.done]
    assert all("it must blow and shut again" in each.seen for each in own), "a kind's own proof has words of its own"
    assert all(any(word in each.done for word in ("by its drain", "uncouple", "open ", "put a cock on", "give ", "engine"))
               and f"with {each.first.device} faulty" in each.seen for each in proofs if each not in own)


def test_a_relay_that_does_not_let_go_keeps_the_springs_off_when_parked():
    """Its air stays on the anti-compound release."""
    found = told("truck-6x4", "rear-relay: does not release")
    assert stop(found, "drive-1").on is None
    assert "do not let go with the pedal" in said(found) and "do not come on" in said(found)


def test_crossed_lines_and_lost_current_are_told_too():
    crossed = told("semitrailer-tandem", "supply-head and control-head: crossed")
    assert "coupled so" in said(crossed) and "are on already" in said(crossed)
    assert "brakes as ever" in said(told("teaching-board", "warning: dead"))


def test_the_chart_has_both_sides_and_no_more_points_than_it_needs():
    found = told("combination-semi", "tractor.control-head: off", 90.0)
    drawn = chart(found)
    assert 3 <= len(drawn.curves) <= 8 and "supply line" in {curve.label for curve in drawn.curves}
    assert all(len(curve.xs) == len(curve.ys) < 120 for curve in drawn.curves)
    assert [label for _, label in drawn.moments][:4] == ["pedal down", "up", "parked", "released"]
    for curve in drawn.curves:
        assert list(curve.xs) == sorted(curve.xs) and min(curve.ys) >= 0


def test_pages_and_pictures_are_whole():
    found = told("truck-6x4", "pri: burst")
    written = files(found, output="a/primary.md", draw="left.svg")
    assert list(written) == ["a/primary.md", "a/primary-pressures.svg", "a/primary-schematic.svg", "left.svg"]
    assert "](primary-schematic.svg)" in written["a/primary.md"]
    for name in ("a/primary-pressures.svg", "left.svg"):
        assert xml.fromstring(written[name]).tag.endswith("svg")
    assert all(words in written["left.svg"] for words in ("after pri: burst", ">0.0<", "has failed"))
    (page,) = files(found, output="x.html").values()
    assert page.count("<svg") == 2 and "<h2>Parked</h2>" in page


def test_the_command_tells_writes_and_never_overwrites(tmp_path, capsys: pytest.CaptureFixture[str]):
    target = tmp_path / "x.html"
    asked = ["faults", TRUCK, "--fault", "pri: burst"]
    assert main(asked) == 0 and "THE STOP" in capsys.readouterr().out
    target.write_text("mine", encoding="utf-8")
    assert main([*asked, "-o", str(target)]) == 2
    assert "--force" in capsys.readouterr().err and target.read_text(encoding="utf-8") == "mine"
    assert main([*asked, "-o", str(target), "--force"]) == 0 and target.stat().st_size > 20_000


def test_the_command_gives_a_story_to_programs(capsys: pytest.CaptureFixture[str]):
    assert main(["faults", TRUCK, "--fault", "pri: burst", "--format", "json"]) == 0
    data = json.loads(capsys.readouterr().out)
    sections = {section["title"]: section["rows"] for section in data["found"]["story"]["sections"]}
    assert data["found"]["faults"][0]["fault"]["name"] == "pri: burst" and "Parked" in sections
    assert all(row["when"].endswith(" s") for row in sections["Until the pedal is touched"])


@pytest.mark.parametrize(("asked", "says"), (
    (["--draw", "x.svg"], "needs --fault"),
    (["--fault", "pri: burst", "--draw", "x.pdf"], "writes .svg"),
    (["--fault", "pri: burst", "-o", "x.txt"], ".md"),
    (["--fault", "pri: burst", "--hold", "-3"], "seconds"),
    (["--fault", "pri: burst + nothing: at all"], "no fault is called"),
))
def test_the_command_refuses(asked: list[str], says: str, capsys: pytest.CaptureFixture[str]):
    assert main(["faults", TRUCK, *asked]) == 2
    assert says in capsys.readouterr().err
