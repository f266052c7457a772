"""The order of work as a list: number, state by mark and word, the whole title, and why a step waits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from textual import events
from textual.app import ComposeResult

from splitline.record.order import StepState
from splitline.ui import marks
from splitline.ui.draw.rows import Row, fit, right, width, wrap
from splitline.ui.widgets.lines import Line, LineView
from splitline.ui.work.asking import Question
from splitline.ui.work.target import Target, TargetRow
from splitline.ui.work.task import Task

if TYPE_CHECKING:
    from splitline.ui.work.screen import WorkScreen

# State -> mark, word, style of both, style of the title.
STATES = {
    "done": (marks.DONE, "done", "done", "dim"),
    "now": (marks.NOW, "now", "key", "strong"),
    "open": (marks.OPEN, "open", "", "strong"),
    "to sign": (marks.HOLD, "to sign", "near", "strong"),
    "waits": (marks.WAITS, "waits", "dim", ""),
}
_WORD = max(width(word) for _, word, _, _ in STATES.values())


class StepsScreen(Question):
    """Gives the id of a step, or None. A tap stands on a step, a second one or the target below takes it."""

    DEFAULT_CSS = """
    StepsScreen > .asked { width: 110; height: 100%; overflow-y: hidden; }
    StepsScreen #steps { height: 1fr; }
    StepsScreen TargetRow { height: auto; }
    """

    def __init__(self, states: Sequence[StepState], here: str) -> None:
        done = sum(state.state == "done" for state in states)
        super().__init__(f"Order of work   {done} of {len(states)} done")
        self._states = tuple(states)
        self._here = here

    def answers(self) -> ComposeResult:
        yield LineView(id="steps", glove=True)
        yield TargetRow(Target("go", "Go to this step", "enter"), Target("back", "Back", "escape"))

    def on_mount(self) -> None:
        view = self.query_one("#steps", LineView)
        view.show(lambda cells: step_lines(self._states, self._here, cells))
        view.put_cursor(self._here)
        view.focus()

    def action_move(self, by: int) -> None:
        self.query_one("#steps", LineView).action_move(by)

    def on_line_view_chosen(self, event: LineView.Chosen) -> None:
        event.stop()
        self.dismiss(str(event.target))

    def on_target_pressed(self, event: Target.Pressed) -> None:
        event.stop()
        target = self.query_one("#steps", LineView).target
        self.dismiss(str(target) if event.target.ident == "go" and target is not None else None)

    def on_key(self, event: events.Key) -> None:
        if event.key in ("down", "up") and isinstance(self.focused, Target):
            event.stop()
            self.query_one("#steps", LineView).focus()


def step_lines(states: Sequence[StepState], here: str, cells: int) -> list[Line]:
    """One entry of at least three rows for each step."""
    out: list[Line] = []
    digits = len(str(len(states)))
    indent = digits + _WORD + 6
    room = max(cells - indent - 1, 10)
    named = _by_number(states)
    for number, state in enumerate(states, 1):
        plan = state.plan
        sign, word, style, shown = STATES[state.state]
        first, *rest = wrap(plan.text or plan.id, room, 6)
        head = (
            (f" {right(str(number), digits)}  ", "number" if state.state != "done" else "dim"),
            (f"{sign} {fit(word, _WORD)} ", style),
            (first, shown),
        )
        rows: list[Row] = [((" " * indent, ""), (line, shown)) for line in rest]
        rows += [
            ((" " * indent, ""), (line, notes))
            for text, notes in _notes(state, here, named)
            for line in wrap(text, room, 4)
        ]
        rows.append(())
        out.append(Line(head, plan.id))
        out += [Line(row, belongs=plan.id) for row in rows]
        if len(rows) < 2:
            out.append(Line((), belongs=plan.id))
    return out


def _by_number(states: Sequence[StepState]) -> dict[str, str]:
    """What a step can wait for, said by the number of the other step instead of its whole title."""
    found = {}
    for number, state in enumerate(states, 1):
        plan = state.plan
        title = plan.text or plan.id
        unsigned = f"is not signed by {plan.hold}"
        found[f"hold point: {title} {unsigned}"] = f"hold point of step {number} {unsigned}"
        found[f"needs {plan.id} first"] = f"needs step {number} first"
        found[f"{title} comes first"] = f"step {number} comes first"
    return found


def _notes(state: StepState, here: str, named: Mapping[str, str]) -> list[tuple[str, str]]:
    plan = state.plan
    found = [("you are here", "key")] if plan.id == here else []
    if state.state == "waits":
        found.append((named.get(state.why) or state.why, "near"))
    if plan.hold:
        signed = f"signed by {state.hold.done_by}" if state.hold is not None else "not signed"
        found.append((f"{marks.HOLD} hold point, {plan.hold}: {signed}", "dim" if state.hold is not None else ""))
    return found


async def steps(screen: WorkScreen, task: Task) -> None:
    """Another step of the order of work."""
    if screen.now is None:
        return
    here = screen.now.step()
    found = await screen.ask(StepsScreen(screen.now.states, here.plan.id if here is not None else ""))
    state = next((each for each in screen.now.states if each.plan.id == found), None)
    if state is None or found is None:
        return
    if state.state == "done":
        screen.say_here(f"{state.plan.text or state.plan.id} is done; More › Record shows it", "dim")
        return
    if here is None or found != here.plan.id:
        if here is not None and here.state != "waits":
            screen.came_from = screen.desk.chosen
        screen.desk.chosen = found


async def step_back(screen: WorkScreen, task: Task) -> None:
    """From a step that waits back to where one was."""
    screen.desk.chosen = screen.came_from
