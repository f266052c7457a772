"""Getting about a plan: search, numbers, mistakes, findings, drawings, working, comparing."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from typing import TYPE_CHECKING, Any

from splitline.plan.edits import paths_of
from splitline.ui import marks
from splitline.ui.draw.rows import counted
from splitline.ui.screens.controller import Controller
from splitline.ui.widgets.lines import LineView

if TYPE_CHECKING:
    from splitline.assess.result import Check, ItemResult

DRAWN = ("joint", "lift", "fit", "insertion", "clearance")


class Going(Controller):
    """Commands that look and go; none changes the plan."""

    def chosen(self, event: LineView.Chosen) -> None:
        if self.screen.session_or_none is None:
            return
        target: Any = event.target
        if event.view is self.screen.contents:
            self.screen.inputs.focus()
        elif event.view is self.screen.inputs and isinstance(target, tuple):
            self.screen.fields.edit_at(target)
        elif event.view is self.screen.facts and isinstance(target, tuple):
            if target[0] == "problem":
                self.screen.go_to(target[1])
            elif target[0] == "at":
                self.screen.select(target[1], target[2])
            else:
                self.show_why(target)

    def show_why(self, target: Hashable) -> None:
        """Formula, numbers put in and source of a result; basis and what is missing of a check."""
        from splitline.ui.screens.why import WhyScreen

        kind, index = self.screen.shown_item
        result = self.session.result(kind, index)
        if result is None:
            self.screen.foot("nothing has come out of this item yet")
            return
        self.screen.app.push_screen(WhyScreen(result, target, self.session.system), self._went_to_need)

    def _went_to_need(self, need: Any) -> None:
        """The working names a field that is missing: go there."""
        if isinstance(need, str) and need:
            from splitline.ui.card.places import path_of

            kind, index = self.screen.shown_item
            self.screen.go_to(path_of(self.session.raw(kind, index), (kind, index), need))

    def do_why(self) -> None:
        if self.screen.session_or_none is not None:
            self.show_why(self.screen.facts.target if self.screen.focused is self.screen.facts else None)

    def do_what_if(self) -> None:
        """The check under the cursor answers; elsewhere the check of the item that is nearest to its limit."""
        from splitline.assess.answers import Answer, answers
        from splitline.assess.assessment import alone
        from splitline.assess.context import Context
        from splitline.assess.what_if import WhatIf
        from splitline.ui.screens.what_if import WhatIfScreen

        if self.screen.session_or_none is None:
            return
        kind, index = self.screen.shown_item
        session = self.session
        result, item = session.result(kind, index), session.draft.item(kind, index)
        check = self._check_here(result) if result is not None else None
        assess_alone = alone(kind, Context(session.library, session.today, system=session.system))
        if item is None or check is None or assess_alone is None:
            self.screen.foot("no check here that stands against a limit")
            return
        title = f"{check.title}: {check.said(session.system)}, usage {check.usage:.3f}"

        def sections() -> Iterator[tuple[Answer, ...]]:
            yield from answers(WhatIf(item, assess_alone), check, session.library.names, session.system)

        self.screen.app.push_screen(WhatIfScreen(title, sections, not self.screen.view_only), self._took)

    def _check_here(self, result: ItemResult) -> Check | None:
        from splitline.ui.card.checks import worst_first

        target = self.screen.facts.target if self.screen.focused is self.screen.facts else None
        ordered = worst_first(result.checks)
        if (
            isinstance(target, tuple)
            and target[0] == "check"
            and isinstance(target[2], int)
            and target[2] < len(ordered)
        ):
            return ordered[target[2]] if ordered[target[2]].usage is not None else None
        return max((check for check in ordered if check.usage is not None), key=lambda c: c.usage or 0.0, default=None)

    def _took(self, taken: Any) -> None:
        if taken is None:
            return
        path, value = taken
        kind, index = self.screen.shown_item
        self.screen.changes.put((kind, index, *path), value)

    def do_every(self) -> None:
        if self.screen.session_or_none is not None:
            self.screen.every = not self.screen.every
            self.screen.show_card()
            self.screen.foot("every field" if self.screen.every else "fields that are given or needed")

    def do_units(self) -> None:
        if self.screen.session_or_none is None:
            return
        session = self.session
        own = session.draft.plan.us
        now = not session.us
        session.shown_us = None if now == own else now
        self.screen.show_all()
        self.screen.recompute()  # texts of the assessment speak in the units shown
        self.screen.foot(
            f"shown in {session.system} units; the file stays as it is" if session.shown_us is not None else ""
        )

    def do_problems(self) -> None:
        if self.screen.session_or_none is None:
            return
        from splitline.ui.screens.picker import Option, PickerScreen

        problems = self.session.draft.problems
        options = [
            Option(
                p.path, p.where or "file", (f"line {p.line}: " if p.line else "") + p.message, marks.PROBLEM, "problem"
            )
            for p in problems
        ]
        title = f"{counted(len(problems), 'mistake')}; Enter goes there" if problems else "No mistakes in this plan"
        self.screen.app.push_screen(PickerScreen(title, options), self.go_if)

    def go_if(self, path: Any) -> None:
        if path:
            self.screen.go_to(path)

    def do_unsettled(self) -> None:
        """Checks that are not ok, worst first."""
        if self.screen.session_or_none is None:
            return
        from splitline.ui.card.checks import worst_first
        from splitline.ui.screens.picker import Option, PickerScreen

        found = []
        for (kind, ident), result in self.session.outcome.results.items():
            placed = enumerate(worst_first(result.checks))  # as the card numbers its lines
            found += [((kind, ident, ("check", c.key, n)), result.title, c) for n, c in placed if c.verdict != "ok"]
        order = {id(c): n for n, c in enumerate(worst_first(c for *_, c in found))}
        found.sort(key=lambda f: order[id(f[2])])
        options = [
            Option(
                place,
                c.title,
                f"{f'{c.usage:.2f} ' if c.usage is not None else ''}{title}: {c.said(self.session.system)}",
                marks.shape(c.verdict),
                marks.style(c.verdict),
            )
            for place, title, c in found
        ]
        said = "1 check is not ok" if len(found) == 1 else f"{len(found)} checks are not ok"
        self.screen.app.push_screen(PickerScreen(said, options), self._goto_item)

    def _goto_item(self, key: Any) -> None:
        if key and (index := self.session.index_of(key[0], key[1])) is not None:
            self.screen.select(key[0], index)
            self.screen.facts.focus()
            self.screen.call_after_refresh(self.screen.facts.put_cursor, key[2])

    def do_examples(self) -> None:
        """What is still the starting plan's, with what each value is for."""
        if self.screen.session_or_none is None:
            return
        from splitline.ui.card.finding import example_options
        from splitline.ui.screens.picker import PickerScreen

        options = example_options(self.session)
        title = f"{len(options)} examples; Enter goes there, m takes one as right" if options else "No examples left"
        self.screen.app.push_screen(PickerScreen(title, options), self.go_if)

    def do_next_example(self) -> None:
        self._to_example(1)

    def do_previous_example(self) -> None:
        self._to_example(-1)

    def _to_example(self, by: int) -> None:
        """The next example in the order of the file, round and round."""
        if self.screen.session_or_none is None:
            return
        here = self.screen.changes.cursor_path()
        paths = list(paths_of(self.session.draft.tree))
        found = [n for n, path in enumerate(paths) if self.session.draft.is_example(path)]
        if not found:
            self.screen.foot("no examples left")
            return
        now = next((n for n, path in enumerate(paths) if here is not None and path[: len(here)] == here), 0)
        inside = paths[now] != here  # on an item or table: its first value is ahead of it
        ahead = [n for n in found if (n > now or (inside and n == now) if by > 0 else n < now)]
        place = (ahead[0] if by > 0 else ahead[-1]) if ahead else (found[0] if by > 0 else found[-1])
        self.screen.go_to(paths[place])
        self.screen.foot(f"example {found.index(place) + 1} of {len(found)}")

    def do_search(self) -> None:
        if self.screen.session_or_none is None:
            return
        from splitline.ui.card.finding import everything
        from splitline.ui.screens.picker import PickerScreen

        options = everything(self.session, self.screen.commands(), self.screen.shown_item)
        self.screen.app.push_screen(PickerScreen("Search items, fields, values and commands", options), self._found)

    def _found(self, value: Any) -> None:
        if not value:
            return
        if value[0] == "command":
            self.screen.call_later(self.screen.action_command, value[1])
        else:
            self.screen.go_to(value[1])

    def do_jump(self) -> None:
        """An item by the number it bears on paper."""
        if self.screen.session_or_none is None:
            return
        from splitline.ui.card.finding import numbered
        from splitline.ui.screens.picker import PickerScreen

        title = "Go to a number as on paper: 14 a step, J2 a joint, L3 a lift"
        self.screen.app.push_screen(PickerScreen(title, numbered(self.session)), self._jumped)

    def _jumped(self, place: Any) -> None:
        if place is not None:
            self.screen.select(*place)
            self.screen.contents.focus()

    @property
    def can_draw(self) -> bool:
        """Whether the item shown has drawings."""
        kind, index = self.screen.shown_item
        return kind in DRAWN and self.session.draft.item(kind, index) is not None

    def do_views(self) -> None:
        if self.screen.session_or_none is None:
            return
        from splitline.ui.screens.view import ViewScreen, views_of

        kind, index = self.screen.shown_item
        views = views_of(self.session, kind, index)
        if views:
            self.screen.app.push_screen(ViewScreen(self.session, (kind, index), views))
        else:
            self.screen.foot("nothing to draw of this item yet")

    def do_timeline(self) -> None:
        if self.screen.session_or_none is None:
            return
        from splitline.ui.screens.view import ViewScreen, timeline_views

        self.screen.app.push_screen(ViewScreen(self.session, ("plan", 0), timeline_views(self.session)))

    def do_pin(self) -> None:
        if self.screen.session_or_none is not None:
            self.session.pin()
            self.screen.foot("pinned: change something, then k compares")

    def do_compare(self) -> None:
        if self.screen.session_or_none is None:
            return
        if self.session.pinned is None:
            self.screen.foot("nothing pinned yet: p pins the plan as it is now")
            return
        from splitline.ui.screens.compare import CompareScreen

        self.screen.app.push_screen(CompareScreen(self.session))

    def do_work(self) -> None:
        self._leave_for(self.screen.splitline.open_work)

    def do_record(self) -> None:
        self._leave_for(self.screen.splitline.open_record)

    def _leave_for(self, opening: Any) -> None:
        if self.screen.session_or_none is None:
            return
        if self.session.changed:
            self.screen.splitline.say(
                "Save the plan first: work is done from the file, not from what is on this screen.", bad=True
            )
            return
        opening(self.screen.path)
