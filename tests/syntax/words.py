"""A vocabulary for the tests of syntax, small and independent of the kinds that the product knows."""

from circuit.syntax.vocabulary import Vocabulary

_SETTINGS = {
    "vehicle": "class title base",
    "rules": "",
    "use": "",
    "axle": "position",
    "compressor": "displacement speed",
    "governor": "cut-in cut-out",
    "reservoir": "volume rated role holes",
    "safety-valve": "on opens-at",
    "drain": "on operated placed",
    "gauge": "on reads-to",
    "low-pressure-switch": "on on-below",
    "check-valve": "opens-at",
    "foot-valve": "deliveries",
    "park-valve": "pops-out-at",
    "tee": "",
    "chamber": "type stroke axle side",
    "tube": "size length name run",
    "hose": "bore length material run name",
    "circuit": "role reservoirs axles",
    "waive": "at because by",
    "assembly": "blanks",
    "port": "is",
    "plug": "",
    "trial": "",
    "start": "pressure state",
    "press": "to at",
    "release": "at",
    "expect": "pressure state within until",
}

WORDS = Vocabulary(frozenset(_SETTINGS), {kind: frozenset(words.split()) for kind, words in _SETTINGS.items()})

BOARD = """\
# A teaching board in one circuit, for slips to be made in.
vehicle board: class truck, title "Teaching board"
rules us-federal
use "wheel-ends.air"
axle front: position 1
axle rear: position 2

compressor pump: displacement 12 cfm
governor gov: cut-in 7.2 bar,   # the lower one first
    cut-out 8.6 bar
hose pump.2 -> wet: bore 5/8 in, length 3 m, material metal-braid, run falling
reservoir wet: volume 1400 in3, rated 10.3 bar, role supply
reservoir dry: volume 46 L, rated 10.3 bar, role service
safety-valve relief: on wet, opens-at 10.3 bar
drain wet-drain and dry-drain: on wet, operated by-hand, placed lowest
low-pressure-switch warning: on dry, on-below 4.3 bar
check-valve dry-check
tube wet -> dry-check.1: size 12x1.5, length 0.3 m
tube dry-check.2 -> dry: size 1/2 in, length 1 m
foot-valve foot: deliveries 3
tube dry -> foot.1: size 1/2 in, length 5 m
tee front-tee
tube foot.2 -> front-tee: size 3/8 in, length 3 m
chamber front-left: type 20, stroke 2.25 in, axle front, side left
chamber rear-left: type 30/30, stroke 2.5 in, axle rear, side left
hose front-tee -> front-left: bore 3/8 in, length 0.8 m
plug foot.2

circuit service: reservoirs dry, axles front and rear
waive drain-not-automatic: at wet, because "drained daily, handbook page 4"

assembly wheel: blanks type and axle {
    chamber can: type <type>, axle <axle>
    port service: is can.1
}

trial full-application {
    start reservoirs: pressure 100 psi
    press foot: to 100 %, at 0 s
    expect front-left and rear-left: pressure at least 60 psi, within 0.45 s
    release foot: at 2 s
}
"""
