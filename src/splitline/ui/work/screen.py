"""The fitter's screen: head, one instruction, what was just stored, large targets. Wiring only."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable, Coroutine
from pathlib import Path
from typing import Any, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType

from splitline.errors import SplitlineError
from splitline.record.compare import differences
from splitline.record.entry import Planned
from splitline.ui import marks
from splitline.ui.glass import feel, glass_of, refuse
from splitline.ui.steady import Steady
from splitline.ui.widgets.bar import Bar, Piece
from splitline.ui.work import acts, asks, flows, pulls, seat
from splitline.ui.work.asking import Question
from splitline.ui.work.body import Body
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.danger import heed
from splitline.ui.work.desk import Desk
from splitline.ui.work.new_plan import stand_plan
from splitline.ui.work.new_plan import told as told_change
from splitline.ui.work.now import Now
from splitline.ui.work.outcome import Told, told
from splitline.ui.work.picture import work_rows
from splitline.ui.work.places import places_of, preload_of, seen_from_of
from splitline.ui.work.resume import ResumeScreen, resume_lines
from splitline.ui.work.target import Target, TargetRow
from splitline.ui.work.task import Answer, Task, identity
from splitline.ui.work.tasks import fault
from splitline.units import System

POLL = 0.5  # s
ARMED = 0.4  # s an instruction stands before a tap on it counts: the second half of a double tap never does
LOUD = ("OUTSIDE", "STILL INSIDE", "Count again")  # what was stored and is not well
NOT_CHECKED = "Names are picked, not checked: sign only as yourself."
SAID_BELOW = ("stopped", "sign")  # tasks that say what they are in the middle of the screen
SELDOM = ("wrong", "stop", "more")  # never where the cursor goes by itself while there is work to do


class WorkScreen(Steady[None]):
    """One instruction at a time."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("escape", "escape", "More"),
        ("question_mark,f1", "flow('help')", "Help"),
        ("ctrl+p,f4", "flow('more')", "More"),
        ("f2", "app.theme", "Light or dark"),
    ]
    DEFAULT_CSS = """
    WorkScreen { layout: vertical; }
    WorkScreen #targets Target { height: 4; }
    WorkScreen.-tall #targets Target { height: 6; }
    """

    def __init__(self, path: Path, desk: Desk | None = None) -> None:
        super().__init__()
        self._path = Path(path)
        self._given = desk
        self.desk: Desk
        self.now: Now | None = None
        self.shown: Task | None = None
        self.armed = ARMED
        self.pace = pulls.Pace()
        self.came_from = ""  # step picked by hand before a waiting one was looked at
        self._since = 0.0
        self._answers: tuple[Answer, ...] = ()
        self._turn = asyncio.Lock()
        self._busy = False  # a flow is at work: whatever else arrives in the meantime starts no second one
        self.gone = False  # left while something lay over this screen
        self._untold: list[Told] = []
        self._said = Piece("")

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        yield Body()
        yield Bar(id="said", ground="ground")
        yield TargetRow(id="targets")

    @property
    def view_only(self) -> bool:
        return bool(getattr(self.app, "view_only", False))

    @property
    def system(self) -> System:
        return "US" if self.desk.assessment.plan.us else "SI"

    # coming and going

    def on_mount(self) -> None:
        try:
            self.desk = self._given or Desk(self._path, view_only=self.view_only)
        except SplitlineError as error:
            self._say_app(str(error))
            self.dismiss(None)
            return
        self.query_one("#head", Bar).show([Piece(f" {self.desk.assessment.plan.info.title}", "title")])
        self.start(self._begin)
        self.set_interval(POLL, self._poll)

    def on_unmount(self) -> None:
        if not getattr(self.app, "served", False):
            self._give_back()
        # A tablet that fell asleep or lost its link ends here too, perhaps in mid-pull: its studs stay in its hands.

    def _give_back(self) -> None:
        if hasattr(self, "desk"):
            try:
                self.desk.leave_seat()
            except SplitlineError:
                return  # the claim runs out by itself

    def on_resize(self, event: events.Resize) -> None:
        self.set_class(event.size.height >= 32, "-tall")

    def _say_app(self, text: str) -> None:
        self.app.notify(text, severity="error", markup=False, timeout=10)

    async def _begin(self) -> None:
        if self.view_only:
            await self.update()
            return
        before = seat.remembered(self._path)
        if before:
            self.desk.take_seat(before)
        elif not await self.take_seat():
            self.leave()
            return
        if await stand_plan(self):
            await self._resume()
        else:
            self.leave()

    async def take_seat(self) -> bool:
        """Ask who works at this screen."""
        lines = (
            [
                (
                    f"{len(self.desk.problems)} mistake{'s' if len(self.desk.problems) > 1 else ''} in the plan: see the planner",
                    "fails",
                )
            ]
            if self.desk.problems
            else []
        )
        lines.append((NOT_CHECKED, "dim"))
        person = await asks.name(self, "Who works here?", lines)
        if not person:
            return False
        self.desk.take_seat(person)
        seat.remember(self._path, person)
        held = self.desk.elsewhere()
        if held is not None:
            said = acts.bolts_said(held.bolts, self.desk.noun(held.joint))
            here = Choice("here", "Go on here", f"with {said}")
            beside = Choice("beside", "Work beside it", "another crew of the same name")
            lines = [(f"{person} has {said} in hand on another screen.", "strong")]
            if await self.ask(ChoiceScreen("Two screens, one name", [here, beside], lines)) == "here":
                self.act(lambda: acts.take_over(self.desk, held))
        await self.update()
        return True

    async def _resume(self) -> None:
        now, task = self.desk.task()
        if any(not isinstance(entry, Planned) for entry in now.record.entries):
            said = await self.ask(ResumeScreen(f"{now.job.title}   {self.desk.person}", resume_lines(now, task)))
            if said == "name" and not await self.take_seat():
                self.leave()
                return
        await self.update()

    async def leave_and_resume(self) -> None:
        """After Stop work: the next person starts from the card."""
        self.desk.leave_seat()
        self.desk.person = ""
        seat.remember(self._path, "")
        self.desk.after = None
        await self.update()
        if await self.take_seat():
            await self._resume()
        else:
            self.leave()

    def leave(self) -> None:
        """Back to where this screen was opened from."""
        self._give_back()
        if len(self.app.screen_stack) > 1:
            if not self.view_only:
                seat.remember(self._path, "")  # left on purpose: a lost link later starts from the list
            self.gone = True
            if self.app.screen is self:  # else once what lies over it is gone
                self.dismiss(None)
            elif isinstance(self.app.screen, Question):
                self.app.screen.dismiss(None)

    def open_record(self) -> None:
        """What was done."""
        opener = getattr(self.app, "open_record", None)
        if opener is not None:
            opener(self._path)

    async def ask(self, question: Question) -> str | None:
        """Show a question and wait for its answer; a screen that was left asks nothing more."""
        if self.gone:
            return None
        return await self.app.push_screen_wait(question)

    # what is shown

    async def _poll(self) -> None:
        if not hasattr(self, "desk") or self._turn.locked():
            return
        running = self.now is not None and any(window.phase == "running" for window in self.now.windows)
        waiting = self.shown is not None and (self.shown.kind in ("mounting", "taken") or self.shown.wait > 0)
        if self.desk.changed() or running or waiting or self.desk.life_due():
            if self.desk.plan_changed():
                await self._plan_changed()
            await self.update()

    async def _plan_changed(self) -> None:
        before = self.desk.text
        try:
            self.desk.load()
        except SplitlineError as error:
            self.say_here(f"The plan last read is worked by: {error}", "fails")
            return
        if self.desk.text == before or self.view_only or not self.desk.person:
            return
        try:
            self.desk.stand_plan()
            found = differences(before, self.desk.text)
            said = (
                f": {told_change(found, self.desk.titles)[0][0]}{', and more' if len(found) > 1 else ''}"
                if found
                else ""
            )
            self.say_here(f"the plan was changed; this is the new one{said}", "near")
        except SplitlineError as error:
            self.say_here(str(error), "fails")

    def on_screen_resume(self) -> None:
        """Back from a question: the keys go to the targets again."""
        if self.gone:
            if self.app.screen is self:
                self.dismiss(None)
            return
        glass_of(self.app).change(self)
        self.hold()
        if not isinstance(self.focused, Target):
            self._focus(0)
        if not self._busy:  # else the flow shows what came of it, or asks on
            self.let_go()

    def _focus(self, place: int) -> None:
        own = list(self.query_one("#targets", TargetRow).query(Target))
        if own and self.app.screen is self:
            guarded = {answer.id for answer in self._answers if answer.guarded}
            fits = place < len(own) and own[place].ready and own[place].ident not in guarded.union(SELDOM)
            usual = next((i for i, t in enumerate(own) if t.ready and t.ident not in guarded.union(SELDOM)), 0)
            own[place if fits else usual].focus()

    async def update(self) -> None:
        """Read everything anew and show the instruction of this moment."""
        if self.gone:
            return
        async with self._turn:
            await self._update()

    async def _update(self) -> None:
        try:
            self.now, task = self.desk.task()
        except SplitlineError as error:
            self.say_here(str(error), "fails")
            return
        except Exception as error:  # a fault of ours must not take the screen away; what is stored is stored
            task = fault(error)
            if self.now is None:
                self.say_here(task.lines[1][0], "fails")
                return
        if self.shown is None or task.key != self.shown.key:
            self._since = time.monotonic()
        if self.shown is None or identity(task) != identity(self.shown):
            glass_of(self.app).change(self)
        self.shown = task
        heed(self, self.now)
        self._show_head(task)
        self._show_said()
        item, joint = self.now.assessment, task.joint
        self.query_one(Body).show(
            lambda cells, rows: work_rows(
                task, places_of(item, joint), seen_from_of(item, joint), preload_of(item, task), cells, rows
            )
        )
        await self._show_targets(task)

    def _show_head(self, task: Task) -> None:
        assert self.now is not None
        right = [Piece(f"  {task.right}  ", "dim")] if task.right else []
        paper = f"from paper: {self.desk.after.by}  " if self.desk.after else ""
        who = "view only" if self.view_only else self.desk.person
        middle = "" if task.kind in SAID_BELOW else task.middle
        self.query_one("#head", Bar).show(
            [Piece(f" {task.title}", "title", gives=True), Piece(f"   {middle}", "strong")],
            [*right, Piece(paper, "near"), Piece(f" {who} ", "accent")],
        )

    async def _show_targets(self, task: Task) -> None:
        answers = () if self.view_only else task.answers
        if answers == self._answers:
            return
        row = self.query_one("#targets", TargetRow)
        had = next((i for i, target in enumerate(self.query(Target)) if target.has_focus), 0)
        shut = {a.id for a in self._answers if not a.ready}
        opened = next((i for i, a in enumerate(answers) if a.key == "enter" and a.ready and a.id in shut), None)
        had = had if opened is None or task.doubt else opened  # a Done that opens says "Enter": Enter has to press it
        self._answers = answers
        async with self.batch():
            await row.remove_children()
            await row.mount(*(Target(a.id, a.label, a.key, a.ready) for a in answers))
        row.fit_glove()  # the row may keep its size while more targets stand in it
        self._focus(had)

    def say_here(self, text: str, style: str = "strong") -> None:
        """One line above the targets; it stays until the next one. Windows that run stand at its right."""
        sign = marks.sign(text, style)
        self._said = Piece(f" {sign} {text}" if sign else f" {text}", style)
        self._show_said()

    def _show_said(self) -> None:
        running = [w for w in self.now.windows if w.phase == "running"] if self.now else []
        wide = self.size.width >= 110
        said = [Piece(f"{marks.WINDOW} {w.said if wide else w.short}  ", "near") for w in running[:2]]
        self.query_one("#said", Bar).show([self._said], said)

    # what is done

    def on_key(self, event: events.Key) -> None:
        answer = next((a for a in self._answers if a.key == event.key), None)
        if answer is not None and answer.key != "enter":
            event.stop()
            self._press(answer)

    def on_target_pressed(self, event: Target.Pressed) -> None:
        event.stop()
        answer = next((a for a in self._answers if a.id == event.target.ident), None)
        if answer is None:
            return
        if event.behind(answer.id):
            refuse(self.app)
        else:
            self._press(answer)

    def action_escape(self) -> None:
        """From a step that only waits back to where one was; else More; who only looks leaves."""
        if self.view_only:
            self.leave()
            return
        waits = self.shown is not None and self.shown.key.startswith("waits ")
        self.action_flow("step-back" if waits else "more")

    def action_flow(self, ident: str) -> None:
        """Start one of the flows by name."""
        task = self.shown
        if task is not None and (not self.view_only or ident in flows.LOOKS):
            self.start(lambda: flows.FLOWS[ident](self, task))

    def start(self, todo: Callable[[], Coroutine[Any, Any, None]]) -> None:
        """One flow at a time: a second tap of the same frame, or one that comes before the question shows, starts none."""
        if not self._busy:
            self._busy = True
            self.run_worker(self._run(todo), group="work")

    async def _run(self, todo: Callable[[], Coroutine[Any, Any, None]]) -> None:
        """A flow, then what of it was not stored, then the instruction of this moment."""
        try:
            mark = self.desk.mark()
            try:
                await todo()
            except Exception as error:
                self._broke_off(mark, error)
            while self._untold and not self.gone:
                said = self._untold.pop(0)
                await self.ask(ChoiceScreen(said.title, [Choice("seen", "Seen")], said.lines))
        finally:
            self._busy = False
        await self.update()
        self.let_go()

    def _press(self, answer: Answer) -> None:
        task = self.shown
        if task is None or self.view_only or self._busy:
            return
        if answer.id in flows.FLOWS and answer.ready:
            self.action_flow(answer.id)
            return
        if time.monotonic() - self._since < self.armed:
            return  # the rest of a double tap on the instruction before
        if not answer.ready:
            wanting = [text for text, style in task.lines if style in ("fails", "missing", "on-site", "dim") and text]
            self.say_here("not yet: " + (wanting[-1] if wanting else "something is missing"), "near")
            return
        if answer.id in ("done", "moved") and task.kind == "bolts":
            pulls.done(self, task, answer.id == "moved")
        elif task.kind == "mounting" and task.step is not None and answer.id != "finish":
            self.start(lambda: self._mounting(task))
        elif answer.id in ("done", "finish"):
            self.action_flow(flows.CLOSE)
        else:
            self.act(lambda: acts.sign(self.desk, task, answer.id))

    async def _mounting(self, task: Task) -> None:
        """A mounting step is done; hold and witness points of it ask for a name."""
        person: str | None = self.desk.after.by if self.desk.after else self.desk.person
        if task.sign:
            person = await asks.signer(self, f"{task.middle}: sign")
        if person:
            self.act(lambda: acts.sign(self.desk, task, "mounting", person, task.lines[0][0]))

    def act(self, todo: Callable[[], str]) -> bool:
        """Carry one act out; say what was stored, or why nothing was. Whether it went through."""
        mark = self.desk.mark()
        try:
            said = todo()
        except Exception as error:
            self._broke_off(mark, error)
            done = False
        else:
            loud = any(word in said for word in LOUD)
            self.say_here(said, "fails" if loud else "ok")
            feel(self.app, "stop" if loud else "stored")
            done = True
        self.call_later(self.update)
        return done

    def _broke_off(self, mark: tuple[int, int], error: Exception) -> None:
        """An act was refused or broke down: what the record says of it, in full, until somebody has seen it."""
        said = told(self.desk, mark, error)
        self.say_here(said.title, "fails")
        self.app.bell()
        feel(self.app, "refused")
        self._untold.append(said)
        self.start(_nothing)


async def _nothing() -> None:
    """A flow that only tells what was not stored."""
