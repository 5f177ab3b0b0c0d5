"""Spring brake chamber: a service chamber with a spring chamber behind it."""

from circuit.declaring.common import FROM_MEMORY, MODEST
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Setting, Store, Typical
from circuit.declaring.symbol import Curve, Symbol, line, plate, spring, thick
from circuit.declaring.traits import Group, Role, Trait
from circuit.gas.chamber import knots, spring_knots, spring_volume, volume
from circuit.kinds.chamber import CHAMBER, SIZES, STROKE_PROOF, STROKES, sizes

KIND = Kind(
    name="spring-chamber",
    title="Spring brake chamber",
    group=Group.WORK,
    purpose="Brakes with air at 11 like a service chamber, and with its spring when the air at 12 is gone.",
    behaviour="The spring is held off while 12 is above the hold-off pressure; below it the spring begins to push, "
              "with its full force when 12 is empty. Service and spring force add up unless the circuit prevents it. "
              "The push-rod and its slack adjuster are part of it: `working-stroke` and `slack-length`.",
    ports=(Port("11", Role.SPACE, ("service",)), Port("12", Role.SPACE, ("spring",))),
    settings=(
        *CHAMBER,
        Setting("holds-off-at", "pressure", "pressure at 12 above which the spring is fully held off",
                Typical("4.8 bar", FROM_MEMORY + ": 60 to 75 psi", "60 psi", "75 psi")),
        Setting("spring-force", "force", "push of the spring at working stroke",
                Typical("1800 lbf", "US Army TM 5-2330-305-14, one example")),
        Setting("spring-volume", "volume", "air that holds the spring off",
                Typical("1.0 L", FROM_MEMORY + ": 0.8 to 1.5 L", "0.8 L", "1.5 L")),
    ),
    stores=(Store("11", volume, knots), Store("12", spring_volume, spring_knots)),
    failures=(
        Failure("service-diaphragm-torn", "leaks while applied", opens=(("11", OUTSIDE),), share=0.3),
        Failure("spring-diaphragm-torn", "loses hold-off air: this brake comes on", opens=(("12", OUTSIDE),),
        share=0.3),
        Failure("spring-broken", "no parking force at this wheel", idle=("12",)),
        Failure("overstroked", "the stroke is used up before the shoes are pressed: no force", idle=("11",)),
        Failure("out-of-adjustment", "its adjuster does not take up: hot, nothing is left of the stroke",
                scales={"working-stroke": 1.5}, proof=STROKE_PROOF),
        Failure("centre-seal-leaks", "its centre seal is worn: hold-off air leaks into the service side, and out by the relay",
                opens=(("12", "11"),), share=MODEST,
                proof="park control released, pedal up: air at the exhaust of the relay or foot valve that stops when the "
                      "service hose of this chamber is pinched off comes from its centre seal"),
        Failure("left-caged", "its release bolt was left in: no parking and no emergency force at this wheel", idle=("12",),
                proof="look at every spring chamber: the bolt stands in its pocket at the side, and the hole is capped"),
        Failure("rod-seized", "rod, cam or pin is seized: this wheel neither brakes nor parks", idle=("11", "12"),
                proof=STROKE_PROOF),
        Failure("piston-jammed", "its spring piston hangs: once parked, this wheel stays braked", jams=("12",)),
        Failure("return-spring-broken", "the shoes are not drawn back: once braked, this wheel drags", jams=("11",)),
    ),
    traits=frozenset({Trait.SERVICE_ACTUATOR, Trait.SPRING_ACTUATOR}),
    derive=lambda settings: sizes(settings, double=True),
    derives=SIZES,
    orders=STROKES,
    aliases=("spring-brake-chamber", "double-chamber"),
    symbol=Symbol(9, 5, {"11": (0, 1), "12": (0, 4)}, body="none", flips=True, marks=(
        line((0, 1), (4.2, 1)), line((5.2, 2.44), (9, 2.44)), line((5.2, 2.76), (9, 2.76)),
        plate((4.2, 0.4), (5.6, 0.4), (6.8, 1.3), (6.8, 3.9), (5.6, 4.8), (4.2, 4.8)),
        plate((0.8, 1.7), (4.2, 1.7), (4.2, 3.5), (0.8, 3.5)), spring(0.8, 2.4, 2.6, 0.55), thick((2.5, 1.8),
        (2.5, 3.4)),
        line((0, 4), (3.4, 4), (3.4, 3.5)), Curve(((4.9, 0.4), (6.2, 2.6), (4.9, 4.8))), line((2.5, 2.6), (5.5, 2.6)),
    )),
    stage=12,
    rows=(61, 87),
)
