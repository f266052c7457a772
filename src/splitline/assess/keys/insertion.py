"""Results of pushing a bundle in."""

from __future__ import annotations

from splitline.assess.keys import Key

COMMON = "common practice, no published source"
PUSH = "F = m g (μ cos α + sin α) + n π D f"

KEYS = (
    Key("push_force_low", "force", "Push force, least", "F_low", PUSH, "statics; friction and drag: " + COMMON),
    Key("push_force_high", "force", "Push force, greatest", "F_high", PUSH, "statics; friction and drag: " + COMMON),
    Key(
        "push_force_free", "force", "Push force before the seals enter, greatest", "F_free",
        "m g (μ cos α + sin α)", "statics",
    ),
    Key("seal_force", "force", "Drag of the seals, greatest", "F_seal", "n π D f", COMMON),
    Key("stop_force", "force", "STOP force", "F_stop", "1.3 F_high, or a jump of 25 %", COMMON),
    Key("jack_pressure", "pressure", "Jack pressure at the greatest push force", "p", "F_high / (n A)", "Pascal"),
    Key("stop_pressure", "pressure", "Jack pressure at the STOP force", "p_stop", "F_stop / (n A)", "Pascal"),
    Key("strokes", "count", "Jack strokes", "N", "distance / stroke, rounded up", "geometry"),
    Key("track_front", "force", "Front support at the start", "R_front", "W (x_c − x_rear)/(x_front − x_rear)", "statics"),
    Key("track_rear", "force", "Rear support at the start", "R_rear", "W − R_front", "statics"),
    Key("track_greatest", "force", "Greatest load of one support on the way", "R_max", "largest over the travel",
        "statics"),
    Key("overhang_travel", "length", "Travel until the centre of mass passes the front support", "x_tip",
        "x_front − x_c", "statics"),
)  # fmt: skip
