"""Forms for measuring without a prediction of each figure: leaks, strokes, balance, photographs."""

from circuit.declaring.traits import Trait
from circuit.model.air import full_pressure
from circuit.report.sheets.cautions import BALANCE, SPRINGS, STROKE, WORK
from circuit.report.table import Table
from circuit.studies.charge import between, build_up
from circuit.units import shown, value_in
from circuit.verdict.judge import Verdict

_STROKES = "stroke-beyond-limit"
"""The question that a clause of push-rod strokes asks."""


def leak_record(judged: Verdict) -> Table:
    """Leak and hold tests, a form, with what a chosen set of rules allows."""
    full = shown(full_pressure(judged.circuit), "pressure")
    rows = [(f"drop in 1 minute, {how}", f"full, {full}, engine off", *_allowed(judged, value))
            for how, value in (("brakes released", "released_psi_min"), ("pedal held down", "applied_psi_min"))]
    if judged.circuit.having(Trait.COMPRESSES):
        _, how = build_up(judged.circuit, tuple(each.name for each in judged.sets))
        rows.append((f"time from {between(how)}", "engine at its rated speed", "under charging, with the prediction", ""))
    if any(name.endswith("pops-out-at") for device in judged.circuit.devices for name in device.given):
        rows.append(("park control comes out by itself at", f"air let out slowly{SPRINGS}", "as set: see the test record", ""))
    if judged.circuit.having(Trait.COUPLES_VEHICLES):
        rows.append(("hold after the supply line has parted, 15 minutes", f"wheels chocked beside it{SPRINGS}", "", ""))
    blank = ("start pressure", "found", "instrument", "date, by")
    return Table("leak-record", "Leak and build-up record", ("test", "how", "allowed", "asked by", *blank),
                 tuple((*row, *("" for _ in blank)) for row in rows), (), frozenset(blank), wide=frozenset({"test", "allowed"}),
                 cautions=WORK)


def _allowed(judged: Verdict, value: str) -> tuple[str, str]:
    """What a chosen set lets leak, and the clause; in the clause's words for a combination, which may lose more."""
    for clause in (clause for each in judged.sets for clause in each.clauses if value in clause.values):
        if judged.circuit.is_combination:
            return clause.asks, clause.cited
        if judged.circuit.vehicle.vehicle_class in clause.vehicles:
            return f"{clause.values[value]:g} psi in a minute", clause.cited
    return "", ""


def stroke_record(judged: Verdict) -> Table:
    """Push-rod strokes, a form."""
    blank = ("free", _applied(judged), "limit", "by")
    rows = []
    for chamber in judged.circuit.having(Trait.SERVICE_ACTUATOR):
        settings = chamber.settings
        inches, millimetres = (value_in(settings["stroke"], unit, "length") for unit in ("in", "mm"))
        rows.append((chamber.name, str(settings["axle"]), str(settings["side"]), str(settings["type"]),
                     f"{inches:.2f} in ({millimetres:.0f} mm)", "", "", "", ""))
    return Table("stroke-record", "Stroke record", ("chamber", "axle", "side", "type", "full stroke", *blank), tuple(rows), (),
                 frozenset(blank), cautions=STROKE)


def _applied(judged: Verdict) -> str:
    """The pressure at which strokes are measured, as a chosen set has it."""
    asked = (clause.procedure for each in judged.sets for clause in each.asking(_STROKES))
    return next((f"applied at {found['applied_from_psi']:g} to {found['applied_to_psi']:g} psi" for found in asked
                 if "applied_from_psi" in found), "applied, at which pressure")


def balance_record(judged: Verdict) -> Table:
    """Brake forces left and right, a form."""
    blank = ("axle mass", "air pressure", "force left", "force right", "difference %", "roller or road", "date, by")
    rows = tuple((axle.name, str(axle.position), *("" for _ in blank)) for axle in judged.circuit.axles)
    return Table("balance-record", "Brake balance record", ("axle", "position", *blank), rows, (), frozenset(blank),
                 cautions=BALANCE)


def photographs() -> Table:
    """What is to be photographed, a form."""
    what = ("plate of each reservoir", "each drain, lowest point", "routing of lines at every joint that moves",
            "couplings and their colours", "load plate", "test points, gauges and warnings")
    blank = ("file or number", "date, by")
    return Table("photographs", "Photographs", ("what", *blank), tuple((each, "", "") for each in what), (), frozenset(blank),
                 wide=frozenset({"what"}), cautions=WORK)
