"""A command whose options come as they were typed."""

from __future__ import annotations

from typing import Any, Final

from typer.core import TyperCommand

__all__ = ["HELP_SETTINGS", "TypedCommand"]

HELP_SETTINGS: Final = {"help_option_names": ["--help", "-h"], "max_content_width": 80}
"""How every command, and every group of them, asks for and lays out its help."""

_ASKS_FOR_HELP: Final = ("--help", "-h")


class TypedCommand(TyperCommand):
    """Gives every option as the text it is, in a list where it may be repeated, and switches as True or False.

    The recipe checks the texts. typer would turn each text into a text by way of pydantic, which takes longer to load
    than a piece takes to be put together.
    """

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Put what was typed into the context; lines that ask for help, or are no sound lines, are left to typer."""
        if ctx.resilient_parsing or any(word in _ASKS_FOR_HELP for word in args):
            return super().parse_args(ctx, args)
        given, rest, _ = self.make_parser(ctx).parse_args(args=list(args))
        if rest or any(param.required and given.get(param.name or "") is None for param in self.params):
            return super().parse_args(ctx, args)
        ctx.params.update({param.name: _typed(param, given.get(param.name)) for param in self.params if param.name})
        return []

    def format_help(self, ctx: Any, formatter: Any) -> None:
        """Write the help without the names that Python has for what stands behind a word."""
        for param in self.params:
            if param.param_type_name == "argument":
                setattr(param, "display_type_rich", _no_type)  # noqa: B010  the stub has no such attribute
        super().format_help(ctx, formatter)


def _no_type(ctx: Any) -> str:
    return ""


def _typed(param: Any, given: Any) -> Any:
    """Return what stands for a parameter: the text or texts, True or False for a switch, None for nothing."""
    if param.multiple or param.nargs == -1:
        return list(given or ())
    return bool(given) if getattr(param, "is_flag", False) else given
