"""What each target of the fitter's screen starts: questions, then one act at the desk."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from splitline.record.entry import (
    ABSENT,
    WITNESS,
    Measured,
    Planned,
    Recovered,
    Tightened,
    WrongEntry,
)
from splitline.record.struck import strikes
from splitline.ui.paper.choosing import ONE_BY_ONE
from splitline.ui.paper.screen import PaperScreen
from splitline.ui.work import acts, asks, flow_hold, flow_trace
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.counts import counts_open, how_many
from splitline.ui.work.desk import After
from splitline.ui.work.entry_words import entry_said
from splitline.ui.work.flow_accept import accept, accept_plan, bring_back, concede, hands
from splitline.ui.work.flow_instrument import taken
from splitline.ui.work.flow_lift import trial
from splitline.ui.work.flow_set_up import set_up
from splitline.ui.work.holds import BROKEN
from splitline.ui.work.pad import PadScreen
from splitline.ui.work.reasons import (
    ASIDE,
    DANGER_FIRST,
    LOST,
    STOPPED,
    STOPPED_FIT,
    STOPPED_LIFT,
    WRONG,
    WRONG_ACT,
    WRONG_ANY,
)
from splitline.ui.work.steps import step_back, steps
from splitline.ui.work.task import Limits, Task
from splitline.ui.work.tasks import SEEN
from splitline.ui.work.tasks_insertion import PUSHED
from splitline.ui.work.tasks_joint import limits_of_stud
from splitline.ui.work.tasks_lift import TRIAL, enterable, limits_of_leg, on_site
from splitline.ui.work.text import TextScreen

if TYPE_CHECKING:
    from splitline.ui.work.screen import WorkScreen

CLOSE = "close-step"
ALL_THE_SAME = "done all the same"


async def reading(screen: WorkScreen, task: Task) -> None:
    """What is read, on which stud or where, how much; judged at once."""
    if not task.readings:
        screen.say_here("nothing is read in this step", "dim")
        return
    limits = task.readings[0]
    if len(task.readings) > 1:
        choices = [
            Choice(str(i), each.what, asks.limits_said(each, screen.system)) for i, each in enumerate(task.readings)
        ]
        found = await screen.ask(ChoiceScreen("What was read", choices))
        if found is None:
            return
        limits = task.readings[int(found)]
    number = None
    if limits.bolt:
        joint = screen.desk.job.joint(task.joint)
        every = max((b for each in joint.passes for b in each.bolts), default=0) if joint else 0
        number = await asks.bolt(screen, task.bolts, every, _just_stored(screen, task), task.noun)
        if number is None or screen.now is None:
            return
        limits = limits_of_stud(screen.now, task, limits, number)
    at = ""
    if limits.what == "gap":
        found = await asks.where(screen, "Where the gap was measured")
        if found is None:
            return
        at = found
    if limits.legs:
        leg = await asks.leg(screen, limits.legs)
        if leg is None or screen.now is None:
            return
        at, limits = f"leg {leg}", limits_of_leg(screen.now.assessment.find("lift", task.item), leg, screen.system)
    if not await taken(screen, limits):
        return
    title = f"{limits.what}{f' of {task.noun} {number}' if number else ''}{f', {at}' if at else ''}"
    value = await asks.amount(screen, limits, title)
    if value is not None and limits.what in PUSHED:
        travel = await asks.amount(screen, Limits("travel", "length"), "Travel of the bundle so far")
        if travel is None:
            return
        at = travel[1]
    if value is not None:
        screen.act(lambda: acts.read(screen.desk, task, limits, value[0], value[1], number, at))


def _just_stored(screen: WorkScreen, task: Task) -> tuple[int, ...]:
    """Studs of the last entry of this joint: their readings are what is usually taken next."""
    alive = screen.now.alive if screen.now is not None else ()
    last = next((e for e in reversed(alive) if isinstance(e, Tightened) and e.joint == task.joint), None)
    return last.bolts if last is not None else ()


def _named(reasons: tuple[str, ...], noun: str) -> tuple[str, ...]:
    """The usual reasons with the joint's own word."""
    return tuple(each.replace("stud", noun) for each in reasons)


