"""Opening a plan file: a draft with all its problems, or a plain word why it cannot be read at all."""

from __future__ import annotations

import difflib
import os
import stat
import tomllib
from pathlib import Path

from splitline.errors import PlanError
from splitline.library.store import Library
from splitline.plan import NOT_PLANS
from splitline.plan.draft import Draft, Origin
from splitline.plan.edits import Tree
from splitline.plan.migrate import migrated, plain_lists
from splitline.plan.model import FORMAT
from splitline.plan.names import Names
from splitline.plan.problem import PlanFileError, Problem
from splitline.plan.syntax import syntax_problems
from splitline.toml_bounds import too_deep, too_long

MOST_BYTES = 2_000_000  # a joint of 400 bolts with every list filled in takes 40 kB


def open_plan(path: Path | str, library: Library | None = None) -> Draft:
    """Read a plan file. PlanError: it cannot be read; mistakes inside a readable file are ``draft.problems``."""
    path = Path(path)
    if path.name.casefold() in NOT_PLANS:
        raise PlanError(f"{path} holds {NOT_PLANS[path.name.casefold()]}, not a plan")
    if path.name.casefold().endswith(".record.toml"):
        raise PlanError(f"{path} is a record, not a plan: open {path.name[: -len('.record.toml')]}.toml")
    raw = read_bytes(path)
    text = decoded(raw, path)
    draft = read_text(text, path, library)
    return Draft(draft.tree, Origin(path, raw, text, draft.origin.tree), draft.names, draft.remarks)


def read_text(text: str, path: Path | None = None, library: Library | None = None) -> Draft:
    """A draft of a plan text; ``path`` names the file in messages and the folder of the site's own library."""
    tree = parsed(text, path)
    if library is not None:
        names, remark = Names.of(library), None
    else:
        names, remark = Names.beside(path.parent if path is not None else None)
    present = migrated(tree)
    return Draft(present, Origin(path, None, text, tree), names, (remark,) if remark else ())


def read_bytes(path: Path) -> bytes:
    """The bytes of a plan file. PlanError: no such file, a folder, no permission, too large, not a file."""
    try:
        with open(path, "rb", opener=_without_waiting) as file:
            mode = os.fstat(file.fileno()).st_mode
            if not stat.S_ISREG(mode):
                raise PlanError(f"{path} is not a file that can be read as a plan")
            raw = file.read(MOST_BYTES + 1)
            size = os.fstat(file.fileno()).st_size
    except FileNotFoundError:
        raise PlanError(f"{path}: there is no such file{_near(path)}") from None
    except IsADirectoryError:
        raise PlanError(f"{path} is a folder: name a plan file in it") from None
    except PermissionError:
        raise PlanError(f"{path}: no permission to read this file") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise PlanError(f"{path} cannot be read: {reason}") from None
    if len(raw) > MOST_BYTES:
        raise PlanError(
            f"{path} has {max(size, len(raw)) / 1e6:.1f} MB; a plan has at most {MOST_BYTES / 1e6:.0f} MB: is this the right file?"
        )
    return raw


def _without_waiting(name: str, flags: int) -> int:
    return os.open(name, flags | getattr(os, "O_NONBLOCK", 0))  # a pipe without a writer would hold us


def _near(path: Path) -> str:
    try:
        names = [p.name for p in path.parent.iterdir() if p.suffix == ".toml"]
    except OSError:
        return ""
    near = difflib.get_close_matches(path.name, names, 1)
    return f'; did you mean "{near[0]}"?' if near else ""


def decoded(raw: bytes, path: Path | None) -> str:
    """The text of a plan file, line ends as they are. PlanError: empty, binary, or not UTF-8."""
    name = f"{path}: " if path is not None else ""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise PlanError(f"{name}the file is written in UTF-16: save it as UTF-8")
    body = raw.removeprefix(b"\xef\xbb\xbf")
    if not body.strip():
        raise PlanError(f"{name}the file is empty: start a plan with `splitline new barrel-head-cover FILE`")
    if b"\0" in body:
        raise PlanError(f"{name}this is a binary file, not a plan")
    try:
        return body.decode("utf-8")
    except UnicodeDecodeError as error:
        line = body.count(b"\n", 0, error.start) + 1
        odd = sum(byte < 32 and byte not in b"\t\n\r\f" for byte in body[:4096])
        if odd > len(body[:4096]) / 50:
            raise PlanError(f"{name}this is a binary file, not a plan") from None
        raise PlanError(f"{name}line {line} is not UTF-8 text: save the file as UTF-8") from None


def parsed(text: str, path: Path | None = None) -> Tree:
    """The typed tree of a plan text. PlanError: not TOML (every faulty line is named), or of a newer format."""
    where = f"{path} cannot be read" if path is not None else "the plan cannot be read"
    long = too_long(text)
    if long is not None:
        raise PlanFileError(f"{where}: it is no plan", (Problem((), long[1], long[0]),))
    try:
        tree = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError):
        raise PlanFileError(f"{where}: it is not valid TOML", _everything_wrong(text, path)) from None
    deep = too_deep(tree)
    if deep:
        raise PlanFileError(f"{where}: it is no plan", (Problem((), deep),))
    version = tree.get("format")
    if isinstance(version, int) and not isinstance(version, bool) and version > FORMAT:
        name = f"{path}: " if path is not None else ""
        raise PlanError(
            f"{name}this plan has format {version}; this Splitline reads up to {FORMAT}. Update Splitline to open it"
        )
    return plain_lists(tree)


def _everything_wrong(text: str, path: Path | None) -> tuple[Problem, ...]:
    """The faulty lines, and the mistakes in the values of the rest; what a faulty line may have held is not missed."""
    found, rest = syntax_problems(text)
    if rest is None:
        return found
    names, _ = Names.beside(path.parent if path is not None else None)
    tree = tomllib.loads(rest)
    if too_deep(tree):
        return found
    tree = plain_lists(tree)
    others = Draft(tree, Origin(None, None, rest, tree), names).problems
    sure = [p for p in others if not p.message.startswith(("missing:", "no ", "nothing in the plan"))]
    return tuple(sorted([*found, *sure], key=lambda problem: problem.line or 0))
