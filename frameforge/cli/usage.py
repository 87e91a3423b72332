"""What is wrong with a typed command line, found before it is parsed: one sentence a fault, with the nearest word."""

from __future__ import annotations

import difflib
import re
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.recipe.words import SYNONYMS, nearest
from frameforge.units import is_lone_unit

__all__ = ["resolved", "usage_faults"]

_RECIPE: Final = (".toml", ".svg", ".dxf")
_LOOSE: Final = re.compile(
    r"""[\d.,/½¼¾⅓⅔⅛⅜⅝⅞]+(?:mm|cm|in|["″'])?|x|×|by|at|top|bottom|left|right|deg|°""", re.IGNORECASE
)


@dataclass(slots=True)
class _Line:
    """A command line while it is walked through."""

    where: str
    takes_value: Mapping[str, bool]
    repeats: Mapping[str, bool]
    places: int
    """How many words may stand without an option."""
    needed: tuple[str, ...] = ()
    """What those are called that must stand there."""
    faults: list[InputError] = field(default_factory=list)
    seen: dict[str, str] = field(default_factory=dict)
    last: tuple[str, str] | None = None
    """The option that was just given, with its value."""
    words: list[str] = field(default_factory=list)
    given: set[str] = field(default_factory=set)

    def fault(self, say: str, behind: str = "") -> None:
        """Note one fault; ``behind`` is the option or word it is about."""
        self.faults.append(InputError(say, where=f"{self.where}, {behind}" if behind else self.where, code="usage"))


def resolved(root: Any, argv: Sequence[str]) -> tuple[Any, str, list[str]]:
    """Return the innermost command that ``argv`` names, its name ("motif list"), and the words behind it."""
    command, where, rest = root, "", list(argv)
    while rest and rest[0] in getattr(command, "commands", ()):
        where, command, rest = f"{where} {rest[0]}".strip(), command.commands[rest[0]], rest[1:]
    return command, where, rest


def usage_faults(root: Any, argv: Sequence[str]) -> list[InputError]:
    """Return every fault of ``argv`` against the commands and options of ``root`` (a command group of typer)."""
    command, where, rest = resolved(root, argv)
    if hasattr(command, "commands") and rest and not rest[0].startswith("-"):
        return [_no_command(rest[0], command.commands, where)]
    line = _Line(
        where or "frameforge",
        {flag: not param.is_flag for param in _options(command) for flag in param.opts},
        {flag: param.multiple for param in _options(command) for flag in param.opts},
        _places(command),
        tuple(p.metavar for p in command.params if p.param_type_name == "argument" and p.required),
    )
    for flag in ("--help", "-h"):
        line.takes_value = {**line.takes_value, flag: False}
    _walk(line, rest)
    if hasattr(command, "commands") and line.words:
        line.fault(f'"{line.words[0]}" stands behind an option; a command comes first.')
    elif not hasattr(command, "commands"):
        _check_words(line)
    return line.faults


def _places(command: Any) -> int:
    """Return how many words a command takes without an option."""
    arguments = [param for param in command.params if param.param_type_name == "argument"]
    return sys.maxsize if any(param.nargs == -1 for param in arguments) else len(arguments)


def _options(command: Any) -> list[Any]:
    return [param for param in command.params if param.param_type_name == "option"]


def _no_command(word: str, known: Mapping[str, Any], where: str) -> InputError:
    """Return the fault of a word that is no command."""
    place = f"frameforge {where}".strip()
    if word.lower().endswith(_RECIPE) and "make" in known:
        return InputError(f"a file needs a command. Write frameforge make {word}", where=place, code="usage")
    near = difflib.get_close_matches(word.lower(), known, n=1, cutoff=0.5)
    offer = f"; the nearest is {near[0]}." if near else f". There are {', '.join(known)}."
    return InputError(f'no such command as "{word}"{offer}', where=place, code="usage")


