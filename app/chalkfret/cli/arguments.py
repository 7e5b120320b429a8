"""The words of the command line."""

from __future__ import annotations

import argparse
import datetime
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any, Final, NoReturn, TypeAlias

from chalkfret import __version__
from chalkfret.cli import commands
from chalkfret.files.export import COUNT_IN_MAX, FIXED_DATE, SPEED_MAX, SPEED_MIN, Click, Kind
from chalkfret.model import Paper
from chalkfret.words.text import N_, _

MakeParser: TypeAlias = Callable[..., argparse.ArgumentParser]  # name, help and description


def read(arguments: Sequence[str]) -> argparse.Namespace | int:
    """The options, with ``run`` the command to be called; or an exit code where that is all."""
    parser = _parser(arguments[0] if arguments else "")
    try:
        options = parser.parse_args(arguments)
    except SystemExit as done:  # after --help and --version, or a complaint
        return int(done.code or 0)
    if "run" not in options:
        parser.print_help()
        return 0
    return options


class _Parser(argparse.ArgumentParser):
    """Says what is wrong in one sentence, and where more is to be learnt."""

    def __init__(self, **more: Any) -> None:
        super().__init__(
            formatter_class=argparse.RawDescriptionHelpFormatter, allow_abbrev=False, **more
        )

    def error(self, message: str) -> NoReturn:
        self.exit(2, _("{message}; see `{name} --help`.\n").format(message=message, name=self.prog))


def _parser(word: str) -> _Parser:
    """The parser of a command line that begins with ``word``.

    Where that is a command the others are left out, as making them takes time at every start.
    """
    parser = _Parser(
        prog="chalkfret",
        description=_(
            "Riff lessons for guitar teachers: write them in the window, check them, and make\n"
            "the sheets and previews that supporters get."
        ),
        epilog=_(_EXAMPLES),
    )
    parser.add_argument("--version", action="version", version=f"Chalkfret {__version__}")
    common = _Parser(add_help=False)
    common.add_argument("--debug", action="store_true", help=_("show where an error comes from"))
    kinds = parser.add_subparsers(title=_("commands"), metavar="COMMAND")

    def command(name: str, help_: str, description: str = "") -> argparse.ArgumentParser:
        made: argparse.ArgumentParser = kinds.add_parser(
            name, parents=[common], help=help_, description=description or help_
        )
        return made

    for name, (make, run) in _COMMANDS.items():
        if word == name or word not in _COMMANDS:
            make(command).set_defaults(run=run)
    return parser


def _open(command: MakeParser) -> argparse.ArgumentParser:
    parser = command("open", _("open the window, on a lesson if one is named"))
    parser.add_argument("lesson", nargs="?", type=Path, metavar="LESSON")
    return parser


def _check(command: MakeParser) -> argparse.ArgumentParser:
    parser = command(
        "check",
        _("say what is wrong with lessons, and what is surely not meant"),
        _(
            "Faults keep a lesson from being opened (exit code 1); remarks are legal but surely\n"
            "not meant, such as a cue after the end of its section (exit code 0)."
        ),
    )
    parser.add_argument("lessons", nargs="+", type=Path, metavar="LESSON")
    _json(parser)
    return parser


def _explain(command: MakeParser) -> argparse.ArgumentParser:
    parser = command(
        "explain", _("say everything that is computed of a lesson: setups, sections, every note")
    )
    parser.add_argument("lesson", type=Path, metavar="LESSON")
    _json(parser)
    return parser


def _retune(command: MakeParser) -> argparse.ArgumentParser:
    parser = command(
        "retune",
        _("say how a lesson's guitars get to another tuning"),
        _(
            "The card says which string to turn, how far, in which order, and by which other\n"
            "string to hear it. A tuning is one of the trade's names (`drop d`) or a row of\n"
            "notes, low to high (`C G C F A D`)."
        ),
    )
    parser.add_argument("lesson", type=Path, metavar="LESSON")
    parser.add_argument(
        "--to", metavar="TUNING",
        help=_("where to (left out with `--riff card`: the setups of all the lesson's students)"),
    )  # fmt: skip
    parser.add_argument(
        "--from", dest="start", metavar="TUNING", help=_("where from (default: the lesson's own)")
    )
    parser.add_argument("--part", metavar="NAME", help=_("only this guitar"))
    parser.add_argument("--section", metavar="LETTER", help=_("as tuned in this section"))
    parser.add_argument(
        "--page", type=Path, metavar="DIR", help=_("make the card a page, STEM-retune.pdf, there")
    )
    riff = parser.add_argument_group(_("the riff in the other tuning, instead of the card"))
    riff.add_argument(
        "--riff", choices=["same-pitch", "same-frets", "card"],
        help=_("fingered anew at the same pitch; the same frets and what they then give; or what\n"
               "a student with that tuning is to play, with a capo where that is enough"),
    )  # fmt: skip
    riff.add_argument(
        "--to-file", type=Path, metavar="LESSON", help=_("write the lesson so arranged there")
    )
    _json(parser)
    return parser


