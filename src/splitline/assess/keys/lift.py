"""Results of a lift. Places are in the load's own frame; angles of legs are from the horizontal."""

from __future__ import annotations

from splitline.assess.keys import Key

HANG = "least potential energy of load and legs on one hook (statics)"
COMMON = "common practice, no published source"
BOX = "all length corners × 8 directions of the centre's shift + 500 samples, each hung"
RULES = "two legs: NAVEDTRA 14251, AS 3775; three legs: OSHA chain tables; authorities differ"
MARINE = "0027/ND Rev 11.2, Guidelines for Marine Lifting"
TWO = "statics of two parallel forces"

KEYS = (
    Key("mass", "mass", "Mass", "m", "Σ m_i", "statics"),
    Key("centre", "length", "Centre of mass", "c", "Σ m_i r_i / Σ m_i", "statics", "list"),
    Key("weight", "force", "Weight", "W", "m g, g = 9.80665 m/s²", "standard gravity"),
    Key("mass_factor", "number", "Mass factor", "k_m", "1 + margin", MARINE + " style"),
    Key("dynamic_factor", "number", "Dynamic factor", "k_d", "", MARINE + ", Table 5-1 (on land, to 100 t)"),
    Key("weight_design", "force", "Design load", "W_d", "W k_m k_d", "mass margin and dynamic factor"),
    Key("hook", "length", "Hook", "h", "least of Σ ½(EA/L)(|h − p| − L)₊² − W |h − c|", HANG, "list"),
    Key("leg_length", "length", "Leg length, unstretched", "L", "as given, or |h − p|/(1 + T/EA)", HANG, "list"),
    Key("leg_angle", "angle", "Leg angle from the horizontal", "α", "asin(u · up)", "geometry of the hung load", "list"),
    Key("leg_tension", "force", "Leg tension, nominal", "T", "Σ T u = W up, T = EA (l − L)/L", HANG, "list"),
    Key(
        "leg_tension_design", "force", "Leg tension, design", "T_d", "hung at W_d, not under W_d/(k sin α)",
        f"{HANG}; sharing rule: {RULES}", "list",
    ),
    Key("leg_tension_worst", "force", "Leg tension, worst", "T_w", "greatest over lengths and centre at W_d", BOX, "list"),
    Key("leg_tension_least", "force", "Leg tension, least", "T_min", "least over lengths and centre at W_d", BOX, "list"),
    Key("leg_capacity", "capacity", "Capacity of the weakest part", "", "", "chain of parts, see the checks", "list"),
    Key("leg_usage", "share", "Usage of the weakest part", "", "T/capacity", "chain of parts", "list"),
    Key("pull_angle", "angle", "Pull off the fitting's axis", "β", "acos(a · u)", "geometry of the hung load", "list"),
    Key("tilt", "angle", "Tilt as hung", "θ", "acos(up · z)", HANG),
    Key("tilt_worst", "angle", "Tilt, worst", "θ_w", "greatest over lengths and centre, roll included", BOX),
    Key("pick_line_tilt", "angle", "Slope of the picks' line, worst", "", "the rest of the worst tilt is roll", BOX),
    Key("spigot_tilt", "angle", "Tilt allowed at the spigot", "θ_a", "½ s/e", "geometry; the whole s/e is two-point contact"),
    Key("axis_tilt", "angle", "Tilt of the spigot's axis", "θ_s", "|asin(up · a) − asin(z · a)|", "geometry"),
    Key("axis_tilt_worst", "angle", "Tilt of the spigot's axis, worst", "", "greatest over lengths and centre", BOX),
    Key("axis_rise", "length", "Out of square across the spigot", "", "D tan θ_s", "geometry"),
    Key("clocking", "angle", "Turn about the spigot's axis", "", "of the stud holes", "geometry"),
    Key("below_hook", "length", "Hook above the centre of mass", "", "h_z − c_z", "geometry"),
    Key("pick_margin", "length", "Centre inside the picks' polygon by", "", "plan distance from the nearest edge", "geometry"),
    Key("adjust", "length", "Change of each adjustable leg that levels", "ΔL", "least change, + longer", HANG, "list"),
    Key("adjusted_tilt", "angle", "Tilt after adjusting", "", "", HANG),
    Key("step_tilt", "angle", "Tilt by one link or turn of each leg", "", "∂θ/∂L × step", HANG, "list"),
    Key("hook_load", "force", "Hook load", "F_h", "m g k_m k_d + spreader + rigging", "statics"),
    Key("crane_load", "force", "Crane load", "F_c", "share × F_h + block unless rated below the hook", "statics"),
    Key("crane_capacity", "capacity", "Crane capacity", "", "at the radius, straight between rows of its chart", "crane's chart"),
    Key("crane_usage", "share", "Crane usage", "", "F_c/capacity", "statics"),
    Key("headroom", "length", "Headroom", "", "hook height − hook to underside − clear over", "geometry of the hung load"),
    Key("wind_angle", "angle", "Hoist line off the vertical in the wind", "", "atan(F_w/W)", "statics"),
    Key("upper_tension", "force", "Upper sling tension, design", "", "hung at W_d", HANG, "list"),
    Key("upper_tension_worst", "force", "Upper sling tension, worst", "", "greatest over lengths and centre", BOX, "list"),
    Key("spreader_compression", "force", "Compression in the spreader, design", "", "greatest over its cuts", HANG),
    Key("spreader_tilt", "angle", "Tilt of the spreader", "", "", HANG),
    Key("upend_angles", "angle", "Angle turned", "θ", "0° to the end in even steps", "definition", "list"),
    Key("upend_head", "force", "Head", "F_head", "W (x_c − x_t)/(x_h − x_t)", TWO, "list"),
    Key("upend_head_low", "force", "Head, least", "", "centre shifted", TWO, "list"),
    Key("upend_head_high", "force", "Head, greatest", "", "centre shifted", TWO, "list"),
    Key("upend_tail", "force", "Tail", "F_tail", "W − F_head", TWO, "list"),
    Key("upend_tail_low", "force", "Tail, least", "", "centre shifted", TWO, "list"),
    Key("upend_tail_high", "force", "Tail, greatest", "", "centre shifted", TWO, "list"),
    Key("upend_slack", "angle", "Tail goes slack at", "", "x_c = x_h", TWO),
    Key("upend_changeover", "angle", "Head carries more than the tail from", "", "F_head = F_tail", TWO),
    Key("upend_runaway", "angle", "Centre passes over the tail at", "", "x_c = x_t", TWO),
    Key("roll_worst", "angle", "Roll about the line of the picks, worst", "φ", "atan(doubt of the centre / depth below the line)",
        "statics of the hung load"),
    Key("still_load", "force", "Load cell while it hangs still", "", "W + spreader + rigging", "statics"),
    Key("still_load_low", "force", "Load cell hanging still, least expected", "", "W·(2 − k_m) + spreader + rigging",
        "statics; mass within its margin"),
    Key("still_load_high", "force", "Load cell hanging still, most expected", "", "W·k_m + spreader + rigging",
        "statics; mass within its margin"),
    Key("trial_mass", "mass", "Mass by the trial lift", "", "resultant of the load cells / g", "statics of concurrent forces"),
    Key("trial_centre", "length", "Centre where the hangs of the trial lift meet", "", "point nearest the hook's verticals",
        "statics; least squares", "list"),
    Key("trial_miss", "length", "Planned centre off the trial lift's line", "", "distance from the hook's vertical", "statics"),
)  # fmt: skip
