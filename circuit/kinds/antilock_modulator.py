"""Antilock modulator: holds or releases the brakes of a wheel or an axle by electric signal."""

from circuit.declaring.common import DELIVERY, EXHAUST, MEDIUM, MODEST, OPEN, SENSOR_LOST, SHUT, SUPPLY, conductance
from circuit.declaring.kind import Failure, Kind, Passage, Store
from circuit.declaring.symbol import Symbol, arrow, line, plate
from circuit.declaring.traits import Group

KIND = Kind(
    name="antilock-modulator",
    title="Antilock modulator",
    group=Group.MODULATE,
    purpose="Keeps a wheel from locking, and does nothing at all while it has no current.",
    behaviour="Without current air passes freely between 1 and 2. Its hold coil shuts that way; its release coil also "
              "vents 2 to 3. It stands close to the chamber it works on.",
    ports=(SUPPLY, DELIVERY, EXHAUST),
    settings=(conductance("12 L/(s.bar)"),),
    passages=(
        Passage("1", "2", "open while nothing holds", lambda p, s, x: SHUT if x["hold"] or x["release"] else OPEN,
                both_ways=True),
        Passage("2", "3", "open while releasing", lambda p, s, x: OPEN if x["release"] else SHUT),
    ),
    stores=(Store("1", MEDIUM), Store("2", MEDIUM)),
    failures=(
        Failure("without-current", "no antilock; air passes freely", holds={"hold": 0.0, "release": 0.0}),
        Failure("stuck-releasing", "its wheel is not braked, and the circuit loses air at every application",
                opens=(("2", "3"),), holds={"hold": 1.0, "release": 1.0}),
        Failure("stuck-holding", "its wheel keeps what it had", holds={"hold": 1.0}),
        Failure("leaks", "leaks from delivery to exhaust while applied", opens=(("2", "3"),), share=MODEST),
        Failure("exhaust-stuck-open", "dirt holds its exhaust open: its wheel brakes little, and the air is lost at each stop",
                opens=(("2", "3"),)),
        SENSOR_LOST,
    ),
    aliases=("abs-modulator", "pressure-control-valve"),
    rest={"hold": 0.0, "release": 0.0},
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2), "3": (2, 4)}, marks=(
        *arrow((0, 2), (4, 2)), line((2, 4), (2, 3)), line((1.5, 3), (2.5, 3)),
        plate((0.3, -0.9), (1.8, -0.9), (1.8, 0), (0.3, 0)), line((0.3, 0), (1.8, -0.9)),
        plate((2.2, -0.9), (3.7, -0.9), (3.7, 0), (2.2, 0)), line((2.2, 0), (3.7, -0.9)),
    )),
    stage=11,
    rows=(54,),
)
