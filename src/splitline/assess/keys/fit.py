"""Results of an interference fit. All diameters, interferences and gaps are diametral."""

from __future__ import annotations

from splitline.assess.keys import Key

LAME = "Lamé, plane stress; Shigley §3-16 (press and shrink fits)"
DISC = "rotating annular disc, plane stress; Timoshenko & Goodier, Theory of Elasticity, §32"
OIL_BAND = "finite-element study, seals up to 7.5 % in from the hub ends; 1.0 at mid-length"
OIL_MISES = "von Mises, plane stress; finite elements find up to 7 % more in hubs, 26 % in solid, 12 % in hollow shafts"
COMMON = "common practice, no published source"
MISES = "von Mises, plane stress"

_BAND = (("", ""), ("_low", ", least"), ("_high", ", greatest"))


def _band(key: str, kind: str, title: str, symbol: str, formula: str, source: str) -> tuple[Key, ...]:
    return tuple(
        Key(key + end, kind, title + words, symbol + end.replace("_", " "), formula, source) for end, words in _BAND
    )


KEYS = (
    *_band("interference", "length", "Diametral interference", "δ", "δ as drawn, or advance × taper", "geometry"),
    Key("interference_share", "number", "Interference over diameter", "δ/d", "δ / d", "geometry"),
    Key("interference_lost", "length", "Interference lost in service", "Δδ", "Δδ_speed + Δδ_temperature", DISC),
    Key("speed_loss", "length", "Interference lost to speed", "Δδ_n", "u_hub(ω) − u_shaft(ω)", DISC),
    Key(
        "temperature_loss", "length", "Interference lost to temperature", "Δδ_T", "d (α_h ΔT_h − α_s ΔT_s)",
        "linear expansion",
    ),
    *_band(
        "contact_pressure", "pressure", "Contact pressure at rest", "p",
        "p = δ / {d [(1/E_h)((D²+d²)/(D²−d²)+ν_h) + (1/E_s)((d²+b²)/(d²−b²)−ν_s)]}", LAME,
    ),
    *_band(
        "contact_pressure_at_speed", "pressure", "Contact pressure at speed and temperature", "p_n",
        "p_n = p (δ − Δδ_n − Δδ_T)/δ", DISC,
    ),
    Key("letting_go_speed", "speed", "Speed at which the fit lets go", "n_0", "ω_0 = √(δ_low / (Δδ_n/ω²))", DISC),
    Key("hub_stress", "stress", "Hub stress, greatest interference", "σ_h", "√(σ_r² − σ_r σ_t + σ_t²)", MISES),
    Key("shaft_stress", "stress", "Shaft stress, greatest interference", "σ_s", "√(σ_r² − σ_r σ_t + σ_t²)", MISES),
    Key(
        "hub_stress_at_speed", "stress", "Hub stress at speed, greatest interference", "σ_h,n",
        "von Mises of Lamé and rotation", DISC,
    ),
    Key(
        "shaft_stress_at_speed", "stress", "Shaft stress at speed, greatest interference", "σ_s,n",
        "von Mises of Lamé and rotation", DISC,
    ),
    Key("torque_capacity", "torque", "Torque capacity, friction alone", "T_c", "T_c = μ p π d² L / 2", "Shigley §7-8"),
    Key("axial_capacity", "force", "Axial capacity, friction alone", "F_c", "F_c = μ p π d L", "Shigley §7-8"),
    Key(
        "axial_pull_off", "force", "Axial force that pulls the hub off its taper", "F_off", "p π d L (μ − tan θ)",
        "wedge on friction",
    ),
    Key(
        "grip_reserve", "number", "Capacity over duty, torque and axial force together", "k",
        "(μN)² = (k 2T/d)² + (k F + N θ)², N = p π d L",
        "friction circle on a cone (class-society form, not checked against the standard's text)",
    ),
    Key("interference_needed", "length", "Least drawn interference that carries the duty with its factor", "δ_need",
        "p_need d/E* + Δδ + Δδ_s", "the grip's own formula turned round, Lamé and losses of service"),
    Key("key_shear_torque", "torque", "Torque at which the key yields in shear", "T_s", "0.577 S_y w L d/2", "Shigley §7-7"),
    Key("key_bearing_torque", "torque", "Torque at which key or keyway yields at its side", "T_b", "S_y h/2 L d/2",
        "Shigley §7-7"),
    Key("nut_force", "force", "Clamp of the nut", "F_n", "T/(0.2 d)", "Shigley §8-8"),
    Key("shoulder_pressure", "stress", "Pressure on the shoulder", "p_s", "(F + F_n)/(π/4 (D_s² − d²))", "statics"),
    Key("stored_energy", "energy", "Energy stored in the fit", "U", "U = ½ p π d L δ/2", "linear elasticity"),
    Key("hub_mass", "mass", "Mass of the hub as a plain ring", "m", "ρ π/4 (D² − d²) L", "geometry"),
    Key("taper_one_in", "number", "Taper on diameter, 1 in", "n", "1:n on diameter", "geometry"),
    Key("taper_half_angle", "angle", "Taper half-angle, to the axis", "θ", "tan θ = 1/(2n)", "geometry"),
    Key("taper_included_angle", "angle", "Taper included angle, side to side", "2θ", "2θ", "geometry"),
    Key("taper_per_foot", "number", "Taper in inches per foot", "t", "12/n", "geometry"),
    Key(
        "advance_per_hundredth", "length", "Advance per 0.01 mm of interference", "a_1", "n × 0.01 mm", "geometry"
    ),
    *_band("advance", "size", "Advance from the witnessed zero", "a", "a = n δ", "geometry"),
    Key("oil_ratio", "number", "Oil pressure over contact pressure that parts the fit at its seals", "k_oil",
        "by D/d, L/d and shaft bore, at least 1.6", OIL_BAND),
    Key(
        "expansion_pressure", "pressure", "Oil to float, min: the bore begins to open", "p_oil",
        "p_oil = 1.0 p_low", OIL_BAND,
    ),
    Key(
        "expansion_pressure_high", "pressure", "Oil to float, max: may be needed at the seals", "p_oil,high",
        "p_oil,high = k_oil p_high", OIL_BAND,
    ),
    Key(
        "removal_pressure", "pressure", "Oil pressure to allow for at removal", "p_rem", "p_rem = k_oil p_high", OIL_BAND
    ),
    Key("oil_yield_pressure", "pressure", "Oil pressure at which hub or shaft begins to yield", "p_yield",
        "yield strength / (von Mises per unit of pressure)", OIL_MISES),
    Key("oil_pressure_limit", "pressure", "Least limit of the oil pressure: drawing, pump, yield", "p_max",
        "min(drawing, pump, p_yield)", "as given; " + OIL_MISES),
    Key("zero_dimension", "size", "Zero as read, from the fixed face", "z", "as read", "measured"),
    Key("stop_from_zero", "size", "Zero less the drawn advance", "z − a", "z − a", "geometry"),
    Key(
        "hub_stress_mounting", "stress", "Hub stress at the highest oil pressure", "σ_h,oil", "1.07 von Mises at p_oil,high",
        OIL_MISES,
    ),
    Key(
        "shaft_stress_mounting", "stress", "Shaft stress at the highest oil pressure", "σ_s,oil",
        "1.26 (hollow 1.12) von Mises at p_oil,high", OIL_MISES,
    ),
    *_band("push_force", "force", "Push force", "F", "F = p π d L (tan θ + μ)", "wedge and friction"),
    Key(
        "push_off_force", "force", "Force with which a floated hub comes off", "F_off,oil", "p π d L (tan θ − 0.005)",
        "wedge and friction; μ 0.005 from a published text on oil injection",
    ),
    Key("ram_pressure", "pressure", "Ram pressure at the greatest push force", "p_ram", "F_high / A", "Pascal"),
    Key("oil_hold", "time", "Hold of the ram after the bore is released", "t_hold", "as planned", COMMON),
    Key("drain", "time", "Wait for oil to drain before any torque", "t_drain", "as planned", COMMON),
    Key("smoothing", "length", "Diametral loss by smoothing", "Δδ_s", "0.8 (Rz_h + Rz_s); on oil none",
        "DIN 7190-1, not checked against the standard's text"),
    Key("zero_low", "size", "Least zero that agrees with stop and advance", "z_low", "s + a − (Δs + Δa)", "geometry"),
    Key("zero_high", "size", "Greatest zero that agrees with stop and advance", "z_high", "s + a + Δs + Δa", "geometry"),
    Key("taper_shaft_one_in", "number", "Taper of the shaft as measured, 1 in", "n_s", "l/(d_1 − d_2)", "geometry"),
    Key("taper_hub_one_in", "number", "Taper of the bore as measured, 1 in", "n_h", "l/(d_1 − d_2)", "geometry"),
    Key("taper_difference", "length", "Difference of both tapers over the length of contact", "Δd_t",
        "L |1/n_s − 1/n_h|", "geometry"),
    Key("advance_made", "size", "Advance as locked, from the zero", "a_m", "z − r", "measured"),
    Key("grip_temperature", "temperature", "Hub grips when cooled to", "T_grip", "T_h − g/(α_h d)", "linear expansion"),
    Key("shaft_cooling", "temperature_difference", "Cooling of the shaft that makes up for what the hub may not be heated",
        "ΔT_s", "lacking/(0.95 α_s d)", "linear expansion, coefficients 5 % low"),
    Key("least_gap", "length", "Least gap at the seat", "g_l", "as given, else g/2", "own bound, no published source"),
    Key("handling_gap", "length", "Handling gap, diametral", "g", "0.001 d unless given", COMMON),
    *_band(
        "heating_rise", "temperature_difference", "Heating of the hub", "ΔT", "ΔT = (δ_high + g)/(α_h d)",
        "linear expansion; band for α ± 5 %",
    ),
    Key("hub_temperature_mounting", "temperature", "Hub temperature for mounting", "T_h", "start + ΔT", COMMON),
    Key("bore_gauge", "size", "Size of the gauge for the hot bore", "d_g", "d + g − shaft shrinkage, up to the next 0.01 mm",
        "geometry"),
    Key("removal_difference", "temperature_difference", "Hub over shaft that opens the fit for removal", "ΔT_rem",
        "δ_high/(α_h d)", "linear expansion"),
    Key("axial_shrink", "length", "Hub draws back from its shoulder in cooling", "Δl", "α_h L ΔT", "linear expansion"),
    Key("carry_drop", "temperature_difference", "Hub cools on the way to the seat", "ΔT_c", "as the time, turned round",
        "lumped cooling; convection 8 W/(m² K), emissivity 0.8"),
    Key("gap_at_seat", "length", "Gap left at the seat", "g_s", "g − α_h d ΔT_c", "linear expansion"),
    Key("carrying_time", "time", "Time until only the least gap is left in air", "t_c", "∫ m c dT / (h A (T − T_a))",
        "lumped cooling; convection 8 W/(m² K), emissivity 0.8"),
    Key("measured_interference", "length", "Measured diametral interference", "δ_m", "mean shaft − mean bore; a/n on a taper",
        "measured"),
    Key("contact_pressure_measured", "pressure", "Contact pressure of the measured interference", "p_m", "as p", LAME),
)  # fmt: skip
