"""The planner's screen of a plan: three panes, how they follow the cursor, how the plan is read and assessed beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path as FilePath
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import ComposeResult
from textual.containers import Container, Horizontal
from textual.message import Message

from splitline.errors import SplitlineError
from splitline.ui import marks, memory
from splitline.ui.actions import PLAN
from splitline.ui.draw.rows import Row, clean, wrap
from splitline.ui.screens.place import FIRST_PICTURE, KEYS, Place
from splitline.ui.screens.plan_change import Changes
from splitline.ui.screens.plan_edit import Fields
from splitline.ui.screens.plan_files import Files
from splitline.ui.screens.plan_go import Going
from splitline.ui.screens.sheet import Keys
from splitline.ui.widgets.bar import Bar, Piece
from splitline.ui.widgets.editor import FieldEditor
from splitline.ui.widgets.lines import Line, LineView

if TYPE_CHECKING:
    from splitline.plan.draft import Draft
    from splitline.plan.edits import Path
    from splitline.ui.actions import Command
    from splitline.ui.session import Outcome, Session


class PlanScreen(Place):
    """One plan: order of work and items left, the selected item's card right. Commands are carried out by its controllers."""

    PLACE = PLAN

    BINDINGS: ClassVar[list[Any]] = [
        *KEYS[PLAN],
        ("left", "pane(-1)", "Pane before"),  # arrows only ever move
        ("right", "pane(1)", "Next pane"),
    ]

    DEFAULT_CSS = """
    PlanScreen #panes { height: 1fr; }
    PlanScreen #contents { width: 25; border-right: solid $rule; }
    PlanScreen.-middle #contents { width: 33; }
    PlanScreen.-wide #contents { width: 44; }
    PlanScreen #card { width: 1fr; height: 1fr; layout: vertical; }
    PlanScreen.-wide #card { layout: horizontal; }
    PlanScreen #facts { height: 1fr; width: 1fr; }
    PlanScreen #inputs { height: 1fr; width: 1fr; }
    PlanScreen.-wide #facts { height: 1fr; width: 6fr; border-right: solid $rule; }
    PlanScreen.-wide #inputs { height: 1fr; width: 4fr; }
    PlanScreen #facts.-tall { height: 4fr; }
    PlanScreen #inputs.-tall { height: 2fr; }
    PlanScreen.-wide #facts.-tall, PlanScreen.-wide #inputs.-tall { height: 1fr; }
    PlanScreen #hint { height: 3; border-top: solid $rule; scrollbar-size-vertical: 0; }
    """

    class Loaded(Message):
        """The plan is read; ``session`` is None when it could not be, ``said`` why."""

        def __init__(self, session: Session | None, said: str = "") -> None:
            super().__init__()
            self.session = session
            self.said = said

    class Computed(Message):
        """A draft is assessed."""

        def __init__(self, draft: Draft, outcome: Outcome) -> None:
            super().__init__()
            self.draft = draft
            self.outcome = outcome

    def __init__(self, path: FilePath) -> None:
        super().__init__()
        self.path = path
        self.session_or_none: Session | None = None
        self.selected: tuple[str, int] = ("plan", 0)
        self.every = False
        self._unread = "reading the plan ..."
        self._computing = False
        self._unkept = ""
        self.changes = Changes(self)
        self.fields = Fields(self)
        self.going = Going(self)
        self.files = Files(self)

    def carriers(self) -> tuple[object, ...]:
        return self.changes, self.fields, self.going, self.files, self

    # parts

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        with Horizontal(id="panes"):
            yield LineView(id="contents")
            with Container(id="card"):
                yield LineView(id="facts")
                yield LineView(id="inputs")
        hint = LineView(id="hint", cursor=False)
        hint.can_focus = False
        yield hint
        yield Bar(id="foot")

    @property
    def contents(self) -> LineView:
        return self.query_one("#contents", LineView)

    @property
    def facts(self) -> LineView:
        return self.query_one("#facts", LineView)

    @property
    def inputs(self) -> LineView:
        return self.query_one("#inputs", LineView)

    @property
    def session(self) -> Session:
        """The open plan; commands that need one are asked only when there is one."""
        assert self.session_or_none is not None
        return self.session_or_none

    @property
    def file_name(self) -> str:
        return self.path.name

    # reading and assessing, beside the screen

    def on_mount(self) -> None:
        self.foot()
        self.show_head()
        self.contents.focus()
        self.facts.show(lambda cells: [Line(((self._unread, "dim"),))])
        self.set_timer(FIRST_PICTURE, self.read_plan)
        self.set_interval(2.0, self.files.watch)

    def read_plan(self) -> None:
        """Read the plan on another thread, after the first picture."""
        self.run_worker(self._read, thread=True, exclusive=True, group="read", exit_on_error=False)

    def _read(self) -> None:
        try:
            from splitline.ui.session import Session

            session = Session.open(self.path)
        except SplitlineError as error:
            self.post_message(self.Loaded(None, str(error)))
        except Exception as error:
            self.post_message(self.Loaded(None, f"{self.path}: {type(error).__name__}: {error}"))
        else:
            self.post_message(self.Loaded(session))

    def on_plan_screen_loaded(self, event: Loaded) -> None:
        before = self.session_or_none
        if before is not None and (before.changed or event.session is None):
            return  # read again behind somebody's back: what is on this screen stays
        self.session_or_none = event.session
        if event.session is None:
            self._unread = event.said
            self.facts.show(lambda cells: [Line(((part, "problem"),)) for part in wrap(event.said, cells, 60)])
            self.inputs.show(lambda cells: [Line((("Nothing was written over the file. Esc goes back.", "dim"),))])
            return
        if self.splitline.reach.keeps:
            memory.opened(self.path)
        if before is None:
            self.selected = ("plan", 0)
        else:
            event.session.follow(before)
            self.keep_selection()
        self.show_all()
        self.contents.put_cursor(("at", *self.selected))
        self.recompute()
        self.files.after_loading()

    def keep_selection(self) -> None:
        """The selected item may be gone: stand on its neighbour."""
        kind, index = self.selected
        if kind == "plan":
            return
        entries = self.session.draft.tree.get(kind)
        count = len(entries) if isinstance(entries, list) else 0
        if index >= count:
            self.selected = (kind, count - 1) if count else ("plan", 0)
            self.contents.put_cursor(("at", *self.selected), say=False)

    def recompute(self) -> None:
        """Assess the draft on another thread; the screen goes on. One at a time: the latest draft follows."""
        if self._computing:
            return
        self._computing = True
        session = self.session

        def work() -> None:
            draft, outcome = session.compute_safely()
            self.post_message(self.Computed(draft, outcome))

        self.run_worker(work, thread=True, group="compute", exit_on_error=False)

    def on_plan_screen_computed(self, event: Computed) -> None:
        self._computing = False
        if self.session_or_none is None:
            return
        self._tell_unkept()
        if self.session.take(event.draft, event.outcome):
            self.show_all()
        else:
            self.recompute()

    def _tell_unkept(self) -> None:
        """Once for each reason: unsaved work lives on this screen only."""
        trouble = self.session.unkept
        if trouble and trouble != self._unkept:
            self.splitline.say(
                f"Unsaved work is NOT kept beside the plan ({trouble}). It stands on this screen only: save it with Ctrl+S, "
                "or make room.",
                bad=True,
            )
        self._unkept = trouble

    # showing

    def show_all(self) -> None:
        """Everything anew; the cursors stay on their targets."""
        if self.session_or_none is None:
            return
        from splitline.ui.card.contents import content_lines

        self.contents.show(lambda cells: content_lines(self.session, cells))
        self.show_card()
        self.show_head()

    def show_card(self, *, keep: bool = True) -> None:
        """The card of the selected item."""
        from splitline.ui.card.facts import fact_lines
        from splitline.ui.card.inputs import input_lines
        from splitline.ui.card.picture import picture_of

        session = self.session
        kind, index = self.shown_item
        picture = picture_of(session, kind, index)
        view = self.facts
        view.show(
            lambda cells: fact_lines(session, kind, index, cells, picture, self.every, view.size.height), keep=keep
        )
        self.inputs.show(lambda cells: self._inputs(cells, input_lines), keep=keep)
        self.show_hint()

    def _inputs(self, cells: int, lines: Any) -> Sequence[Line]:
        """Inputs of the selected item; of a step also those of the item it points at."""
        out: list[Line] = lines(self.session, *self.selected, cells, self.every)
        if self.shown_item != self.selected:
            out += lines(self.session, *self.shown_item, cells, self.every)
        return out

    @property
    def shown_item(self) -> tuple[str, int]:
        """The item whose results the card shows: that of a step is the item it points at."""
        kind, index = self.selected
        if kind != "step":
            return self.selected
        raw = self.session.raw(kind, index)
        for pointed in ("joint", "lift", "fit", "insertion", "clearance"):
            ident = raw.get(pointed)
            if isinstance(ident, str) and (found := self.session.index_of(pointed, ident)) is not None:
                return pointed, found
        return self.selected

    def show_head(self) -> None:
        """Title, unsaved mark, units, and how many checks stand where."""
        left = [Piece(f" {self.path.stem}", "title")]
        right: list[Piece] = []
        if self.session_or_none is not None:
            session = self.session
            info = session.draft.tree.get("plan")
            info = info if isinstance(info, dict) else {}
            left = [Piece(f" {info.get('title') or self.path.stem}", "title")]
            if info.get("revision"):
                left.append(Piece(f" · rev {info['revision']}", "dim"))
            if self.view_only:
                left.append(Piece("  view only", "dim"))
            if session.draft.problems:
                said = f"{marks.PROBLEM} {len(session.draft.problems)}  "
                right.append(Piece(said, "problem", "command('problems')"))
            right += self._counts(session)
            if session.changed:
                right.append(Piece(f"{marks.UNSAVED} unsaved ", "near", "command('save')"))
            right.append(Piece(f" {session.system} ", "dim", "command('units')"))
        right.append(Piece(" ≡ ", "key", "command('palette')"))
        self.query_one("#head", Bar).show(left, right)

    def _counts(self, session: Session) -> list[Piece]:
        if session.computed_for is not session.draft:
            return [Piece("computing ... ", "dim")]
        counts = session.outcome.counts()
        return [
            Piece(f"{marks.shape(v)} {counts[v]}  ", marks.style(v), "command('unsettled')")
            for v in marks.VERDICTS
            if counts[v] or v == "ok"
        ]

    def show_hint(self, said: Sequence[tuple[str, str]] | None = None) -> None:
        """Two lines about what is under the cursor, or what is wrong with what is being typed."""
        lines = list(said) if said is not None else list(self.help_here())

        def build(cells: int) -> list[Line]:
            rows: list[Row] = [
                ((clean(part), style),) for text, style in lines for part in wrap(text, max(cells - 1, 4), 4)
            ]
            return [Line(row) for row in rows[:2]]

        self.query_one("#hint", LineView).show(build, keep=False)

    # following the cursor

    def on_line_view_moved(self, event: LineView.Moved) -> None:
        if self.session_or_none is None:
            return
        if event.view is self.contents and isinstance(event.target, tuple):
            _, kind, index = event.target
            if (kind, index) != self.selected:
                self.selected = (kind, index)
                self.show_card(keep=False)
                return
        if event.view is self.facts:  # Enter goes there, opens or says why
            self.foot(self._said)
        self.show_hint()

    def on_descendant_focus(self) -> None:
        """The inputs take more room while they have the keys, else the facts; an editor laid over changes nothing."""
        if isinstance(self.focused, LineView):
            self.inputs.set_class(self.focused is self.inputs, "-tall")
            self.facts.set_class(self.focused is not self.inputs, "-tall")
            if self.session_or_none is not None:
                self.show_hint()
                self.foot(self._said)  # Enter does another thing here

    def go_to(self, path: Path) -> None:
        """Select the item of a path and stand on its field, if it is shown; ask for every field if it is not."""
        if not path or self.session_or_none is None:
            return
        kind = str(path[0])
        index = path[1] if len(path) > 1 and isinstance(path[1], int) and kind != "plan" else 0
        self.select(kind, index)
        if len(path) <= 2 and kind != "plan":
            return
        self.inputs.focus()
        for steps in range(len(path), 1, -1):
            if self.inputs.put_cursor(path[:steps]):
                return
            if not self.every and steps == len(path):
                self.every = True
                self.show_card()
                if self.inputs.put_cursor(path):
                    return

    def select(self, kind: str, index: int) -> None:
        """Show an item's card."""
        self.selected = (kind, index)
        self.contents.put_cursor(("at", kind, index), say=False)
        self.show_card(keep=False)

    def help_here(self) -> Sequence[tuple[str, str]]:
        if self.session_or_none is None:
            return ()
        from splitline.ui.card.hints import hint_of

        pane = self.focused if isinstance(self.focused, LineView) else self.contents
        return hint_of(self.session, self.shown_item, pane.target)

    def foot_keys(self) -> Keys:
        """While a field is typed in its own two keys: the others are letters there."""
        if self.fields.typing:
            return (("Enter", "take it", "editor('take')"), ("Esc", "leave as it was", "editor('give_up')"))
        return super().foot_keys()

    async def action_editor(self, what: str) -> None:
        """A tap on the foot line does what the key does."""
        for editor in self.query(FieldEditor):
            await editor.run_action(what)

    def action_pane(self, by: int) -> None:
        self.focus_pane(by)

    def focus_pane(self, by: int) -> None:
        panes: list[LineView] = [self.contents, self.facts, self.inputs]
        place = panes.index(self.focused) if isinstance(self.focused, LineView) and self.focused in panes else 0
        panes[max(0, min(place + by, 2))].focus()

    @property
    def has_unsaved(self) -> bool:
        return self.session_or_none is not None and self.session.changed

    def footer(self) -> Sequence[Command]:
        """Enter as the pane with the keys takes it; without items what adds one stands for what draws them."""
        from splitline.plan.model import KINDS

        usual = [replace(c, label=self._entering()) if c.id == "edit" else c for c in super().footer()]
        tree = self.session_or_none.draft.tree if self.session_or_none is not None else None
        if tree is None or any(tree.get(kind) for kind in KINDS):
            return usual
        add = next(command for command in self.commands() if command.id == "add")
        return [*usual[:1], add, *usual[1:]]

    def offers(self, ident: str) -> bool:
        """Whether a command has something to work on here and now."""
        if self.session_or_none is None:
            return ident in ("theme", "palette", "help", "back", "quit")
        session = self.session
        return {
            "save": lambda: session.changed,
            "undo": lambda: session.can_undo,
            "redo": lambda: session.can_redo,
            "views": lambda: self.going.can_draw,
            "problems": lambda: bool(session.draft.problems),
            "examples": lambda: bool(session.draft.examples),
            "next_example": lambda: bool(session.draft.examples),
            "previous_example": lambda: bool(session.draft.examples),
            "confirm": lambda: (path := self.changes.cursor_path()) is not None and session.draft.is_example(path),
            "compare": lambda: session.pinned is not None,
            "work": lambda: not session.changed,
            "record": lambda: not session.changed,
            "print": lambda: not session.changed,
            "save_as": lambda: self.splitline.reach.makes,
        }.get(ident, lambda: True)()

    def _entering(self) -> str:
        """What Enter does where the cursor stands."""
        target: Any = self.facts.target
        if self.focused is self.contents:
            return "to the fields"
        if self.focused is self.facts and isinstance(target, tuple):
            return {"problem": "go there", "at": "open"}.get(str(target[0]), "why")
        return "edit"

    # what the panes and the editor say goes to whom it concerns

    def on_line_view_chosen(self, event: LineView.Chosen) -> None:
        self.going.chosen(event)

    def on_field_editor_typed(self, event: FieldEditor.Typed) -> None:
        self.fields.typed(event)

    def on_field_editor_taken(self, event: FieldEditor.Taken) -> None:
        self.fields.taken(event)

    def on_field_editor_left(self, event: FieldEditor.Left) -> None:
        self.fields.left(event)
