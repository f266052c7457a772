"""Results of a joint: hardware, make-up, tools and load cases. Keys of the prediction stand in keys/tightening.py."""

from __future__ import annotations

from splitline.assess.keys import Key

ISO = "ISO 68-1, ISO 724, ISO 898-1; ASME B1.1 for inch threads"
SHIGLEY = "Shigley, Mechanical Engineering Design, 9th ed."
VDI = "VDI 2230-1:2003"
PRACTICE = "common practice, no published source"
STATICS = "statics"

KEYS: tuple[Key, ...] = (
    # hardware
    # make-up
    Key("stretch_low", "length", "Least stretch accepted", "ΔL_low", "ΔL·(1 − s)", PRACTICE),
    Key("stretch_high", "length", "Greatest stretch accepted", "ΔL_high", "ΔL·(1 + s)", PRACTICE),
    Key("turn_low", "angle", "Least turn from snug that fits the torque", "θ_low", "θ·(1 − s)", PRACTICE),
    Key("turn_high", "angle", "Greatest turn from snug that fits the torque", "θ_high", "θ·(1 + s)", PRACTICE),
    Key(
        "embedding_loss",
        "force",
        "Preload lost by embedding",
        "F_Z",
        "3.29 µm·(L/d)^0.34 / (1/k_b + 1/k_m)",
        "VDI 2230:1986",
    ),
    Key("tightening_factor", "number", "Tightening factor", "α_A", "(1 + s)/(1 − s)", VDI),
    Key(
        "preload_low",
        "force",
        "Low preload",
        "F_low",
        "min(F·(1 − s), predicted low)·(1 − r)",
        "scatter and relaxation as printed",
    ),
    Key("preload_high", "force", "High preload", "F_high", "F·(1 + s)", "scatter as printed"),
    Key(
        "combined_stress_high",
        "stress",
        "Combined stress, low friction and high preload",
        "σ_v,high",
        "√(σ² + 3 τ²) at F_high",
        VDI,
    ),
    # threads and faces
    Key(
        "strip_external",
        "area",
        "Shear area of the bolt thread",
        "A_e",
        "π D1max·L_e/P·[P/2 + (d2min − D1max)/√3]",
        "FED-STD-H28/2",
    ),
    Key(
        "strip_internal",
        "area",
        "Shear area of the internal thread",
        "A_i",
        "π d_min·L_e/P·[P/2 + (d_min − D2max)/√3]",
        "FED-STD-H28/2",
    ),
    Key(
        "engagement",
        "length",
        "Engaged thread",
        "L_e",
        "as given, else the height of the nut",
        "ISO 4032; ASME B18.2.2",
    ),
    Key(
        "engagement_needed",
        "length",
        "Engagement that breaks the bolt first",
        "L_e,min",
        "2 A_s/(A_e/L_e)·max(1, A_e R_b/(A_i R_i))",
        "FED-STD-H28/2",
    ),
    Key("bearing_pressure", "stress", "Pressure under nut or head", "p", "F / (π/4·(d_w² − d_h²))", VDI),
    Key("washer_pressure", "stress", "Pressure under the washer", "p_U", "F / (π/4·(d_w² − d_h²))", VDI),
    # passes and tools
    # sealing
    Key(
        "gasket_diameter",
        "length",
        "Gasket reaction diameter",
        "G",
        "mean contact diameter, or the outer less 2 b where N/2 > 6.35 mm",
        "ASME VIII-1 App. 2, Table 2-5.2",
    ),
    Key(
        "gasket_effective_width",
        "length",
        "Effective gasket width",
        "b",
        "b0 = N/2; above 1/4 in 0.5·√b0 (in)",
        "ASME VIII-1 App. 2, Table 2-5.2",
    ),
    Key(
        "gasket_seating_load", "force", "Seating load of the gasket", "W_m2", "π b G y", "ASME VIII-1 App. 2, 2-5(c)(2)"
    ),
    Key(
        "gasket_stress_high",
        "stress",
        "Gasket pressure at high preload",
        "p_G",
        "n·F_high / (π G N)",
        "ASME VIII-1 App. 2",
    ),
    # load cases
    Key("pressure_force", "force", "Pressure force on the joint", "P", "p·π/4·D²", STATICS),
    Key("force_per_bolt", "force", "Outside force per bolt (greatest)", "F_A", "(P + extra) / n", STATICS),
    Key("bolt_forces", "force", "Outside force on each bolt", "", "Σ p·w·l", STATICS, "list"),
    Key(
        "thermal_change",
        "force",
        "Change of preload by temperature",
        "ΔF",
        "[L (α_m ΔT_m − α_b ΔT_b) + F (1/k_b + 1/k_m)] / (E/E_T/k_b + E/E_T/k_m) − F",
        f"{VDI}, 5.4.2.3",
    ),
    Key(
        "thermal_change_high",
        "force",
        "Change of preload by temperature, greatest",
        "ΔF_high",
        "[L (α_m ΔT_m − α_b ΔT_b) + F (1/k_b + 1/k_m)] / (E/E_T/k_b + E/E_T/k_m) − F",
        f"{VDI}, 5.4.2.3; over what the plan leaves open",
    ),
    Key(
        "residual_clamp",
        "force",
        "Clamp left per bolt at low preload",
        "F_K",
        "F_low + ΔF − (1 − n·Φ)·F_A",
        f"{SHIGLEY}, eq. 8-25",
    ),
    Key(
        "separation_factor",
        "number",
        "Low preload over what unloads the faces",
        "S",
        "(F_low + ΔF) / ((1 − n·Φ)·F_A)",
        f"{SHIGLEY}, eq. 8-30",
    ),
    Key("bolt_load_high", "force", "Bolt load at high preload", "F_S", "F_high + ΔF + n·Φ·F_A", f"{SHIGLEY}, eq. 8-24"),
    Key("load_swing", "force", "Swing of the bolt load", "ΔF_S", "n·Φ·F_A", f"{SHIGLEY}, eq. 8-24"),
    Key(
        "service_stress",
        "stress",
        "Combined stress in service at high preload",
        "σ_S",
        "√((F_S/A_min)² + 3 (τ_high/2)²)",
        f"{VDI}, 5.5.2: half the torsion stays",
    ),
    Key(
        "yield_at_temperature",
        "stress",
        "Yield at bolt temperature",
        "R_e,T",
        "yield · share kept at temperature",
        "grade and its curve",
    ),
    Key(
        "gasket_operating_load",
        "force",
        "Operating load of the gasket",
        "W_m1",
        "π/4 G² p + 2 b π G m p",
        "ASME VIII-1 App. 2, 2-5(c)(1)",
    ),
    Key(
        "lip_pressure",
        "pressure",
        "Contact pressure at the inner lip (least)",
        "p_lip",
        "N/(w l)·(1 − 6 e/w), N = F_low − F_A, e from moments",
        STATICS,
    ),
    Key("lip_pressures", "pressure", "Contact pressure at the inner lip, bolt by bolt", "", "", STATICS, "list"),
    Key(
        "lip_opening_load",
        "force",
        "Bolt load at which the lip opens (greatest)",
        "F_open",
        "F_A·(1 + a/b)",
        f"{STATICS} (prying about the outer edge)",
    ),
)
