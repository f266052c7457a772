"""Results of a time window."""

from __future__ import annotations

from splitline.assess.keys import Key

KEYS = (
    Key("elapsed", "time", "Planned time, one step after another", "t", "sum of the steps' minutes", "order of work"),
    Key("elapsed_shortest", "time", "Planned time with hands enough", "t_min", "longest chain of needs",
        "critical-path method"),
    Key("at_least", "time", "Shortest time allowed", "t_low", "as planned", "plan"),
    Key("at_most", "time", "Longest time allowed", "t_high", "as planned", "plan"),
    Key("slack", "time", "Time in hand before the latest end", "t_high − t", "at most − planned", "order of work"),
    Key("wait", "time", "Waiting the steps do not cover", "t_low − t_min", "at least − planned", "order of work"),
)  # fmt: skip