async def wrong(screen: WorkScreen, task: Task) -> None:
    """Strike one of the last entries, with a reason."""
    record = screen.desk.journal.refresh()
    gone = strikes(record.entries)
    stay = (WrongEntry, Planned, Recovered)
    last = [e for e in reversed(record.entries) if e.number not in gone and not isinstance(e, stay)][:40]
    if not last:
        screen.say_here("there is nothing to strike", "dim")
        return
    titles = screen.desk.titles
    choices = [
        Choice(
            str(e.number),
            entry_said(e, screen.desk.noun(getattr(e, "joint", "")), titles),
            f"{e.number}  {e.done_at:%H:%M} {e.done_by}" if e.done_at else "",
        )
        for e in last
    ]
    lines: tuple[tuple[str, str], ...] = (("It stays readable, struck.", "dim"),)
    found = await screen.ask(ChoiceScreen("Which entry is wrong", choices, lines, asks.BACK_FIRST))
    if found is None:
        return
    entry = next(e for e in last if e.number == int(found))
    noun = screen.desk.noun(getattr(entry, "joint", "") or getattr(entry, "item", ""))
    lines = ((f"{entry.number}  {entry_said(entry, noun, titles)}", "strong"), *lines)
    usual = WRONG_ACT.get(getattr(entry, "act", "")) or WRONG.get(type(entry), WRONG_ANY)
    if isinstance(entry, Measured) and entry.bolt is None:
        usual = tuple(each.replace(" or stud", "") for each in usual)
    why = await asks.reason(screen, "What is wrong with it", _named(usual, noun), lines)
    if why:
        screen.act(lambda: acts.strike(screen.desk, int(found), why))


async def aside(screen: WorkScreen, task: Task) -> None:
    """Set one stud, or both in hand, aside with a reason."""
    choices = [Choice(str(each), f"{task.noun} {each}") for each in task.bolts]
    if len(task.bolts) > 1:
        choices.append(Choice(" ".join(map(str, task.bolts)), acts.bolts_said(task.bolts, task.noun)))
    found = await screen.ask(
        ChoiceScreen("Defer", choices, (("The pass stays open until it is tightened or accepted.", "dim"),))
    )
    if not found:
        return
    why = await asks.reason(screen, "Why", _named(ASIDE, task.noun))
    if why:
        bolts = tuple(int(each) for each in found.split())
        screen.act(lambda: acts.set_aside(screen.desk, task, bolts, why))


async def sign(screen: WorkScreen, task: Task, act: str = "hold") -> None:
    """A hold or witness point: a name, and what it stands under."""
    if task.step is None or screen.now is None:
        return
    role = task.step.plan.hold if act == "hold" else task.step.plan.witness
    record = screen.now.record
    seen = task.step.plan.statement if act == "hold" else ""
    given = (f"on {record.count} entries, record code {record.head[:16]}", "dim")
    lines = (*(((f"{SEEN}: {seen}", "strong"),) if seen else ()), (f"{task.title}: {role}", ""), given)
    person = await asks.signer(screen, f"Sign as {role}", lines)
    statement = f"signed without what was to be read: {task.doubt}" if task.doubt and act == "hold" else ""
    if person and statement:
        asked = ((task.doubt, "near"), ("The record will say that it was signed without.", ""))
        if not await asks.sure(screen, "Sign without it?", "Sign all the same", asked):
            return
    if person and screen.desk.people.among(person, hands(screen, task)):
        said = (
            (f"{person} did this work or sits at this screen. Sites differ on who may sign their own work.", "caution"),
            ("The record will say that the same person did and signed it.", ""),
        )
        if not await asks.sure(screen, f"{person} signs as {role}?", "Sign all the same", said):
            return
        statement = "; ".join(filter(None, (statement, acts.SAME_HAND)))
    if person:
        screen.act(lambda: acts.sign(screen.desk, task, act, person, statement))


async def close_step(screen: WorkScreen, task: Task) -> None:
    """A step is done; a witness point of it says first whether the witness was there."""
    plan = task.step.plan if task.step is not None else None
    doubt = f"{ALL_THE_SAME}: {task.doubt}" if task.doubt else ""
    if task.doubt and not await asks.sure(screen, "Is it done?", "Done all the same", ((task.doubt, "near"),)):
        return
    if plan is None or task.step is None or not task.step.asks_witness or await witness_point(screen, task):
        screen.act(lambda: acts.sign(screen.desk, task, "done", "", doubt))


async def witness_point(screen: WorkScreen, task: Task) -> bool:
    """Whether the witness was there, or was called and did not come: one of them goes on record, for every kind of step."""
    plan = task.step.plan if task.step is not None else None
    if plan is None:
        return False
    choices = [
        Choice("here", "Witnessed", "they pick their name"),
        Choice("away", "Called, not here", "goes on record"),
    ]
    title = f"Witness point: {plan.witness}"
    found = await screen.ask(ChoiceScreen(title, choices, ((task.title, "strong"),), asks.BACK_FIRST))
    if found == "here":
        await sign(screen, task, WITNESS)
    elif found == "away":
        screen.act(lambda: acts.sign(screen.desk, task, ABSENT))
    return any(state.witness is not None for state in screen.desk.refresh().states if state.plan.id == plan.id)


