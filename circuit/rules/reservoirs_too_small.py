"""The reservoirs hold too little for the brake chambers.

Why
---
With the compressor stopped, each full application takes a chamber's filling out of the reservoirs. The ratio of the two
volumes says how many are left: at 12 times about 92 % of the pressure remains after one, half after eight.

What happens
------------
The pressure falls too fast when the brakes are applied again and again, or when the compressor is lost.

What is not checked
-------------------
True volumes: reservoirs and chambers are taken as declared, chambers by the rated-volume table.

Bad
---
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    coupling-head blue: line control
    reservoir tank: volume 8 L, rated 10 bar, role service
    check-valve guard
    tube red -> guard.1: size 1/2 in, length 9 m
    tube guard.2 -> tank: size 1/2 in, length 1 m
    relay-valve relay: deliveries 1
    tube tank -> relay.1: size 1/2 in, length 1 m
    tube blue -> relay.4: size 1/2 in, length 9 m
    chamber left: type 30, stroke 2.5 in, axle front, side left
    hose relay.2 -> left: bore 3/8 in, length 1 m

Good
----
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    coupling-head blue: line control
    reservoir tank: volume 20 L, rated 10 bar, role service
    check-valve guard
    tube red -> guard.1: size 1/2 in, length 9 m
    tube guard.2 -> tank: size 1/2 in, length 1 m
    relay-valve relay: deliveries 1
    tube tank -> relay.1: size 1/2 in, length 1 m
    tube blue -> relay.4: size 1/2 in, length 9 m
    chamber left: type 30, stroke 2.5 in, axle front, side left
    hose relay.2 -> left: bore 3/8 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Figure, Rule, met, not_met, undecided
from circuit.judging.volumes import Share, shares
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    if not evidence.chambers or not evidence.service_reservoirs:
        return
    for share in shares(evidence):
        if share.rule_total is None:
            yield from _judge(evidence, share, limits["ratio"]) if circuit.is_towed else ()
        else:
            yield from _judge(evidence, share, limits["ratio"])


def _judge(evidence: Evidence, share: Share, ratio: float) -> Iterator[Answer]:
    first = share.tanks[0]
    unknown = [c for c in share.chambers if c.settings["rated-volume"] is None and c.settings["holds"] is None]
    if unknown:
        yield undecided(share.name, unknown[0].span,
                        f"the volume of {unknown[0].name} (type {unknown[0].settings['type']}) is not in the "
                        "rated-volume table at this stroke",
                        f"`holds`, its published volume at full stroke, on {' and '.join(c.name for c in unknown)}")
        return
    needed = ratio * share.chamber_volume
    figure = Figure(f"reservoir volume against {ratio:g} times the chambers", share.tank_volume, needed, "volume")
    worked = (f"{shown(share.tank_volume, 'volume')} for chambers of {shown(share.chamber_volume, 'volume')}: "
              f"ratio {ratio_shown(share.ratio, ratio)}")
    if figure.margin < -1e-9:
        also = [(tank.span, "counted") for tank in share.tanks[1:]]
        also += [(chamber.span.outermost, "a brake it serves") for chamber in share.chambers]
        yield not_met(share.name, first.span, f"{share.name} has {worked}, and {ratio:g} is asked",
                    f"{shown(-figure.margin, 'volume')} more reservoir, or smaller chambers", figure=figure,
                    also=tuple(also))
    else:
        others = "; ".join(f"{other.name} alone {other.ratio:.1f}" for other in shares(evidence)
                           if other.rule_total is None) if share.rule_total else ""
        yield met(share.name, first.span, f"{share.name} has {worked}" + (f" ({others})" if others else ""), figure)


def ratio_shown(found: float, asked: float) -> str:
    """A ratio with as many digits as it takes to differ from the one that is asked.

    >>> ratio_shown(7.9991, 8), ratio_shown(8.4, 8), ratio_shown(8.0, 8)
    ('7.999', '8.4', '8.0')
    """
    return next((text for text in (f"{found:.{digits}f}" for digits in range(1, 7)) if float(text) != asked), f"{found:.1f}")


RULE = Rule("reservoirs-too-small", "the reservoirs hold enough for the chambers", "error", check, missing=True)
