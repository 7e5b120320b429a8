"""What is asked about the lesson's file: the words and the ways on, without doing any of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from chalkfret.desk.safety.asked import Asked, Choice, Entry
from chalkfret.words.text import _

SAVE, LEAVE, FILE, TWICE, JOURNAL = "save", "leave", "file", "twice", "journal"

Run = Callable[[], object]


def not_saved(
    path: Path, reasons: Sequence[str], elsewhere: Run, again: Run, stands: bool
) -> Asked:
    """A save failed; ``stands`` says that there is a file, which was not touched."""
    heading = _("{name} was not saved").format(name=path.name)
    still = _("The lesson is still open with all your work.")
    if stands:
        still = _("The lesson is still open with all your work, and the file is as it was.")
    lines = (*reasons, still)
    choices = (Choice(_("Save elsewhere …"), elsewhere), Choice(_("Try again"), again))
    return Asked(SAVE, heading, (Entry("", lines, choices),), _("Close"))


def differs(path: Path, over: Run, elsewhere: Run, load: Run) -> Asked:
    """Another file stands where the lesson was to be saved."""
    heading = _("{name} was not saved").format(name=path.name)
    lines = (
        _("Another program or window has changed this file since you opened it."),
        _("If you write over it, what is there now goes to the earlier versions."),
    )
    choices = (
        Choice(_("Save elsewhere …"), elsewhere),
        Choice(_("Write over it"), over),
        Choice(_("Load what is there"), load),
    )
    # In the place of the news that the file was changed: it is the same matter.
    return Asked(FILE, heading, (Entry("", lines, choices),), _("Later"))


def occupied(path: Path, over: Run, elsewhere: Run) -> Asked:
    """There is a file of the name that the ending was added to."""
    heading = _("There is a {name} already").format(name=path.name)
    lines = (_("Write over it, or save under another name?"),)
    choices = (Choice(_("Save elsewhere …"), elsewhere), Choice(_("Write over it"), over))
    return Asked(SAVE, heading, (Entry("", lines, choices),), _("Cancel"))


def slow(path: Path, elsewhere: Run, leave: Run) -> Asked:
    """The drive does not answer."""
    heading = _("{name} is still being saved").format(name=path.name)
    lines = (
        _("Its drive has not answered yet. You can go on working meanwhile."),
        _("Your work is also kept by the program itself."),
    )
    choices = (Choice(_("Save elsewhere …"), elsewhere), Choice(_("Do not wait for it"), leave))
    return Asked(SAVE, heading, (Entry("", lines, choices),), _("Wait"))


def leaving(path: Path, go: Run, elsewhere: Run, stay: Run) -> Asked:
    """The lesson is to be let go while it is being saved."""
    heading = _("{name} is still being saved").format(name=path.name)
    lines = (
        _("As soon as that is done, it goes on by itself."),
        _("If you do not wait, your work is kept and offered at the next start."),
    )
    choices = (
        Choice(_("Go on without waiting"), go),
        Choice(_("Save elsewhere …"), elsewhere),
    )
    return Asked(LEAVE, heading, (Entry("", lines, choices),), _("Stay here"), stay)


def changed_behind(path: Path, load: Run, elsewhere: Run) -> Asked:
    """Somebody else wrote the open file."""
    heading = _("{name} was changed by another program or window").format(name=path.name)
    lines = (_("Your lesson is as it was. Nothing is written over without asking you."),)
    choices = (
        Choice(_("Load what is there"), load),
        Choice(_("Save mine elsewhere …"), elsewhere),
    )
    return Asked(FILE, heading, (Entry("", lines, choices),), _("Go on with mine"))


def vanished(path: Path, save: Run, elsewhere: Run) -> Asked:
    """The open file is gone."""
    heading = _("{name} is no longer where it was").format(name=path.name)
    lines = (
        _("It was moved, renamed or deleted, or its drive is gone. Your lesson is still open."),
    )
    choices = (Choice(_("Save it there again"), save), Choice(_("Save elsewhere …"), elsewhere))
    return Asked(FILE, heading, (Entry("", lines, choices),), _("Close"))


def open_twice(path: Path, copy: Run) -> Asked:
    """The lesson that was just opened is open in another window."""
    heading = _("{name} is open in another window, too").format(name=path.name)
    lines = (_("Whichever window saves second is asked before anything is written over."),)
    choices = (Choice(_("Make this one a copy"), copy),)
    return Asked(TWICE, heading, (Entry("", lines, choices),), _("Close"))


def journal_stopped(reason: str, save: Run) -> Asked:
    """The journal cannot be written."""
    heading = _("Your unsaved work cannot be kept just now")
    lines = (reason, _("Save the lesson often until this is mended."))
    choices = (Choice(_("Save"), save),)
    return Asked(JOURNAL, heading, (Entry("", lines, choices),), _("Close"))
