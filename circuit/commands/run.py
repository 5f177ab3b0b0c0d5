"""`airwright run`: play the trials of a design and hold what happens to what they expect."""

import argparse

from circuit.console import asking

GROUP = "ask"
HELP = "run the trials of a design: each expectation met or not, with its figure"


def arguments(parser: argparse.ArgumentParser) -> None:
    asking.arguments(parser)


def run(options: argparse.Namespace) -> int:
    from circuit.report import figures, studies
    from circuit.studies.trials import run_trials

    kept = {}

    def ask(circuit):  # type: ignore[no-untyped-def]
        kept["circuit"] = circuit
        return run_trials(circuit)

    return asking.run(
        options, ask, lambda runs: studies.trials(kept["circuit"], runs), "run",
        lambda runs: ((each.trial.name, each.trace) for each in runs if each.trace is not None),
        lambda runs: ((each.trial.name, chart) for each in runs
                      if (chart := figures.trial_chart(kept["circuit"], each)) is not None),
        lambda runs: all(each.is_met for each in runs))
