"""What `explain` tells of a project's gate: the policy file, and the findings that come of no clause."""

POLICY = """\
policy: what a reviewer asks of every design of a project, in a file named airwright.toml

It stands above the designs, is found upwards from each, up to the top of the repository, and no design can lower it. Let the
gate take it from where the author of a change cannot edit it: --policy FILE. Every key may be left out.

  rules = ["SET"]                  least sets (airwright standards lists them): added to
                                   those that a design names
  fail-on = "warning"              exit 1 from this severity on: error, warning or note
  select = ["part-backwards"]      only these rules count; what others find is shown as accepted
  ignore = ["no-pressure-gauge"]   these do not
  units = "metric"                 of what people are shown: both, metric or imperial
  baseline = "known.json"          known before, from airwright check --write-baseline: does not count again; what was asked
                                   then is not asked less
  play-trials = true               every trial of a design is played, and fails where an expectation is not met

  [severity]
  cock-in-brake-feed = "error"     weighs a rule's findings otherwise

  [waivers]
  most = 3                         so many a design may have
  by = ["A. Reviewer"]             only these may accept, by the `by` of the waiver
  never = ["circuits-not-separate"]
  none = false                     true: no waiver of a design counts

  [[folder]]                       for designs in some folders; several may hold for one
  path = "trailers/*"              from the policy's own folder; * stands for any letters, slashes too
  class = ["semi-trailer", "full-trailer"]
  rules = ["SET"]
  trials = ["full-application"]    must be there, and are played

What a design misses of it is a finding `policy`, an error that no waiver accepts. A waiver that does not count is one too, and
what it accepted stands again. A key that is not known stops the run. The text of a policy proves nothing of who wrote the
waiver: `by` is declared.
"""

LESS = """\
not-asked-any-more: a design is asked less than before

Why
  A fault that nobody looks for is not mended. Deleting a `rules` row, making a truck a trailer, writing `body` or `built`
  so that clauses are lifted, taking out a `circuit`, or a trial, or the figure in its expectation: each makes a check greener.

What is compared
  Vehicle class, sets of rules, each clause that holds for the vehicle, what each circuit is meant to brake from which reservoir,
  each trial with what is done in it and each of its expectations, with both figures; with what the baseline knows
  (airwright check --write-baseline), with a revision of git (airwright check --since REVISION), or with another file
  (airwright compare OLD NEW).

What is not compared
  Parts: one that is taken out is a change, and what it leaves unmet is found by the rules.

It is an error, and no waiver accepts it: write what was there, or have the owner of the gate write the baseline anew.
"""

TOPICS = {"policy": POLICY, "not-asked-any-more": LESS}
