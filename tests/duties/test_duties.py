"""Every duty is kept by every example and broken by a mistake made for it: a duty that nothing breaks is no check."""

import pytest

from circuit import duties
from circuit.duties.duty import Kept
from circuit.judging.evidence import Evidence
from circuit.verdict.judge import judge
from circuit.pipeline import load
from tests.designs import EXAMPLES, example_names, example_text, loaded, patched

BROKEN_BY: dict[str, tuple[str, list[str]]] = {
    "service-chamber-empty": ("truck-6x4", ["- tube foot.21 -> rear-relay.4", "+ plug foot.21",
                                            "+ tube pri -> rear-relay.4: size 3/8 in, length 8 m"]),
    "service-chamber-full": ("truck-6x4", ["- tube foot.21 -> rear-relay.4", "+ pressure-limiting-valve low: limits-to 3 bar",
                                           "+ tube foot.21 -> low.1: size 3/8 in, length 8 m",
                                           "+ tube low.2 -> rear-relay.4: size 3/8 in, length 8 m"]),
    "service-chamber-follows": ("truck-6x4", ["- tube foot.22 -> front-release.1", "+ tube sec -> front-release.1: size 3/8 in, "
                                              "length 3 m", "+ plug foot.22"]),
    "service-chamber-empties": ("truck-6x4", ["+ plug rear-relay.3"]),
    "service-chamber-parked": ("truck-6x4", ["- tube pri -> rear-relay.1", "- tube park.2 -> modulator.1", "+ tee park-tee",
                                             "+ tube park.2 -> park-tee: size 3/8 in, length 1 m",
                                             "+ tube park-tee -> modulator.1: size 3/8 in, length 6 m",
                                             "+ tube park-tee -> rear-relay.1: size 5/8 in, length 1 m"]),
    "service-chambers-alike": ("truck-6x4", ["- hose rear-relay.2 -> d2-right.service", "+ plug rear-relay.2",
                                             "+ hose front-release.2 -> d2-right.service: bore 3/8 in, length 0.9 m",
                                             "- quick-release-valve front-release", "+ tee front-release-2",
                                             "+ quick-release-valve front-release: opens-at 0.1 bar, deliveries 3"]),
    "valve-right-way": ("truck-europe", ["- tube front-relay.2 -> front-left-modulator.1",
                                         "- hose front-left-modulator.2 -> front-left",
                                         "+ tube front-relay.2 -> front-left-modulator.2: size 12x1.5, length 0.6 m",
                                         "+ hose front-left-modulator.1 -> front-left: bore 11 mm, length 0.8 m"]),
    "service-brakes-left": ("truck-6x4", ["- tube pri -> foot.11", "- tube sec -> foot.12",
                                          "+ tube pri -> foot.12: size 1/2 in, length 6 m",
                                          "+ tube sec -> foot.11: size 1/2 in, length 4 m"]),
    "compressor-stopped": ("truck-6x4", ["- tube gov.2 -> pump.4", "+ plug gov.2", "+ plug pump.4"]),
    "dryer-purges": ("truck-6x4", ["- tube gov.2 -> dryer.4", "+ plug gov.2", "+ plug dryer.4"]),
    "relay-fed-from-store": ("truck-6x4", ["- tube pri -> rear-relay.1", "- tube foot.21 -> rear-relay.4", "+ tee both",
                                           "+ tube foot.21 -> both: size 3/8 in, length 8 m",
                                           "+ tube both -> rear-relay.4: size 3/8 in, length 0.2 m",
                                           "+ tube both -> rear-relay.1: size 3/8 in, length 0.2 m"]),
    "signal-comes": ("truck-europe", ["- tube hand-brake.trailer -> trailer-valve.43", "+ plug trailer-valve.43",
                                      "+ plug hand-brake.trailer"]),
    "user-off-the-brakes": ("truck-6x4", ["- dual-foot-valve foot", "+ dual-foot-valve foot: lead 0.15 bar, deliveries 3",
                                          "+ plug foot.22", "+ auxiliary-cylinder retarder",
                                          "+ tube foot.21 -> retarder: size 1/4 in, length 2 m"]),
    "user-let-go": ("auxiliary-manifold", ["- tube pto-valve.2 -> pto", "- tube block -> tailgate-hole.1",
                                           "+ tube pto-valve.2 -> tailgate-hole.1: size 1/4 in, length 0.3 m",
                                           "+ tube block -> pto: size 1/4 in, length 2 m"]),
    "control-head-by-hand": ("tractor-6x4", ["- tube hand.2 -> hand-shuttle.12", "+ plug hand.2", "+ plug hand-shuttle.12"]),
    "supply-head-lets-go": ("converter-dolly", ["- tube supply-tee -> supply-cock.1", "+ plug supply-tee",
                                                "+ tube tank -> supply-cock.1: size 1/2 in, length 1.5 m"]),
}


def held(text: str) -> dict[str, set[Kept]]:
    """Duty to the answers that a design's places give."""
    found: dict[str, set[Kept]] = {}
    for each in duties.held(Evidence(loaded(text))):
        found.setdefault(each.duty.name, set()).add(each.found.kept)
    return found


@pytest.mark.parametrize("name", example_names())
def test_every_duty_of_every_example_is_kept(name: str) -> None:
    found = duties.held(Evidence(load(str(EXAMPLES / name / "design.air"))))
    assert len(found) >= 20
    assert [(each.duty.name, each.found.place) for each in found if each.found.kept is not Kept.KEPT] == []


@pytest.mark.parametrize("duty", BROKEN_BY)
def test_a_mistake_made_for_it_breaks_it_and_is_found(duty: str) -> None:
    name, patch = BROKEN_BY[duty]
    text = patched(example_text(name), patch)
    assert Kept.BROKEN in held(text)[duty]
    said = [each for one in judge(loaded(text)).findings for each in (one, *one.follows)]
    assert duty in {each.answer.known_as for each in said}


def test_what_is_broken_behind_a_valve_stands_under_it() -> None:
    text = patched(example_text("truck-europe"), ["- tube hand-brake.trailer -> trailer-valve.43",
                                                  "+ plug trailer-valve.43", "+ plug hand-brake.trailer"])
    (found,) = [one for one in judge(loaded(text)).findings if one.severity == "error"]
    assert found.answer.thing == "trailer-valve" and {each.answer.thing for each in found.follows} == {"control-head"}


def test_names_are_unique_and_words_fit_their_sentence() -> None:
    every = duties.every()
    assert len(every) >= 30 and len({duty.name for duty in every}) == len(every)
    for duty in every:
        assert duty.severity in ("error", "warning") and duty.mend and duty.does[0].islower() and not duty.does.endswith(".")
