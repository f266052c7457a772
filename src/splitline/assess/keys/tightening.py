"""Results of the prediction of tightening. Preloads are right after the last step, before relaxation."""

from __future__ import annotations

from splitline.assess.keys import Key

MODEL = "ring beam or free beam on an elastic face (Hetényi 1946; harmonic series), bolts as springs"
SCATTER = "normal scatter, one draw per bolt and one common"
READ = "readings of this joint"
PRACTICE = "common practice, no published source"

KEYS: tuple[Key, ...] = (
    Key(
        "needed_preload", "force", "Preload the cases need right after tightening",
        "", "(need − ΔF)/(1 − r)", "statics",
    ),
    Key(
        "chance_below_need", "share", "Chance that a bolt ends below what is needed", "", "1 − E[Π Φ], or share of trials",
        SCATTER,
    ),
)  # fmt: skip
