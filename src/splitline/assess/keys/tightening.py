"""Results of the prediction of tightening. Preloads are right after the last step, before relaxation."""

from __future__ import annotations

from splitline.assess.keys import Key

MODEL = "ring beam or free beam on an elastic face (Hetényi 1946; harmonic series), bolts as springs"
SCATTER = "normal scatter, one draw per bolt and one common"
READ = "readings of this joint"
PRACTICE = "common practice, no published source"

KEYS: tuple[Key, ...] = (
    Key("order", "count", "Order of one pass", "", "bolt after bolt", PRACTICE, "list"),
    Key("order_steps", "count", "Steps of one pass, tools together", "", "", PRACTICE, "table"),
    Key("contact_stiffness", "contact_stiffness", "Stiffness of the face", "k_c", "E / clamp length", PRACTICE),
    Key(
        "interaction", "share", "Interaction: change of bolt i per unit put into bolt j", "A",
        "S_ij / S_jj, S = (I/k_b + C)⁻¹", MODEL, "table",
    ),
    Key(
        "predicted_passes", "force", "Predicted preloads, pass by pass",
        "", "min ½ F·M·F − e·F, F ≥ 0", MODEL, "table",
    ),
    Key("predicted", "force", "Predicted preloads at the end", "", "min ½ F·M·F − e·F, F ≥ 0", MODEL, "list"),
    Key(
        "predicted_spread", "share", "Elastic-interaction spread at the end, without tool and friction scatter",
        "", "(max − min)/mean", MODEL,
    ),
    Key(
        "predicted_spreads", "share", "Elastic-interaction spread pass by pass, without tool and friction scatter",
        "", "(max − min)/mean", MODEL, "list",
    ),
    Key("predicted_low", "force", "Lowest bolt with scatter (1st percentile)", "", "F = P·m", SCATTER),
    Key("predicted_high", "force", "Highest bolt with scatter (99th percentile)", "", "F = P·m", SCATTER),
    Key(
        "predicted_deviation", "force", "Standard deviation of each bolt",
        "", "σ·√(c·(ΣP)² + (1 − c)·ΣP²)", SCATTER, "list",
    ),
    Key("chance_over_yield", "share", "Chance that a bolt passes its yield load", "", "1 − E[Π Φ], or share of trials", SCATTER),
    Key(
        "needed_preload", "force", "Preload the cases need right after tightening",
        "", "(need − ΔF)/(1 − r)", "statics",
    ),
    Key(
        "chance_below_need", "share", "Chance that a bolt ends below what is needed", "", "1 − E[Π Φ], or share of trials",
        SCATTER,
    ),
    Key("rounds_spread", "share", "Spread after 0, 1, 2 ... finishing rounds", "", "(max − min)/mean", MODEL, "list"),
    Key(
        "rounds_lowest", "share", "Lowest share of target after 0, 1, 2 ... rounds",
        "", "min F / F_target", MODEL, "list",
    ),
    Key("rounds_moved", "count", "Nuts that move 1 % or more in each round", "", "", MODEL, "list"),
    Key("rounds_needed", "count", "Rounds until the spread is within 5 %", "", "", MODEL),
    Key(
        "levelling_loads", "force", "Loads of the last pass that end level",
        "", "target + what later steps take", MODEL, "list",
    ),
    Key("levelling_torques", "torque", "Torques of the last pass that end level", "", "T·load/target", MODEL, "list"),
    Key("levelling_spread", "share", "Spread they leave", "", "(max − min)/mean", MODEL),
    Key(
        "group_loads", "force", "Load left in each tensioner group when released",
        "", "target + what later groups take", MODEL, "list",
    ),
    Key("group_pressures", "pressure", "Pressure of each tensioner group", "", "load·loss / A_piston", MODEL, "list"),
    Key(
        "group_breakaway", "force", "Load at which each group's nuts come free at the end",
        "", "lowest preload", MODEL, "list",
    ),
    Key(
        "breakaway_pressures", "pressure", "Pressure under which a group is pulled again",
        "", "0.95·F / A_piston", PRACTICE, "list",
    ),
    Key("pass_times", "time", "Time of each pass", "", "5 min to start + steps × minutes_per_step", PRACTICE, "list"),
    Key("tightening_time", "time", "Time of all passes", "t", "Σ pass times", PRACTICE),
    Key("crew_time", "time", "Time of the whole crew", "", "t × (tools + 1)", PRACTICE),
    Key(
        "interaction_fitted", "share", "Coefficients fitted to readings, by distance",
        "", "least squares", READ, "list",
    ),
    Key("interaction_fitted_errors", "share", "Their standard errors", "", "least squares", READ, "list"),
    Key("fitted_scale", "share", "Measured over intended load, common to all", "", "least squares", READ),
    Key("predicted_fitted", "force", "Preloads at the end with the fitted coefficients", "", "", READ, "list"),
    Key("predicted_fitted_spread", "share", "Their spread", "", "(max − min)/mean", READ),
)  # fmt: skip
