"""The kept report: how many mutants were killed, how, and every survivor with what is known of it."""

from __future__ import annotations

import platform
import subprocess
import tomllib
from collections import Counter
from importlib.metadata import version
from pathlib import Path

from child import Outcome
from mutants import FOLDERS, ROOT, Mutant

__all__ = ["WANTED", "share_killed", "write_report"]

HERE = Path(__file__).parent
WANTED = 0.85
"""Least share of the mutants that the tests must notice; survivors said to be equal count as survivors all the same."""
KILLED = ("killed", "time", "import")


def share_killed(done: list[tuple[Mutant, Outcome]]) -> float:
    """Return the share of the mutants that were killed, 0 to 1."""
    return sum(result.kind in KILLED for _, result in done) / len(done) if done else 0.0


def write_report(seed: int, done: list[tuple[Mutant, Outcome]]) -> None:
    """Write REPORT.md; what is known of survivors stands in notes.toml, by the mutant's name."""
    notes = tomllib.loads((HERE / "notes.toml").read_text(encoding="utf-8"))
    lines = [*_head(seed, done, notes), *_by_folder(done), *_survivors(done, notes)]
    (HERE / "REPORT.md").write_text("\n".join(lines) + "\n", encoding="utf-8")


def _head(seed: int, done: list[tuple[Mutant, Outcome]], notes: dict[str, str]) -> list[str]:
    tools = ", ".join(f"{name} {version(name)}" for name in ("cosmic-ray", "coverage", "pytest", "shapely", "numpy"))
    cpu_s = sum(result.cpu_s for _, result in done)
    run = subprocess.run(["git", "rev-parse", "--short", "HEAD"], cwd=ROOT, capture_output=True, text=True, check=False)
    return [
        "# Mutants",
        "",
        "Written by `python tests/mutation/mutate.py`; not by hand.",
        "",
        f"Seed {seed}, {len(done)} mutants of different places in {', '.join(f'`{name}/`' for name in FOLDERS)}. "
        f"Source as of {run.stdout.strip()}. Python {platform.python_version()}, {tools}. {cpu_s / 60:.0f} min of CPU.",
        f"Killed: **{share_killed(done):.1%}** (wanted: {WANTED:.0%}). Those that change nothing count as survivors.",
        f"In the first pass, before any test was written with this sample in view: **{_first_share(done):.1%}**. "
        f"Without {_equal(done, notes)} that are known to be equal: {_share_of_unequal(done, notes):.1%}.",
        "",
    ]


def _first_share(done: list[tuple[Mutant, Outcome]]) -> float:
    """Return the share that was killed in the first pass."""
    return share_killed([(mutant, Outcome(result.first or result.kind)) for mutant, result in done])


def _is_equal(mutant: Mutant, result: Outcome, notes: dict[str, str]) -> bool:
    """Return whether a survivor is known to do the same as the source, whatever it is given."""
    return result.kind not in KILLED and notes.get(mutant.name, "").startswith("Equal: ")


def _equal(done: list[tuple[Mutant, Outcome]], notes: dict[str, str]) -> int:
    return sum(_is_equal(mutant, result, notes) for mutant, result in done)


def _share_of_unequal(done: list[tuple[Mutant, Outcome]], notes: dict[str, str]) -> float:
    return share_killed([(mutant, result) for mutant, result in done if not _is_equal(mutant, result, notes)])


def _by_folder(done: list[tuple[Mutant, Outcome]]) -> list[str]:
    lines = [
        "| folder | mutants | killed by a test | at import | by the time limit | survived | no test | killed |",
        "|---|---|---|---|---|---|---|---|",
    ]
    for folder in FOLDERS:
        part = [(mutant, result) for mutant, result in done if mutant.folder == folder]
        kinds = Counter(result.kind for _, result in part)
        counts = [kinds[kind] for kind in ("killed", "import", "time", "survived", "no test")]
        told = " | ".join(map(str, counts))
        lines.append(f"| `{folder}/` | {len(part)} | {told} | {share_killed(part):.1%} |")
    return lines


def _survivors(done: list[tuple[Mutant, Outcome]], notes: dict[str, str]) -> list[str]:
    lines = [
        "",
        "## Survivors",
        "",
        "| mutant | where | the line, and what became of it | what is known |",
        "|---|---|---|---|",
    ]
    for mutant, result in sorted(done, key=lambda each: (each[0].path, each[0].line)):
        if result.kind not in KILLED:
            change = f"`{_cell(mutant.before)}` -> `{_cell(mutant.after)}`"
            where = f"{mutant.path.removeprefix('frameforge/')}:{mutant.line}"
            lines.append(f"| {mutant.name} | {where} | {change} | {notes.get(mutant.name, '')} |")
    return lines


def _cell(text: str) -> str:
    return text.replace("|", "\\|")
