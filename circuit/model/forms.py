"""Statements that are not parts: what they carry. The set is closed; parts are looked up in `kinds`."""

from circuit.declaring.common import COMMON
from circuit.declaring.kind import Setting, Typical
from circuit.model.circuit import CLASSES
from circuit.model.conditions import CONDITIONS

DECLARED = (
    Setting("starts-at", "pressure", "pressure its maker declares for the tests of stored energy; cut-in where not written"),
    Setting("secondary-at", "pressure", "pressure in the chambers that gives the prescribed secondary braking"),
    Setting("trailer-load", "mass", "greatest load on the axles of the trailers it may tow"),
)
"""What a vehicle's maker declares and no drawing shows."""

BODIES = ("auto-transporter", "heavy-hauler", "farm-commodity", "pulpwood")
"""Bodies that a standard excepts: of a vehicle carrier either half, of the others the trailer alone."""

FORMS: dict[str, tuple[Setting, ...]] = {
    "vehicle": (
        Setting("class", "word", "what kind of vehicle it is", required=True, choices=CLASSES),
        Setting("title", "text", "what the papers call it"),
        Setting("tows", "word", "whether it is meant to tow air-braked vehicles", Typical("no", COMMON),
                choices=("yes", "no")),
        Setting("body", "word", "a special body, where a standard lifts something for it", Typical("usual", COMMON),
                choices=("usual", *BODIES)),
        Setting("built", "count", "year of build, where a standard asks older vehicles otherwise"),
        Setting("base", "text", "a chassis file whose statements are taken as if written here"),
        *DECLARED,
        *CONDITIONS,
    ),
    "combination": (Setting("title", "text", "what the papers call it"), *CONDITIONS),
    "couple": (),
    "rules": (),
    "use": (),
    "axle": (
        Setting("position", "count", "counted from the front, 1 is first", required=True),
        Setting("brakes", "word", "what its service brakes work with; hydraulic ones are not drawn", Typical("air", COMMON),
                choices=("air", "hydraulic")),
        Setting("parks", "word", "what holds it parked: a part that is drawn, or a lever and a cable that are not",
                Typical("drawn", COMMON), choices=("drawn", "cable")),
    ),
    "circuit": (
        Setting("role", "word", "what it is for", Typical("service", COMMON),
                choices=("service", "parking", "auxiliary")),
        Setting("reservoirs", "names", "the reservoirs it is meant to draw on"),
        Setting("axles", "names", "the axles it is meant to brake"),
    ),
    "waive": (
        Setting("at", "place", "the place of the finding, as the finding names it; between quotes where that is no single name",
                required=True),
        Setting("because", "text", "the reason, for every reader of the report", required=True),
        Setting("by", "text", "who accepts it"),
        Setting("until", "text", "the last day that it is accepted, as in \"2027-03-31\""),
    ),
    "assembly": (Setting("blanks", "names", "the words a placing fills in"),),
    "port": (Setting("is", "reference", "the port inside the assembly", required=True),),
    "plug": (),
    "set": (),
    "confirm": (
        Setting("by", "text", "who has confirmed the values of this row", required=True),
        Setting("when", "text", "the day, as in \"2026-11-28\"", required=True),
        Setting("from", "text", "what from: the data of the part's maker, a measurement, a plate", required=True),
    ),
    "remove": (),
    "cut": (
        Setting("put-in", "names", "the part that comes into the line, as `tee-1`, or its two ports, as `filter.1 and "
                "filter.2`, the one nearer to the end written first before the other", required=True),
        Setting("first", "length", "what is left of the line from the end written first up to the part", required=True),
        Setting("second", "length", "what is left of the line from the part to its other end", required=True),
    ),
    "replace": (
        Setting("by", "text", "the kind that comes in its place; its own settings follow", required=True),
    ),
    "trial": (),
}

AT = Setting("at", "time", "when, on the trial's clock")
TO = Setting("to", "any", "how far or to what pressure")
MEANT = {
    "vehicle": "What vehicle the design is for; with `base`, a chassis file that this design changes and adds to.",
    "combination": "Several vehicles from files of their own, coupled head to head.",
    "couple": "Joins a head of one vehicle of a combination to a head of another.",
    "rules": "The sets of clauses that the design is held to.",
    "use": "Brings in the assemblies of another file.",
    "axle": "An axle, counted from the front.",
    "circuit": "What a circuit is meant to do: the drawing is held to it.",
    "waive": "Accepts one finding, with the reason; it stays in every report.",
    "assembly": "A group of parts that comes back, with blanks to fill in; its name is then a kind.",
    "port": "A port of an assembly: the name by which lines reach it from outside.",
    "plug": "Closes a port that nothing leads to.",
    "trial": "How things stand, what the driver does, and what the gauges should read.",
    "set": "Changes what another row says, of a part by its name, of a line by its two ends or its own name. The rest of the "
           "row stays; a finding shows both rows.",
    "confirm": "Keeps values that somebody has confirmed, with who, when and what from. "
               "They are assumed no longer, and stay in the papers.",
    "remove": "Takes away a part, a line by its two ends, the plug in a port, an axle, a circuit, a trial, or all that stands "
              "at a place of an assembly. Rows that still name what is gone are mistakes.",
    "cut": "Cuts a line in two and puts a part between; the part is written in a row of its own. Both halves are as the line "
           "was, with the lengths that are written here.",
    "replace": "Puts another kind in a part's place. Lines, plugs and what is screwed in go to the port that means the same; "
               "what says where the part is stays, and what it is itself comes from this row, or is typical.",
}
"""What each statement is for, in a sentence or two."""

ACTIONS: dict[str, tuple[Setting, ...]] = {
    "start": (
        Setting("pressure", "pressure", "pressure before the trial begins"),
        Setting("state", "text", "how it stands before the trial begins"),
    ),
    "press": (TO, AT),
    "release": (AT,),
    "push": (AT,),
    "pull": (AT,),
    "open": (AT,),
    "shut": (AT,),
    "feed": (TO, AT),
    "uncouple": (AT,),
    "couple": (AT,),
    "fail": (Setting("how", "text", "one of the part's failures", required=True),
             Setting("size", "any", "how much of it, as a share"), AT),
    "mend": (Setting("how", "text", "the failure that is taken out again", required=True), AT),
    "turn": (Setting("setting", "text", "which setting a hand turns", required=True), TO, AT),
    "burst": (AT,),
    "leak": (AT, Setting("hole", "length", "the hole's diameter")),
    "stop": (AT,),
    "set": (Setting("state", "text", "how it stands from then on"), AT),
    "expect": (
        Setting("pressure", "bound", "at least or at most a pressure"),
        Setting("state", "text", "how it should stand"),
        Setting("within", "time", "counted from the last action"),
        Setting("until", "time", "all the time up to then"),
    ),
}
"""What a trial may do and ask, with its settings."""

TRIAL_WORDS = ("engine", "reservoirs", "springs", "heat")
"""Names in a trial that stand for no single part."""
