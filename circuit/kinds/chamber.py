"""Service brake chamber: turns pressure into push."""

from circuit.declaring.common import AXLE, COMMON, FROM_MEMORY, SIDE
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Ordered, Port, Setting, Store, Typical
from circuit.declaring.symbol import Curve, Symbol, line, plate, spring
from circuit.declaring.traits import Group, Role, Trait
from circuit.gas.chamber import knots, volume
from circuit.tables import chambers, stroke_limits

TYRE_RADIUS = Setting("tyre-radius", "length", "rolling radius of the tyre",
                      usual=Typical("20 in", FROM_MEMORY + ": 18 to 21 in", "18 in", "21 in"), within=("6 in", "40 in"))
STROKE_WITHIN = ("0.75 in", "6 in")
CHAMBER = (
    Setting("type", "chamber", "trade number, the nominal area in square inches", required=True),
    Setting("stroke", "length", "full stroke", required=True, within=STROKE_WITHIN),
    AXLE,
    SIDE,
    Setting("holds", "volume", "volume at full stroke as its maker publishes it, pre-fill included",
            within=("0.05 L", "10 L")),
    Setting("working-stroke", "length", "push-rod travel with the brake adjusted",
            Typical("1.5 in", FROM_MEMORY + ": 1 to 2 in with automatic adjusters", "1 in", "stroke-limit"),
            within=("0.1 in", STROKE_WITHIN[1])),
    Setting("slack-length", "length", "effective length of the slack adjuster",
            usual=Typical("5.5 in", COMMON + ": 5 to 6.5 in", "5 in", "6.5 in"), within=("2 in", "13 in")),
    Setting("cam-radius", "length", "effective radius of the S-cam", usual=Typical("0.5 in", FROM_MEMORY),
            within=("0.2 in", "2 in")),
    Setting("cam-efficiency", "fraction", "share of the push that friction of camshaft and shoes leaves",
            usual=Typical("75 %", FROM_MEMORY + ": 70 to 80 %", "70 %", "80 %")),
    Setting("brake-factor", "ratio", "drag at the drum over the mean push of a shoe, both shoes together",
            usual=Typical("1.6", FROM_MEMORY + ": 1.4 to 2.0, with lining friction of 0.35 to 0.4", "1.4", "2.0")),
    Setting("drum-radius", "length", "inner radius of the drum",
            usual=Typical("8.25 in", COMMON + ": 8.25 in at drive and trailer axles, 7.5 in at front axles"),
            within=("3 in", "16 in")),
    TYRE_RADIUS,
)
STROKE_PROOF = ("mark the rod at its housing, apply fully with 80 to 90 psi (5.5 to 6.2 bar), engine off, and measure: no "
                "further than the stroke limit of its type, and back to the mark when let go")
STROKES = (Ordered("working-stroke", "stroke"),)
MOST_STROKE = 2 * 0.0254
"""m of push-rod stroke that an adjuster may leave where no table has the type; from memory."""
SIZES = ("area", "rated-volume", "prefill", "full-volume", "stroke-limit")


def sizes(settings, double=False):
    """Area m2, rated volume m3 (None where no table row fits), pre-fill m3 and stroke limit in service m from type and stroke.

    Raises ValueError when the type is single where it should be double,.
    """
    first, _, second = settings["type"].partition("/")
    if double != bool(second):
        write = f"type {first}, or use spring-chamber" if second else f"type {first}/{first}, or use chamber"
        raise ValueError(f"type {settings['type']} is a {'double' if second else 'single'} chamber: write {write}")
    row = chambers().get(int(first))
    area = int(first) * 0.0254**2
    swept = area * settings["stroke"]
    fits = row is not None and row.strokes[0] - 1e-6 <= settings["stroke"] <= row.strokes[1] + 1e-6
    rated = row.rated if row is not None and fits else None
    actual = settings["holds"] or rated or 1.15 * swept
    return {"area": area, "rated-volume": rated, "prefill": max(actual - swept, 0.05 * swept), "full-volume": actual,
            "stroke-limit": _limit(int(first), settings)}


def _limit(number, settings):
    """The push-rod stroke allowed in service, m: of the table, else 2 in; a chamber of short stroke has less."""
    standard, _, of_three = stroke_limits().get(number, (None, None, None))
    limit = of_three if of_three and settings["stroke"] >= 2.95 * 0.0254 else standard
    return min(limit or MOST_STROKE, 0.95 * settings["stroke"])


KIND = Kind(
    name="chamber",
    title="Service brake chamber",
    group=Group.WORK,
    purpose="Pushes the slack adjuster, and so the shoes, with a force of pressure times area.",
    behaviour="A diaphragm moves when the return spring's pressure is passed, takes up the clearance at almost "
              "constant pressure, then pushes with pressure times area until the stroke is used up. The push-rod and "
              "its slack adjuster are part of it: `working-stroke` and `slack-length`.",
    ports=(Port("1", Role.SPACE, ("service", "supply")),),
    settings=CHAMBER,
    stores=(Store("1", volume, knots),),
    failures=(
        Failure("diaphragm-torn", "leaks while applied", opens=(("1", OUTSIDE),), share=0.3),
        Failure("overstroked", "the stroke is used up before the shoes are pressed: no force", idle=("1",)),
        Failure("out-of-adjustment", "its adjuster does not take up: hot, nothing is left of the stroke",
                scales={"working-stroke": 1.5}, proof=STROKE_PROOF),
        Failure("rod-seized", "rod, cam or pin is seized: this wheel is not braked", idle=("1",), proof=STROKE_PROOF),
        Failure("return-spring-broken", "the shoes are not drawn back: once braked, this wheel drags", jams=("1",)),
    ),
    traits=frozenset({Trait.SERVICE_ACTUATOR}),
    derive=sizes,
    derives=SIZES,
    orders=STROKES,
    aliases=("service-chamber", "brake-chamber"),
    symbol=Symbol(9, 4, {"1": (0, 2)}, body="none", marks=(
        line((0, 2), (2, 2)), line((3.3, 1.84), (9, 1.84)), line((3.3, 2.16), (9, 2.16)),
        plate((2, 0), (3.4, 0), (4.8, 1), (4.8, 3), (3.4, 4), (2, 4)), Curve(((2.6, 0), (3.9, 2), (2.6, 4))),
        spring(3.4, 4.8, 2, 0.7),
    )),
    stage=12,
    rows=(60, 87),
)
