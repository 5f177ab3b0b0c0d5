"""What a paper says of where it is from: the standards held to, the design's fingerprint, the tool."""

import hashlib

from circuit import __version__
from circuit.draw.sheet import TitleBlock
from circuit.judging.rule import Result
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
    """How many findings are open, in words that are no approval."""
    own = [judged, *(other for _, other in judged.vehicles)]
    number = sum(j.is_open for verdict in own for j in verdict.findings)
    late = sum(each.result is Result.NOT_MET for verdict in own for each in verdict.predicted)
    return f"findings open: {number or 'none in what was checked'}" + (f"; by simulation not met: {late}" if late else "")


def block_of(judged: Verdict, date: str = "") -> TitleBlock:
    """The title block of a sheet. date: as a person gave it, or blank."""
    vehicle = judged.circuit.vehicle
    return TitleBlock(vehicle.title, vehicle.vehicle_class, judged.circuit.source.name, standards(judged), TOOL,
                      fingerprint(judged), standing(judged), date)
