"""Whatever a plan leaves out, its sheets print: fields and tables are taken from the demo plan at random."""

from __future__ import annotations

import copy
import random
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from splitline.assess.assessment import assess
from splitline.library.store import Library
from splitline.plan.canonical import digest
from splitline.plan.draft import Draft, Origin
from splitline.plan.names import Names
from splitline.report.blocks import Table, blocks_of
from splitline.report.load import Opened
from splitline.report.output import bundle_bytes
from splitline.report.pdf.flow import flow
from splitline.report.pdf.paper import PAPERS
from splitline.report.pdf.pen import Pen
from tests.report.prints import DEMO, TODAY, bundle

LIBRARY = Library.load()
KEPT = {"format", "id", "title", "shape", "kind", "method"}
TREE = tomllib.loads(Path(DEMO).read_text("utf-8"))
SPREADER = {
    "id": "spread", "title": "On a beam", "mass_basis": "weighed",
    "part": [{"name": "half", "mass": "9000 kg", "at": ["0 mm", "0 mm", "0 mm"]}],
    "hook": {"above_picks": "5000 mm"},
    "leg": [
        {"pick": [f"{x} mm", "0 mm", "400 mm"], "capacity": "10 t", "elongation": 0.01, "length": "1800 mm", "beam_point": n}
        for n, x in ((1, -1500), (2, 1500))
    ],
    "spreader": {
        "mass": "300 kg", "upper": [["-1500 mm", "0 mm", "100 mm"], ["1500 mm", "0 mm", "100 mm"]],
        "lower": [["-1500 mm", "0 mm", "-100 mm"], ["1500 mm", "0 mm", "-100 mm"]],
        "upper_length": "2500 mm", "upper_capacity": "10 t", "upper_elongation": 0.01,
    },
}  # fmt: skip


def thinned(tree: Any, chance: random.Random, share: float) -> Any:
    """A copy with fields left out."""
    if isinstance(tree, dict):
        return {
            key: thinned(value, chance, share) for key, value in tree.items() if key in KEPT or chance.random() > share
        }
    if isinstance(tree, list) and tree and isinstance(tree[0], dict):
        return [thinned(value, chance, share) for value in tree if chance.random() > share / 2]
    return tree


def opened(tree: dict[str, Any]) -> Opened:
    """What reads cleanly of a tree, assessed."""
    draft = Draft(tree, Origin(tree=tree), Names.of(LIBRARY))
    return Opened(draft.plan, assess(draft.plan, LIBRARY, TODAY), digest(tree), None)


def trees() -> Iterator[tuple[str, dict[str, Any]]]:
    for seed in range(6):
        chance = random.Random(seed)
        tree = thinned(copy.deepcopy(TREE), chance, (0.1, 0.3, 0.6)[seed % 3])
        tree.setdefault("plan", {"title": "t"}).setdefault("title", "t")
        yield f"seed {seed}", tree
    for method in ("stretch", "turn", "heat", "torque wrench"):
        tree = copy.deepcopy(TREE)
        for joint in tree["joint"]:
            joint["tightening"]["method"] = method
        yield method, {**tree, "step": [], "lift": []}
    yield "spreader", {"format": 1, "plan": {"title": "beam"}, "lift": [SPREADER]}


@pytest.mark.parametrize(("name", "tree"), list(trees()), ids=lambda value: value if isinstance(value, str) else "")
def test_every_sheet_prints_and_stays_on_its_pages(name: str, tree: dict[str, Any]) -> None:
    found = opened(tree)
    made = bundle(found, system="US" if name == "seed 1" else "SI")
    for sheet in made.sheets:
        for block in blocks_of(sheet):
            if isinstance(block, Table):
                assert {len(row) for row in block.rows} <= {len(block.head)}, (sheet.title, block.title)
    for page in flow(Pen(PAPERS["Letter"]), made):
        at = page.top
        for placed in page.placed:
            assert placed.y >= at - 1e-6
            at = placed.y + placed.height
        assert at <= page.bottom + 1e-6, (page.sheet.title, page.sheet.kind)
    text = bundle_bytes(made, ".md", PAPERS["A4"]).decode("utf-8")
    assert not {"None", "nan", "inf"} & set(text.replace("|", " ").split())
    assert bundle_bytes(made, ".csv", PAPERS["A4"])


def test_a_beam_is_drawn_with_its_upper_slings() -> None:
    from splitline.report.sheets.lift import hung_of

    found = opened({"format": 1, "plan": {"title": "beam"}, "lift": [SPREADER]})
    result = found.assessment.find("lift", "spread")
    assert result is not None
    hung = hung_of(found.plan.lifts[0], result)
    assert hung is not None
    assert len(hung.upper) == 2
    assert hung.beam
    assert all(leg.top[2] < hung.upper[0].foot[2] for leg in hung.legs)