def _walk(line: _Line, rest: list[str]) -> None:
    """Go through the words behind the command."""
    while rest:
        word = rest.pop(0)
        if word == "--":
            line.words += rest
            return
        if word.startswith("-") and len(word) > 1 and not re.match(r"-[\d.]", word):
            _walk_option(line, word, rest)
        elif line.last and (is_lone_unit(word) or _LOOSE.fullmatch(word)):
            _alone(line, [word, *_loose_words(rest)])
        else:
            line.words.append(word)


def _walk_option(line: _Line, word: str, rest: list[str]) -> None:
    """Take one option and its value."""
    flag, equals, value = word.partition("=")
    line.last = None
    line.given.add(flag)
    if flag not in line.takes_value:
        line.fault(_no_option(flag, line), flag)
        if not equals and rest and not rest[0].startswith("-") and not rest[0].lower().endswith(_RECIPE):
            rest.pop(0)
        return
    if not line.takes_value[flag]:
        if equals:
            line.fault("it is a switch and takes no value. Write it alone.", flag)
        return
    if not equals:
        if not rest or rest[0].startswith("--"):
            line.fault(f"its value is missing. Write {flag} and then the value.", flag)
            return
        value = rest.pop(0)
    elif value.startswith("--"):
        line.fault(f"its value is missing. Write {flag} and then the value.", flag)
    if flag in line.seen and not line.repeats.get(flag, False):
        line.fault(f"it stands here twice, with {line.seen[flag]} and {value}. Write it once.", flag)
    line.seen[flag] = value
    line.last = (flag, value)


def _no_option(flag: str, line: _Line) -> str:
    """Return the sentence for an option that the command does not have."""
    word = flag.lstrip("-")
    known = [option.lstrip("-") for option in line.takes_value if option.startswith("--")]
    near = nearest(word, known)
    if not near:
        return f"no such option. See all with: frameforge {line.where.removeprefix('frameforge')} --help".replace(
            "  ", " "
        )
    options = " or ".join(f"--{name}" for name in near)
    return (
        f"no such option; it is called {options}."
        if word.lower() in SYNONYMS
        else f"no such option; the nearest is {options}."
    )


def _loose_words(rest: list[str]) -> list[str]:
    """Return, and take off, the words that still belong to a length written without quotes."""
    taken: list[str] = []
    while rest and (_LOOSE.fullmatch(rest[0]) or is_lone_unit(rest[0])):
        taken.append(rest.pop(0))
    return taken


def _alone(line: _Line, words: list[str]) -> None:
    """Note words that stand alone behind a value, as in ``--size 100 mm`` without quotes."""
    assert line.last is not None
    flag, value = line.last
    alone, whole = " ".join(words), " ".join([value, *words])
    if len(words) == 1 and is_lone_unit(words[0]):
        say = f'Write {value}{alone} without a space, or "{whole}" in quotes.'
        line.fault(f'"{alone}" stands alone after {flag} {value}. {say}')
    else:
        quote = "'" if '"' in whole else '"'
        line.fault(f'"{alone}" stands alone after {flag} {value}. Write {quote}{whole}{quote} in quotes.')
    line.last = None


def _check_words(line: _Line) -> None:
    """Note words without an option that are too many, or no recipe where one belongs."""
    for word in line.words[line.places :]:
        line.fault("one word too many. Leave it out, or write the option it belongs to before it.", f'"{word}"')
    if len(line.words) < len(line.needed) and "--help" not in line.given and "-h" not in line.given:
        name = line.needed[len(line.words)]
        line.fault(f"{name} is missing. Write frameforge {line.where} {name}, with the name in its place.")
    if line.where == "make" and line.words and not line.words[0].lower().endswith(_RECIPE):
        word = line.words[0]
        say = f"a recipe ends in .toml, .svg or .dxf. For a motif write --motif {word}"
        line.fault(say, f'"{word}"')
