"""Results of a measured clearance."""

from __future__ import annotations

from splitline.assess.keys import Key

KEYS = (
    Key("value", "length", "Value that counts", "v", "as left, else as found", "measured"),
    Key("diametral_value", "length", "As diametral clearance", "c_d", "2 × radial", "geometry"),
    Key("radial_value", "length", "As radial clearance", "c_r", "diametral / 2", "geometry"),
    Key("gap_greatest", "length", "Greatest gap of the map", "g_max", "largest reading", "measured"),
    Key("gap_spread", "length", "Greatest less least gap", "Δg", "g_max − g_min", "measured"),
    Key("total_float", "length", "Total float, thrust shoes out", "f", "stop to stop", "measured"),
    Key("active_side", "length", "Rotor position from the active-side stop", "x", "f × split, or f/2 + offset",
        "geometry"),
    Key("inactive_side", "length", "Left to the inactive-side stop", "f − x", "f − x", "geometry"),
    Key("shim_change", "length", "Shim change (minus: take out)", "s", "found − wanted", "geometry"),
    Key("shim_change_low", "length", "Shim change, least that lands inside", "s_low", "found − high", "geometry"),
    Key("shim_change_high", "length", "Shim change, most that lands inside", "s_high", "found − low", "geometry"),
    Key("shim_new", "length", "Shim to fit", "s_new", "in place + change", "geometry"),
    Key("lift_factor", "number", "Lift over diametral clearance", "k", "½ (1/cos α_down + 1/cos α_up)", "geometry"),
    Key("lift_low", "length", "Least indicator lift", "L_low", "k × least diametral clearance", "geometry"),
    Key("lift_high", "length", "Greatest indicator lift", "L_high", "k × greatest diametral clearance", "geometry"),
    Key("lift_clearance", "length", "Diametral clearance from the lift", "c", "lift / k", "geometry"),
    Key("probe_gap", "length", "Probe gap", "g", "−V / sensitivity", "API 670, not checked against the standard's text"),
    Key("probe_voltage", "voltage", "Probe gap voltage", "V", "as read", "measured"),
    Key("probe_voltage_low", "voltage", "Voltage at the least gap", "V_low", "−g_low × sensitivity",
        "API 670, not checked against the standard's text"),
    Key("probe_voltage_high", "voltage", "Voltage at the greatest gap", "V_high", "−g_high × sensitivity",
        "API 670, not checked against the standard's text"),
)  # fmt: skip
