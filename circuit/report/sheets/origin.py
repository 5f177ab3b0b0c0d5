"""What a paper says of where it is from: the standards held to, the design's fingerprint, the tool."""

import hashlib

from circuit import __version__
from circuit.draw.block import TitleBlock
from circuit.verdict.judge import Verdict

TOOL = f"airwright {__version__}"


def fingerprint(judged: Verdict) -> str:
    """The beginning of a SHA-256 of the design's files, so that a paper can be matched with its design."""
    digest = hashlib.sha256()
    files = {source.name: source.text for source in (judged.circuit.source, *judged.circuit.files)}
    for text in files.values():
        digest.update(text.encode("utf-8", "surrogatepass") + b"\0")
    return digest.hexdigest()[:16]


def standards(judged: Verdict) -> str:
    """The rule sets held to, with their editions."""
    words = []
    for each in judged.sets:
        editions = [clause.edition for clause in each.clauses if clause.edition]
        most = max(dict.fromkeys(editions), key=editions.count, default="")
        words.append(each.title + (f", {most}" if most else ""))
    return "; ".join(words)


def standing(judged: Verdict) -> str:
    """How many findings are open, and how much is not met under them, in words that are no approval."""
    own = [judged, *(other for _, other in judged.vehicles)]
    open_ones = [j for verdict in own for j in verdict.findings if j.is_open]
    played, under = sum(j.by_simulation for j in open_ones), sum(len(j.follows) for j in open_ones)
    return (f"findings open: {len(open_ones) or 'none in what was checked'}"
            + (f", {played} of them by simulation" if played else "")
            + (f"; {under} more not met that would go with them" if under else ""))


def block_of(judged: Verdict, date: str = "") -> TitleBlock:
    """The title block of a sheet. date: as a person gave it, or blank."""
    vehicle = judged.circuit.vehicle
    return TitleBlock(vehicle.title, vehicle.vehicle_class, judged.circuit.source.name, standards(judged), TOOL,
                      fingerprint(judged), standing(judged), date)
