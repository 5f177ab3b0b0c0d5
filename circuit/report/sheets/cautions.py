"""The cautions that go with every page and paper, in our own words."""

CAUTIONS = (
    "A computed pass is a drawing check: predicted from a file. It does not replace inspection, test or approval; where "
    "the law asks for approval, only the authority gives it. Local codes and licensed practice come first.",
    "Level ground, wheels chocked both ways, before anything is drained, caged or loosened.",
    "Treat every reservoir as a charged bottle: drain it to nothing before a fitting is turned. Its neighbour behind a "
    "check valve stays charged.",
    "Never open a spring chamber, and never stand in line with one. A caging bolt that will not seat may mean a broken "
    "spring.",
    "A caged brake is no brake: tag it, tow only as the rules allow, and uncage it afterwards.",
    "Springs come on by themselves when pressure falls: keep clear of rods and levers.",
    "Goggles and ears at drains, no hand before a vent; a hose that lets go whips. Compressed air never on skin or clothes.",
    "A hand valve for the service brakes is no parking brake. A trailer held only by the air in its reservoir must be "
    "chocked: air leaks away.",
    "No plug, bypass, tape or household fitting in a brake line is temporary.",
    "Do not drive with a low-pressure warning on.",
    "After any change: leak, build-up, function and brake-balance test by a licensed person.",
)

_CHOCKED = "Level ground, wheels chocked both ways; tell everybody before air goes in or out."
_GAUGE = ("A gauge or test fitting goes in with every reservoir drained to nothing, those behind check valves too; only then "
          "charge.")
_CLEAR = ("Nobody at push rods, levers or wheels while the pedal or a park control is moved or air is let out: springs come "
          "on by themselves.")
SPRINGS = "; springs come on: wheels chocked, nobody at the rods"
"""Behind what is done where springs come on by it."""
WORK = (_CHOCKED, _GAUGE, _CLEAR)
"""What stands on every sheet by which somebody works at a vehicle under air."""
STROKE = (_CHOCKED, _GAUGE, "Nobody at the rods while the pedal moves: mark them released, stand clear, apply and hold, then "
          "measure. Springs held off all the while: a second person keeps the pressure up.")
BALANCE = ("Wheels of every axle that is not on the rollers chocked both ways; tell everybody before air goes in or out.",
           _GAUGE, "Nobody at push rods, levers, wheels or rollers while they turn or a brake is moved.")