async def called(screen: WorkScreen, task: Task) -> None:
    """The witness point of a step whose work is done."""
    await witness_point(screen, task)


async def stop(screen: WorkScreen, task: Task) -> None:
    """Leave the work: a reason, words for the next shift, studs given back."""
    kind = task.step.plan.kind if task.step is not None else ""
    usual = {"lift": STOPPED_LIFT, "fit": STOPPED_FIT}.get(kind, STOPPED)
    lines = ((f"{task.noun.capitalize()}s in hand go back.", "dim"),) if task.kind == "bolts" else ()
    why = await asks.reason(screen, "Stop work", usual, lines)
    if why is None:
        return
    if why == DANGER_FIRST:  # at the touch, with nothing asked: every screen of the plan is red within a second
        screen.act(lambda: acts.call_danger(screen.desk, task.title, task.item))
        return
    words = await screen.ask(TextScreen("For whoever goes on", (("What they must know. Esc: nothing to say.", "dim"),)))
    item = task.item
    if why in LOST and any(answer.id == "hold-broken" for answer in task.answers):
        screen.act(lambda: acts.note(screen.desk, why, BROKEN, item, task.part))
    if not screen.act(lambda: acts.note(screen.desk, why, "stop work", item)):
        return
    if words:
        screen.act(lambda: acts.note(screen.desk, words, "handover", item))
    await screen.leave_and_resume()


async def take_over(screen: WorkScreen, task: Task) -> None:
    """Another crew's studs, after they said they are off them."""
    if screen.now is None:
        return
    held = [claim for claim in screen.now.others if (claim.joint, claim.pass_) == (task.joint, task.pass_)]
    choices = [
        Choice(str(i), acts.bolts_said(c.bolts, task.noun), f"{c.crew}, seen {c.seen:%H:%M}")
        for i, c in enumerate(held)
    ]
    lines = (
        (f"Only when they have said that they are off them. Two tools on one {task.noun} hurt people.", "caution"),
    )
    found = await screen.ask(ChoiceScreen("Take over", choices, lines, asks.BACK_FIRST))
    if found is not None:
        claim = held[int(found)]
        screen.act(lambda: acts.take_over(screen.desk, claim))


async def paper(screen: WorkScreen, task: Task) -> None:
    """A filled sheet as a table; or one by one: what is entered from here on was done before, until switched off."""
    if screen.desk.after is not None:
        screen.desk.after = None
        screen.say_here("entering as it is done again", "dim")
        return
    found = await screen.app.push_screen_wait(PaperScreen(screen.desk.path, screen.desk, one_by_one=True))
    if found != ONE_BY_ONE:
        return
    person = await asks.name(screen, "Entered from paper: who did it", own=False)
    at = await asks.moment(screen, "When it was done") if person else None
    if person and at:
        screen.desk.after = After(at, person)
        screen.say_here(f"entering from paper: {person}, {at:%H:%M}", "near")


async def count(screen: WorkScreen, task: Task) -> None:
    """Count an item out before closing."""
    left = counts_open(screen.now, task.step.plan.id) if screen.now is not None and task.step is not None else ()
    if not left:
        return
    choices = [Choice(each.item, each.title, how_many(each)) for each in left]
    found = await screen.ask(ChoiceScreen("What was counted out", choices)) if len(left) > 1 else left[0].item
    if found is None:
        return
    title = next(each.title for each in left if each.item == found)

    def wrong(text: str) -> str:
        return "" if text.isdecimal() else "a whole number"

    text = await screen.ask(PadScreen(f"{title}: how many are out", check=wrong))
    if text:
        screen.act(lambda: acts.count_out(screen.desk, task, found, int(text)))


async def site(screen: WorkScreen, task: Task) -> None:
    """What only the job knows: sling tags, the crane's radius."""
    result = screen.now.assessment.find("lift", task.item) if screen.now else None
    for need in on_site(result):
        if need == "crane.radius":
            value = await asks.amount(screen, Limits("hook radius", "length"), "Working radius of the crane, measured")
            if value is None:
                return
            if not await taken(screen, Limits("hook radius", "length")):
                return
            screen.act(partial(acts.read, screen.desk, task, Limits("hook radius", "length"), *value))
        elif enterable(need):
            leg = need.split(".")[1]
            lines = (("The tag governs, not the table: capacity and inspection date read on the sling.", "caution"),)
            text = await screen.ask(TextScreen(f"Tag on the sling of leg {leg}", lines))
            if text is None:
                return
            screen.act(partial(acts.tag, screen.desk, task, need, text))


