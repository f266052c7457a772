"""The first thing after any interruption: who stopped where and when, what is next, one target: Go on."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.app import ComposeResult

from splitline.record.entry import Entry, Note, Planned, Recovered
from splitline.ui import marks
from splitline.ui.work.asking import Question
from splitline.ui.work.entry_words import entry_said
from splitline.ui.work.now import Now
from splitline.ui.work.target import Target, TargetRow
from splitline.ui.work.task import Task
from splitline.ui.work.values import tools_said


def resume_lines(now: Now, task: Task) -> list[tuple[str, str]]:
    """What the card says."""
    out: list[tuple[str, str]] = []
    entries = [entry for entry in now.alive if not isinstance(entry, (Planned, Recovered))]
    stops = [entry for entry in entries if isinstance(entry, Note) and entry.topic == "stop work"]
    over = {state.plan.item for state in now.states if state.state == "done"}
    over -= {state.plan.item for state in now.states if state.state != "done"}
    handed = [entry for entry in entries if isinstance(entry, Note) and entry.topic == "handover"]
    handed = [entry for entry in handed if not entry.item or entry.item not in over]  # what is signed needs no words
    last = entries[-1] if entries else None
    if stops and last is not None and last.number <= stops[-1].number + 1:
        out.append((f"{stops[-1].done_by} stopped {stops[-1].done_at:%d %b %H:%M}: {stops[-1].text}", "strong"))
    elif last is not None:
        out.append((f"Last entry {last.done_at:%d %b %H:%M} by {last.done_by}", "strong"))
    if handed:
        out.append((f"“{handed[-1].text}”  {handed[-1].done_by} {handed[-1].done_at:%d %b %H:%M}", "near"))
    if now.trouble:
        out.append((f"Nothing can be stored here: {now.trouble}", "fails"))
    out.append(("", ""))
    out.append((f"Next   {task.title}   {task.middle}", "strong"))
    if task.figures:
        out.append(("   ".join(f"{f.caption} {f.text} {f.unit}".rstrip() for f in task.figures), "strong"))
    setting = now.set_up(task.joint, task.pass_, anybody=True) if task.joint else None
    if setting is not None:
        out.append((f"{tools_said(setting.tool, setting.serial)}   {setting.lubricant}, batch {setting.batch}", ""))
    out += [(f"stopped: {now.said(stop)}", "fails") for stop in now.stops[:2]]
    out += [(f"{marks.WINDOW} {window.said}", "near") for window in now.windows if window.phase == "running"]
    recovered = [entry for entry in now.alive if isinstance(entry, Recovered)]
    if recovered:
        out.append((f"An unfinished entry was found and kept aside ({recovered[-1].kept_in}).", "near"))
    out.append(("", ""))
    titles = {each.id: each.title for each in now.assessment.plan.items} | now.job.titles
    out += [
        (f"{e.number:>5}  {e.done_at:%H:%M}  {entry_said(e, _noun(now, e), titles)}  {e.done_by}", "dim")
        for e in entries[-3:]
        if e.done_at
    ]
    return out


def _noun(now: Now, entry: Entry) -> str:
    joint = now.job.joint(getattr(entry, "joint", ""))
    return joint.noun if joint is not None else "stud"


class ResumeScreen(Question):
    """Gives "go" when somebody goes on, "name" when it is somebody else."""

    def __init__(self, title: str, lines: Sequence[tuple[str, str]]) -> None:
        super().__init__(title, lines)

    def answers(self) -> ComposeResult:
        yield TargetRow(Target("go", "Go on", "enter"), Target("name", "Another name", "n"))

    def on_mount(self) -> None:
        for target in self.query(Target):
            target.styles.height = 5
        self.query(Target).first().focus()

    def on_target_pressed(self, event: Target.Pressed) -> None:
        event.stop()
        self.dismiss(event.target.ident)

    def on_key(self, event: events.Key) -> None:
        if event.key == "n":
            event.stop()
            self.dismiss("name")
