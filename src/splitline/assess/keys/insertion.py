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
    Key("track_front", "force", "Front support", "R_front", "W (x_c − x_rear)/(x_front − x_rear)", "statics"),
    Key("track_rear", "force", "Rear support", "R_rear", "W − R_front", "statics"),
    Key("track_greatest", "force", "Greater load of the two supports", "R_max", "larger of the two",
        "statics"),
    Key("overhang_travel", "length", "Travel after which it tips over a standing front support", "x_tip",
        "x_front − x_c", "statics"),
)  # fmt: skip
