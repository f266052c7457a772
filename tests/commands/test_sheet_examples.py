"""A sheet printed from a starting plan says on every page that its values are nobody's yet."""

from __future__ import annotations

from pathlib import Path

from splitline.cli import main


def test_every_page_says_how_many_values_are_examples(tmp_path: Path) -> None:
    plan, sheet = tmp_path / "cover.toml", tmp_path / "cover.md"
    main(["new", "barrel-head-cover", str(plan)])
    main(["sheet", str(plan), "-o", str(sheet)])
    assert "values are still examples of a starting plan" in sheet.read_text("utf-8")
    main(["kit", str(plan), "-o", str(sheet), "--force"])
    assert "**NOT FOR WORK" in sheet.read_text("utf-8")
    text = plan.read_text("utf-8").replace("# example", "#")
    plan.write_text(text, "utf-8")
    main(["sheet", str(plan), "-o", str(sheet), "--force"])
    assert "NOT FOR WORK" not in sheet.read_text("utf-8")
