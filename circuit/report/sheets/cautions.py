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