async def note(screen: WorkScreen, task: Task) -> None:
    """Words into the record."""
    words = await screen.ask(TextScreen("Note", ((task.title, "dim"),)))
    if words:
        screen.act(lambda: acts.note(screen.desk, words, "note", task.item))


HELP = (
    ("Enter does what the first box says; arrows go from box to box; a letter in a box presses it. Esc: More.", ""),
    ("Figures: numbers on the metal, then what the tool is set to. What was stored last stands above the boxes.", ""),
    ("✓ done in this pass   ▸ now, in your hands   ▹ next   ⊘ deferred   ▫ taken by another crew", "strong"),
    ("≠ done, but at another value than the plan sets now: who answers for the joint decides", "strong"),
    ("H hold point: nothing later starts before it is signed   W witness point   ◷ time limit running", "strong"),
    ("A pass closes when everything in it is done, or a named person accepts what was deferred.", ""),
    ("Nothing is ever erased: a correction strikes an entry, with a reason, and the work it stood for comes back.", ""),
    ("Site rules and licensed practice go before anything this screen says.", "caution"),
)


async def help_(screen: WorkScreen, task: Task) -> None:
    """Keys, marks, and how the work goes on."""
    await screen.ask(ChoiceScreen("Help", (), HELP))


async def record(screen: WorkScreen, task: Task) -> None:
    """What was done."""
    screen.open_record()


async def more(screen: WorkScreen, task: Task) -> None:
    """Everything that is needed seldom."""
    choices = _more(screen, task)
    found = await screen.ask(ChoiceScreen("More", choices))
    if found == "leave":
        screen.leave()
    elif found == "name":
        await screen.take_seat()
    elif found == "witness":
        await called(screen, task)
    elif found is not None:
        await FLOWS[found](screen, task)


def _more(screen: WorkScreen, task: Task) -> list[Choice]:
    looks = [Choice("record", "Record", "what was done"), Choice("help", "Help", "keys and marks")]
    leave = Choice("leave", "Leave", "this screen")
    if screen.view_only:
        return [*looks, leave]
    choices = []
    if task.kind == "bolts":
        choices.append(Choice("aside", "Defer", f"a {task.noun} that cannot be tightened"))
        if task.aside:
            choices.append(Choice("concede", "Accept deferred", "by a named person"))
    if task.step is not None and task.step.joint is not None and task.step.joint.left_out:
        choices.append(Choice("bring-back", "Bring back", f"a {task.noun} that was accepted as deferred"))
    if task.step is not None and task.step.asks_witness:
        choices.append(Choice("witness", "Witness", task.step.plan.witness))
    if task.finish or task.aside or (task.step is not None and task.step.plan.kind not in ("joint", "")):
        choices.append(Choice("reading", "Reading", "of this step"))
    tools = "tool, batch, seals, left to do" if task.kind == "bolts" else "seals, counts in, left to do"
    choices.append(Choice("trace", "Tool, parts" if task.kind == "bolts" else "Parts, points", tools))
    paper_words = "back to entering as done" if screen.desk.after else "a filled sheet, as a table"
    choices += [
        Choice("paper", "From paper", paper_words),
        Choice("steps", "Steps", "another step of the order of work"),
        Choice("note", "Note", "words into the record"),
        looks[0],
        Choice("name", "Change name", screen.desk.person),
        looks[1],
        leave,
    ]
    return choices


LOOKS = ("help", "more", "record")  # what a screen that only looks may start
FLOWS = {
    "reading": reading,
    "wrong": wrong,
    "stop": stop,
    "more": more,
    "set-up": set_up,
    "accept": accept,
    "sign": sign,
    "called": called,
    "take-over": take_over,
    CLOSE: close_step,
    "aside": aside,
    "concede": concede,
    "bring-back": bring_back,
    "paper": paper,
    "steps": steps,
    "step-back": step_back,
    "note": note,
    "record": record,
    "count": count,
    "help": help_,
    "site": site,
    TRIAL: trial,
    "hold-broken": flow_hold.broke,
    "hold-again": flow_hold.again,
    "accept-plan": accept_plan,
    "trace": flow_trace.trace,
}