def _talk(command: MakeParser) -> argparse.ArgumentParser:
    parser = command("talk", _("say what there is to say of a lesson on camera"))
    parser.add_argument("lesson", type=Path, metavar="LESSON")
    parser.add_argument(
        "--section", dest="sections", action="append", default=[], metavar="LETTER,...",
        help=_("only these sections"),
    )  # fmt: skip
    parser.add_argument(
        "--video", action="store_true", help=_("the text to post under the video instead")
    )
    _json(parser)
    return parser


def _schema(command: MakeParser) -> argparse.ArgumentParser:
    parser = command("schema", _("print the JSON Schema of a public format"))
    parser.add_argument(
        "format", nargs="?", choices=["lesson", "explain"], default="lesson",
        help=_("the lesson file (default), or what `explain --json` prints"),
    )  # fmt: skip
    return parser


def _json(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help=_("for programs: print JSON"))


def _export(command: MakeParser) -> argparse.ArgumentParser:
    parser = command(
        "export",
        _("make sheets and previews of lessons"),
        _(
            "Files are named STEM[-SECTION][-PART][-KIND][-SPEED].EXT after the lesson's file.\n"
            "Each section and each part that is named gets a file of its own; with none named\n"
            "one file holds them all. Files of the same name are replaced."
        ),
    )
    parser.add_argument("lessons", nargs="+", type=Path, metavar="LESSON")
    parser.add_argument("--to", required=True, type=Path, metavar="DIR", help=_("the folder"))
    parser.add_argument(
        "--as", dest="kinds", required=True, type=_kinds, metavar="KIND,...",
        help=_("{kinds}, or several with commas between").format(kinds=_or(Kind)),
    )  # fmt: skip
    parser.add_argument(
        "--section", dest="sections", action="append", default=[], metavar="LETTER,...",
        help=_("only these sections, a file for each"),
    )  # fmt: skip
    parser.add_argument(
        "--part", dest="parts", action="append", default=[], metavar="NAME",
        help=_("only this part; give it again for more, a file for each"),
    )  # fmt: skip
    previews = parser.add_argument_group(_("previews"))
    previews.add_argument(
        "--speed", type=float, default=1.0, metavar="FACTOR",
        help=_("{least} to {most}; 1 is the lesson's own").format(least=SPEED_MIN, most=SPEED_MAX),
    )  # fmt: skip
    previews.add_argument(
        "--click", choices=list(Click), help=_("whether to click, or to click only (default: with)")
    )
    previews.add_argument(
        "--notes", choices=["with", "without"], default="with",
        help=_("`without` is the click alone"),
    )  # fmt: skip
    previews.add_argument(
        "--count-in", type=int, default=0, metavar="BARS",
        help=_("bars of click before the first, up to {most}").format(most=COUNT_IN_MAX),
    )  # fmt: skip
    sheets = parser.add_argument_group(_("sheets"))
    sheets.add_argument("--paper", type=Paper, choices=list(Paper), help=_("default: the lesson's"))
    sheets.add_argument(
        "--fixed-date", nargs="?", type=_date, const=FIXED_DATE, metavar="DATE",
        help=_("the date in the file ({date} where none is named): same lesson, same bytes").format(
            date=FIXED_DATE
        ),
    )  # fmt: skip
    _json(parser)
    return parser


# How each command's words are read, and what it does; in the order in which they are listed.
_COMMANDS: Final = {
    "open": (_open, commands.open_window),
    "export": (_export, commands.export),
    "check": (_check, commands.check),
    "explain": (_explain, commands.explain),
    "retune": (_retune, commands.retune),
    "talk": (_talk, commands.talk),
    "schema": (_schema, commands.schema),
}


def _or(words: Iterable[str]) -> str:
    return _(" or ").join(words)


def _kinds(text: str) -> tuple[Kind, ...]:
    kinds = []
    for word in filter(None, (word.strip().lower() for word in text.split(","))):
        if word not in list(Kind):
            raise argparse.ArgumentTypeError(
                _("there is no kind {word}, only {kinds}").format(word=word, kinds=_or(Kind))
            )
        kinds.append(Kind(word))
    if not kinds:
        raise argparse.ArgumentTypeError(_("name at least one kind"))
    return tuple(kinds)


def _date(text: str) -> datetime.date:
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(
            _("{text} is no date like 2030-12-31").format(text=text)
        ) from None


_EXAMPLES: Final = N_(
    "examples:\n"
    "  chalkfret open riff.chalkfret\n"
    "  chalkfret check *.chalkfret\n"
    "  chalkfret export riff.chalkfret --to out --as pdf,midi\n"
    "  chalkfret export riff.chalkfret --to out --as midi --section A,B --speed 0.7 --count-in 1\n"
    "  chalkfret explain riff.chalkfret --json\n"
    "  chalkfret talk riff.chalkfret --section A\n"
    "  chalkfret retune riff.chalkfret --from standard --to 'drop c'\n"
    "\n"
    "`chalkfret COMMAND --help` tells more of each."
)
