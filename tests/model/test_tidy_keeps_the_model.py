"""Tidying a design changes nothing that it says: the same circuit comes out, and tidying twice changes nothing."""

import re

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from circuit import kinds
from circuit.declaring.kind import Kind
from circuit.declaring.traits import Trait
from circuit.mistake import Unreadable
from circuit.model.circuit import Circuit
from circuit.pipeline import load_source
from circuit.source import Source
from circuit.syntax.parse import parse
from circuit.syntax.tidy import tidy
from tests.designs import EXAMPLES

_VALUES = {
    "volume": ("20 L", "1400 in3", "20L"), "pressure": ("8.5 bar", "125 psi", "860 kPa"), "difference": ("0.2 bar", "3psi"),
    "length": ("2 m", "900 mm", "1 3/8 in", "3 ft"), "flow": ("12 cfm", "350 L/min"), "size": ("1/2 in", "12x1.5"),
    "bore": ("3/8 in", "13 mm"), "count": ("4", "6"), "text": ('"a horn, and: -> # more"', '"x"'), "fraction": ("50 %",),
    "chamber": ("20",), "force": ("8 kN",), "ratio": ("1", "0.5"), "time": ("20 s",), "temperature": ("-40 °C",),
    "speed": ("1250 rpm",), "conductance": ("8 L/(s.bar)",), "mass": ("9 t",), "area": ("30 in2",), "torque": ("100 N.m",),
}


def _writable(kind: Kind) -> bool:
    needed = [s for s in kind.settings if s.required]
    return Trait.LINE not in kind.traits and all(s.choices or s.dimension in _VALUES or s.name == "axle" for s in needed)


KINDS = [kind for kind in kinds.every() if _writable(kind) and Trait.SERVICE_ACTUATOR not in kind.traits]


@st.composite
def designs(draw: st.DrawFn) -> str:
    """A few parts with some of their settings, and lines between reservoirs, in a hurried hand's spacing.

    Settings of one part may contradict each other; such a design is passed over.
    """
    gap = st.sampled_from(["", " ", "  ", "\t"])
    rows = ["vehicle x: class truck", "axle front: position 1"]
    for number in range(draw(st.integers(1, 6))):
        kind = draw(st.sampled_from(KINDS))
        written = []
        for setting in kind.settings:
            if setting.dimension not in _VALUES and not setting.choices:
                continue
            if not setting.required and draw(st.booleans()):
                continue
            if setting.name in ("holes", "deliveries", "supplies", "working-stroke"):
                continue
            value = draw(st.sampled_from(setting.choices or _VALUES[setting.dimension]))
            written.append(f"{setting.name} {draw(gap)}{value}")
        comma = draw(st.sampled_from([",", " ,", ",  ", ",\n", ",\n   # why\n      "]))
        head = f"{draw(gap)}{kind.name} {draw(gap)}p{number}"
        colon = draw(st.sampled_from([":", " : ", ":   "]))
        rows.append(head + (colon + (comma + " ").join(written) if written else "") + draw(st.sampled_from(["", "  # note"])))
        if draw(st.booleans()):
            rows.append(draw(st.sampled_from(["", "# a remark", "\n\n\n"])))
    arrow = draw(st.sampled_from(["->", " -> ", "  ->"]))
    rows += ["reservoir t1 and t2:volume 20 L,rated 10 bar,role service",
             f"tube t1{arrow}t2:size 1/2 in,{draw(gap)}length 2 m"]
    return "\n".join(rows) + draw(st.sampled_from(["", "\n", "\n\n"]))


def said(circuit: Circuit) -> object:
    """What a circuit holds, without where it was written and with blanks in texts as one."""
    return (
        circuit.vehicle._replace(span=None),
        [(d.name, d.kind.name, {k: str(v) for k, v in d.settings.items() if k != "on"}, d.ends, d.host,
          {name: re.sub(r"\s+", " ", given.text) for name, given in d.given.items()}) for d in circuit.devices],
        dict(circuit.space), sorted(circuit.plugged), [axle.name for axle in circuit.axles],
    )


@settings(max_examples=60, deadline=None)
@given(designs())
def test_generated_designs_say_the_same_when_tidied(text: str) -> None:
    try:
        before = load_source(Source("a.air", text))
    except Unreadable as contradiction:
        assert not parse(contradiction.mistakes[0].at.source)[1], "the text itself should be readable"
        reject()
    tidied = tidy(Source("a.air", text))
    assert said(load_source(Source("a.air", tidied))) == said(before)
    assert tidy(Source("a.air", tidied)) == tidied


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*/design.air")), ids=lambda path: path.parent.name)
def test_examples_are_tidy(path) -> None:  # type: ignore[no-untyped-def]
    text = path.read_text(encoding="utf-8")
    assert tidy(Source(str(path), text)) == text


def test_there_were_kinds_and_examples_to_try() -> None:
    assert len(KINDS) > 50
    assert len(list(EXAMPLES.glob("*/design.air"))) >= 17
