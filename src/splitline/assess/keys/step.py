"""Results of one step of the order of work."""

from __future__ import annotations

from splitline.assess.keys import Key

KEYS = (
    Key("number", "count", "Place in the order of work", "k", "", "order of work"),
    Key("duration", "time", "Planned time", "t", "minutes", "order of work"),
    Key("starts_after", "time", "Running total at the start", "t_0", "steps before, waits of windows included", "order of work"),
    Key("ends_after", "time", "Running total at the end", "t_1", "t_0 + t, drawn out by a wait", "order of work"),
    Key("crew_time", "time", "Time of all people", "t n", "minutes × people", "order of work"),
    Key("crew_time_total", "time", "Time of all people so far", "Σ t n", "running total", "order of work"),
    Key("test_pressure", "pressure", "Pressure of the test", "p_t", "as planned", "plan"),
    Key("test_pressure_max", "pressure", "Greatest pressure of the test", "p_max", "as planned, else p_t + min(0.1 p_t, 50 psi)",
        "ASME B31.3 345.5.2, not checked against the standard's text"),
    Key("test_hold", "time", "Hold of the test", "t_h", "as planned", "plan"),
    Key("test_drop", "pressure", "Drop of pressure over the hold", "Δp", "start less end, one temperature", "measured"),
    Key("bar_over", "torque", "Torque that broke the rotor away", "T", "as read", "measured"),
)  # fmt: skip
