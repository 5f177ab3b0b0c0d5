"""Mistakes that a reader made who had not seen the rules: each is found, and the first finding shows a row he wrote.

They were missed, or seen only as a symptom, by the rules alone; what finds them now are the duties and the repairs.
"""

import pytest

from circuit.verdict.judge import judge
from tests.designs import example_text, loaded, patched, sampled

Case = tuple[str, list[str], tuple[str, ...]]
"""An example, what is changed of it, and the begins of the rows that may be shown."""

CASES: dict[str, Case] = {
    "front-right and d1-right hoses exchanged": ("truck-6x4", [
        "- hose front-release.2 -> front-right",
        "- hose rear-relay.2 -> d1-right.service",
        "+ hose front-release.2 -> d1-right.service: bore 3/8 in, length 0.9 m, ends moving",
        "+ hose rear-relay.2 -> front-right: bore 3/8 in, length 0.8 m, ends moving",
    ], ("hose front-release.2 -> d1", "hose rear-relay.2 -> front")),
    "d2-right's service hose on the front release": ("truck-6x4", [
        "- hose rear-relay.2 -> d2-right.service",
        "- quick-release-valve front-release",
        "+ quick-release-valve front-release: opens-at 0.1 bar, deliveries 3",
        "- relay-valve rear-relay",
        "+ relay-valve rear-relay: opens-at 0.2 bar, deliveries 4",
        "+ hose front-release.2 -> d2-right.service: bore 3/8 in, length 0.9 m, ends moving",
    ], ("hose front-release.2 -> d2",)),
    "relay supply from the park line": ("truck-6x4", [
        "- tube pri -> rear-relay.1",
        "- tube park.2 -> modulator.1",
        "+ tee t",
        "+ tube park.2 -> t: size 3/8 in, length 1 m",
        "+ tube t -> modulator.1: size 3/8 in, length 5 m",
        "+ tube t -> rear-relay.1: size 5/8 in, length 1 m",
    ], ("tube t -> rear-relay.1",)),
    "foot supplies exchanged": ("truck-6x4", [
        "- tube pri -> foot.11",
        "- tube sec -> foot.12",
        "+ tube pri -> foot.12: size 1/2 in, length 6 m",
        "+ tube sec -> foot.11: size 1/2 in, length 4 m",
    ], ("tube pri -> foot.12", "tube sec -> foot.11", "dual-foot-valve foot")),
    "levelling valve turned": ("truck-europe", [
        "- tube aux-tank -> left-level.1",
        "- tube left-level.2 -> left-bag",
        "- tube left-level.2 -> load-valve.left-bag",
        "- levelling-valve left-level and right-level",
        "+ levelling-valve left-level: ride-pressure 5 bar, inlet-check yes, deliveries 1",
        "+ levelling-valve right-level: ride-pressure 5 bar, inlet-check yes, deliveries 2",
        "+ tee bt",
        "+ tube aux-tank -> left-level.2: size 8x1, length 3 m",
        "+ tube left-level.1 -> bt: size 8x1, length 1 m",
        "+ tube bt -> left-bag: size 8x1, length 1 m",
        "+ tube bt -> load-valve.left-bag: size 6x1, length 1.5 m",
    ], ("tube aux-tank -> left-level.2", "tube left-level.1", "levelling-valve left-level")),
    "governor on the compressor side of the dryer": ("truck-6x4", [
        "- tube wet -> gov.1",
        "- hose pump.2 -> dryer.1",
        "+ tee hot",
        "+ hose pump.2 -> hot: bore 5/8 in, length 3 m, material metal-braid, run falling",
        "+ hose hot -> dryer.1: bore 5/8 in, length 1 m, material metal-braid, run falling",
        "+ hose hot -> gov.1: bore 1/4 in, length 1 m, material metal-braid",
    ], ("hose hot -> gov.1",)),
    "3 bar limiting valve in the service signal": ("truck-6x4", [
        "- tube foot.21 -> rear-relay.4",
        "+ pressure-limiting-valve low: limits-to 3 bar",
        "+ tube foot.21 -> low.1: size 3/8 in, length 4 m",
        "+ tube low.2 -> rear-relay.4: size 3/8 in, length 4 m",
    ], ("pressure-limiting-valve low", "tube foot.21 -> low", "tube low.2")),
    "trailer valve's hand brake signal plugged": ("truck-europe", [
        "- tube hand-brake.trailer -> trailer-valve.43",
        "+ plug trailer-valve.43",
        "+ plug hand-brake.trailer",
    ], ("plug trailer-valve.43", "trailer-control-valve trailer-valve")),
    "second compressor with its unloader plugged": ("truck-6x4", [
        "+ compressor pump-2: displacement 15 cfm, speed 1250 rpm",
        "- hose pump.2 -> dryer.1",
        "+ tee both",
        "+ hose pump.2 -> both: bore 5/8 in, length 2 m, material metal-braid, run falling",
        "+ hose pump-2.2 -> both: bore 5/8 in, length 2 m, material metal-braid, run falling",
        "+ hose both -> dryer.1: bore 5/8 in, length 2 m, material metal-braid, run falling",
        "+ plug pump-2.4",
    ], ("compressor pump-2", "plug pump-2.4")),
    "exhaust-brake cylinder on a signal line": ("truck-6x4", [
        "- dual-foot-valve foot",
        "+ dual-foot-valve foot: lead 0.15 bar, deliveries 3",
        "+ plug foot.22",
        "+ auxiliary-cylinder retarder",
        "+ tube foot.21 -> retarder: size 1/4 in, length 2 m",
    ], ("auxiliary-cylinder retarder", "tube foot.21 -> retarder")),
    "load valve fed by its own signal": ("semitrailer-europe", [
        "- tube tank-1 -> load-valve.1",
        "- tube emergency.2 -> load-valve.4",
        "+ tee lt",
        "+ tube emergency.2 -> lt: size 12x1.5, length 0.5 m",
        "+ tube lt -> load-valve.4: size 12x1.5, length 0.2 m",
        "+ tube lt -> load-valve.1: size 12x1.5, length 0.2 m",
    ], ("tube lt -> load-valve.1", "air-load-sensing-valve load-valve")),
    "open cock between primary and foot valve": ("truck-6x4", [
        "- tube pri -> foot.11",
        "+ cut-out-cock cock: state open",
        "+ tube pri -> cock.1: size 1/2 in, length 3 m",
        "+ tube cock.2 -> foot.11: size 1/2 in, length 3 m",
    ], ("cut-out-cock cock",)),
    "dryer's control plugged": ("truck-6x4", [
        "- tube gov.2 -> dryer.4",
        "+ plug dryer.4",
        "+ plug gov.2",
    ], ("plug dryer.4", "air-dryer dryer")),
    "antilock modulator turned round": ("truck-europe", [
        "- tube front-relay.2 -> front-left-modulator.1",
        "- hose front-left-modulator.2 -> front-left",
        "+ tube front-relay.2 -> front-left-modulator.2: size 12x1.5, length 0.6 m",
        "+ hose front-left-modulator.1 -> front-left: bore 11 mm, length 0.8 m, ends moving",
    ], ("tube front-relay.2 -> front-left-modulator.2", "hose front-left-modulator.1", "antilock-modulator front-left")),
    "hand valve teed to the tractor's own drive axle": ("tractor-6x4", [
        "- tube foot.21 -> rear-relay.control",
        "- tube hand.2 -> hand-shuttle.12",
        "+ tee ht",
        "+ double-check-valve own: shifts-at 0.2 bar",
        "+ tube hand.2 -> ht: size 3/8 in, length 0.3 m",
        "+ tube ht -> hand-shuttle.12: size 3/8 in, length 0.3 m",
        "+ tube ht -> own.12: size 3/8 in, length 2 m",
        "+ tube foot.21 -> own.11: size 3/8 in, length 3 m",
        "+ tube own.2 -> rear-relay.control: size 3/8 in, length 3 m",
    ], ("tube ht -> own.12", "trailer-hand-valve hand", "double-check-valve own")),
    "two checks in series ahead of a tank": ("truck-6x4", [
        "- tube pri-check.2 -> pri",
        "+ check-valve second-check: opens-at 0.1 bar",
        "+ tube pri-check.2 -> second-check.1: size 1/2 in, length 0.5 m",
        "+ tube second-check.2 -> pri: size 1/2 in, length 0.5 m",
    ], ("check-valve second-check",)),
}


@pytest.mark.parametrize("name", sampled(CASES, 8))
def test_the_first_finding_shows_the_row_that_was_laid_wrong(name: str) -> None:
    example, patch, rows = CASES[name]
    text = patched(example_text(example), patch)
    first = next(one for one in judge(loaded(text)).findings if one.is_open)
    written = text.split("\n")
    shown = [written[span.outermost.line - 1] for span in (first.answer.at, *(span for span, _ in first.answer.also))]
    assert any(row.startswith(rows) for row in shown), (first.rule.name, first.answer.says, shown)


def test_a_change_that_makes_another_finding_is_not_advised() -> None:
    """The foot valve's supplies exchanged would also make the hose's axle follow one circuit, and break what was declared."""
    example, patch, _ = CASES["d2-right's service hose on the front release"]
    (first,) = [one for one in judge(loaded(patched(example_text(example), patch))).findings if one.is_open]
    assert first.answer.remedy == "take its end from front-release.2 to rear-relay.2"
    assert {one.rule.name for one in first.follows} == {
        "circuit-not-as-declared", "duty-broken", "modulating-valve-senses-wrong", "no-rear-emergency-brake"}
