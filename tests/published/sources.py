"""Which work stands behind the words beside a check, and what kind of evidence it is.

Kinds: ``print`` a value seen in print (or in a reproduction that is named); ``memory`` a value of a standard or book as
remembered; ``practice`` a customary figure without an author; ``worked`` worked out from a rule that is named, or by an
independent method of our own (closed form, finite elements, energy minimisation): a check of the arithmetic, not of
somebody else's number.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

KINDS = {
    "print": "seen in print",
    "memory": "from memory",
    "practice": "common practice",
    "worked": "worked out",
}

# (pattern, work); the first that fits the words beside the check names the work, then the head of the file is tried
WORKS = (
    (r"Bickford", "Bickford, Introduction to the Design and Behavior of Bolted Joints"),
    (r"J\. Fail\. Anal", "Journal of Failure Analysis and Prevention, 2019"),
    (r"NASA", "NASA criteria for preloaded bolts, as tabulated"),
    (r"Machinery.s Handbook, accuracy|Machinery's Handbook 31e|Machinery's Handbook, 31st", "Machinery's Handbook, 31st ed."),
    (r"B1\.13M|metric thread table", "metric thread table after ASME B1.13M"),
    (r"VDI 2230", "VDI 2230 (1986, 2001, 2003), as reproduced"),
    (r"PCC-1", "ASME PCC-1, as reproduced"),
    (r"Shigley|Budynas", "Budynas & Nisbett, Shigley's Mechanical Engineering Design, with published solutions"),
    (r"Analysis and Design of Machine Elements", "Analysis and Design of Machine Elements"),
    (r"Mechanical Engineers' Handbook", "Mechanical Engineers' Handbook"),
    (r"Moss", "Moss, Pressure Vessel Design Manual"),
    (r"BS 1507", "bolt-tensioning notes after BS 1507 and BS 3643"),
    (r"Wentzell", "Wentzell, Machine Design"),
    (r"Jindal", "Jindal, Machine Design"),
    (r"Mechanical Fastening", "Mechanical Fastening, Joining, and Assembly"),
    (r"SAE J429", "SAE J429 clamp and torque table"),
    (r"Bloch", "Bloch & Geitner, Machinery Management and Major Process Equipment"),
    (r"Bhandari", "Bhandari, Design of Machine Elements"),
    (r"Bhavikatti", "Bhavikatti, Mechanics of Solids and Strength of Materials"),
    (r"Beer & Johnston", "Beer & Johnston, mechanics texts"),
    (r"Schaum", "Schaum's Engineering Mechanics (McLean)"),
    (r"Hibbeler", "Hibbeler, statics and mechanics texts"),
    (r"Gere", "Gere, Mechanics of Materials"),
    (r"Ugural", "Ugural & Fenster, Advanced Strength and Applied Elasticity"),
    (r"Boresi", "Boresi & Schmidt, Advanced Mechanics of Materials"),
    (r"Junnarkar", "Junnarkar, Mechanics of Structures"),
    (r"flywheels", "lecture slides on flywheels"),
    (r"Groover", "Groover, Fundamentals of Modern Manufacturing"),
    (r"Esposito", "Esposito, Fluid Power with Applications"),
    (r"Spellman", "Spellman, Mathematics and Statistics for the Environment"),
    (r"Nicholls", "Nicholls's Seamanship"),
    (r"Builder-Mechanic", "Builder-Mechanic weights of castings"),
    (r"Applied Science", "Applied Science for Metal Workers"),
    (r"F\. D\. Jones", "F. D. Jones, Turning and Boring"),
    (r"Surface Improvement", "Handbook of Surface Improvement and Modification"),
    (r"UNECE", "UNECE CTU Code"),
    (r"Loads on Flanges|Appendix 2|Table 2-5|2-5\(", "ASME VIII-1 Appendix 2"),
    (r"H28|B1\.1\b", "ASME B1.1 and FED-STD-H28/2"),
    (r"ISO 965", "ISO 965"),
    (r"ISO 898", "ISO 898-1, as reproduced"),
    (r"ISO 16047", "ISO 16047"),
    (r"ISO 6789", "ISO 6789"),
    (r"ISO 4032|ISO 4014", "ISO 4032 and ISO 4014, as reproduced"),
    (r"ISO 4302", "ISO 4302"),
    (r"B18\.2\.2", "ASME B18.2.2, as reproduced"),
    (r"B18\.15", "ASME B18.15, as reproduced"),
    (r"A193|A320|A540", "ASTM A193, A320 and A540, as reproduced"),
    (r"B31\.3", "ASME B31.3, as reproduced"),
    (r"II-D|Table TM", "ASME II-D"),
    (r"AGMA", "ANSI/AGMA 9103-C17 and 9003-B08"),
    (r"AR100", "ANSI/EASA AR100-2020"),
    (r"EASA technical", "EASA technical article, 2016"),
    (r"API 6", "API 617, 684 and 687"),
    (r"API 670", "API 670"),
    (r"classification-society|same formula: thrust", "classification-society cone formula"),
    (r"oil injection", "published text on the oil injection method"),
    (r"OSHA, Guidance|Table 2 \(grade 100\)", "OSHA, Guidance on Safe Sling Use"),
    (r"grade 100 chain rating", "a published chain rating table"),
    (r"AS 3775", "AS 3775.1, as reproduced"),
    (r"EN 13414", "EN 13414-1"),
    (r"EN 1492", "EN 1492-1, as reproduced"),
    (r"EN 818", "EN 818-4"),
    (r"29 CFR Part 1918", "29 CFR 1918 Appendix II"),
    (r"29 CFR 19(26|15)", "29 CFR 1926.251 and 1915.118 (withdrawn tables)"),
    (r"MIL-DTL", "MIL-DTL-3903"),
    (r"wire rope users", "wire rope users' handbook"),
    (r"B30\.9", "ASME B30.9, as reproduced"),
    (r"NAVEDTRA", "NAVEDTRA 14251"),
    (r"AASHTO", "AASHTO M 269"),
    (r"WAC 296|DOE-STD", "WAC 296-155 and DOE-STD-1090"),
    (r"0027/ND", "0027/ND Guidelines for Marine Lifting"),
    (r"[Pp]ublished article, 2013", "a published article, 2013"),
    (r"bending \(D/d\)|rigging reference", "rigging reference card"),
    (r"rigging course", "open rigging course"),
    (r"fibre-chain", "a published fibre-chain rating"),
    (r"four-leg sharing", "engineering note on measured four-leg sharing"),
    (r"NIST", "NIST Special Publication 811"),
    (r"217\.9 GPa", "ASME B31.3, as reproduced"),
    (r"self-energizing row", "ASME VIII-1 Appendix 2"),
    (r"Starts of the groups", "ASME PCC-1, as reproduced"),
    (r"published friction table", "a published friction table"),
    (r"Flange bolting guidance|[Cc]ommon practice|General practice", "common practice, no published source"),
)  # fmt: skip

WORKED = re.compile(
    r"[Dd]erived|worked (out )?by hand|own axisymmetric|geometry|arithmetic|definition|closed form|[Ff]initely|"
    r"energy-minimisation|by Simpson|rotating disc formulas|linear chart|linear expansion|^F = |^U = |^ΔT = |"
    r"Mechanics \(Gere|recomputed|^w\(|^Middle|standard's own formulas|at Le the strip load|turned round|"
    r"both give|eq\. 5\.1/24|5\.1\.1: head|T_d2 = 90|9\.1: A_s|WLL = F_min|by the wall"
)
OWN = "own working from the rule named beside it"


# Where the words beside a check are about its figures, the words that name its evidence
SAID = {
    "test_four_legs": "independent energy-minimisation solution (scipy/numpy, residual below 1e-9), tension-only legs",
    "test_rigid_members_may_be_infinite": "definition: one turn moves the nut by the pitch",
    "test_factor": "NIST Special Publication 811 (2008), Appendix B.8, from memory, seven figures",
    "test_temperature": "NIST Special Publication 811 (2008), Appendix B.8, from memory",
}


@dataclass(frozen=True, slots=True)
class Evidence:
    """What a check stands on: the words beside it, the work they name, the kind of evidence."""

    words: str
    work: str
    kind: str


def evidence(test: str, words: str, about: str, before: Evidence | None) -> Evidence:
    """``about`` is the head of the file, ``before`` the check above, for "the same book"."""
    words = SAID.get(test, words)
    named = _first(words)
    same = bool(re.match(r"[Tt]he same|[Ss]ame", words))
    if same and before is not None and not named:
        return Evidence(words, before.work, "worked" if WORKED.search(words) else before.kind)
    if named:
        return Evidence(words, named, _kind(words))
    kind = "worked" if WORKED.search(words) else _kind(f"{words} {about}")
    work = _first(about) if kind != "worked" else ""
    if work and words != about:
        words = f"{work}: {words}"
    return Evidence(words, work or (OWN if kind == "worked" else re.split(r"[:,;(]", words)[0].strip()), kind)


def _first(words: str) -> str:
    return next((work for pattern, work in WORKS if re.search(pattern, words)), "")


def _kind(words: str) -> str:
    if WORKED.search(words):
        return "worked"
    if "from memory" in words or "not checked against" in words:
        return "memory"
    if re.search(r"[Cc]ommon practice|General practice", words):
        return "practice"
    return "print"
