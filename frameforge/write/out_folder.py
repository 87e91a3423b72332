"""The folder that results go to: whole pieces or nothing, and never over a file that is not ours.

The unit is the piece. All its files are first written beside their places under names of their own, then renamed into
place one after the other. ``run.json`` comes last: a piece counts as made once it is listed there. A file is ours when
its marker agrees with its content, or when ``run.json`` lists its digest; one that was edited since is not.

Several runs may write into one folder at once: they take turns, piece by piece, and the last of two pieces of one name
stays, as if one run had followed the other.
"""

from __future__ import annotations

import os
import secrets
import shutil
import stat
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from frameforge.errors import FileError
from frameforge.write.file_fault import file_fault
from frameforge.write.marker import digest, is_marked
from frameforge.write.one_file import make_folder
from frameforge.write.run_record import RECORD_NAME, MadePiece, read_record, record_text
from frameforge.write.turn import turn
from frameforge.write.undisturbed import undisturbed

__all__ = ["OutFile", "OutFolder", "PieceFiles"]

_PART: Final = ".frameforge-"
_MAY_BE_WRITTEN: Final = stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH
_KEPT: Final = "this file may only be read. Choose another folder with --out, or replace it with --force."
_NOT_OURS: Final = (
    "frameforge did not write this file and leaves it alone. "
    "Choose another folder with --out, or replace it with --force."
)


@dataclass(frozen=True, slots=True)
class OutFile:
    """One file to write: its plain name and its bytes."""

    name: str
    data: bytes

    def __post_init__(self) -> None:
        """Refuse a name that would lead out of the folder or be taken for a file in the making."""
        if self.name in ("", ".", "..") or set(self.name) & set("/\\\0") or self.name.startswith(_PART):
            raise ValueError(f"{self.name!r} is not the plain name of a file")


@dataclass(frozen=True, slots=True)
class PieceFiles:
    """The files of one piece, which appear together."""

    name: str
    files: tuple[OutFile, ...]

    def __post_init__(self) -> None:
        """Refuse two files of one name."""
        if len({file.name for file in self.files}) != len(self.files):
            raise ValueError(f"{self.name}: two files of one name")


@dataclass(frozen=True, slots=True)
class OutFolder:
    """An open folder: where it is, whether foreign files may be replaced, what earlier runs made there.

    A plain value: workers may be handed a copy and ``put`` pieces; opening and ``finish`` are for the one who runs all.
    """

    path: Path
    force: bool = False
    earlier: tuple[MadePiece, ...] = ()

    @classmethod
    def open(cls, path: Path, *, force: bool = False) -> OutFolder:
        """Return the folder ready to write to: made if need be, rid of what a killed run left half done.

        Raises FileError when it cannot be made or read, or holds a run.json that is not ours.
        """
        try:
            make_folder(path)
            with turn(path):
                # No other run is putting a piece in place now, so these belong to none that is alive.
                for rest in path.glob(f"{_PART}*"):
                    _forget(rest)
                folder = cls(path, force, _listed(path))
        except OSError as fault:
            raise file_fault(path, fault) from fault
        folder.claim([RECORD_NAME])
        return folder

    def claim(self, names: Iterable[str]) -> None:
        """Make sure that files of these names may be written, before any of them is made.

        Raises FileError, a line for each file that is not ours (unless ``force``) and each folder of that name.
        """
        faults = [fault for name in names if (fault := self._refusal(name)) is not None]
        if faults:
            raise FileError.from_many(list(faults))

    def put(self, piece: PieceFiles) -> MadePiece:
        """Write the files of one piece, all or none, and return what ``finish`` lists.

        Raises FileError as ``claim`` does and when the disk refuses; then the folder is as it was before.
        """
        try:
            with turn(self.path):
                self._put(piece)
        except OSError as fault:
            raise file_fault(self.path, fault) from fault
        return MadePiece(piece.name, tuple((file.name, digest(file.data)) for file in piece.files))

    def _put(self, piece: PieceFiles) -> None:
        """Write the files of a piece, all or none; raises as ``claim``, and OSError."""
        self.claim(file.name for file in piece.files)
        token = f"{_PART}{os.getpid()}-{secrets.token_hex(4)}"
        parts = [self.path / f"{token}-{k}" for k in range(len(piece.files))]
        try:
            for file, part in zip(piece.files, parts, strict=True):
                part.write_bytes(file.data)
            with undisturbed():
                _into_place([(part, self.path / file.name) for file, part in zip(piece.files, parts, strict=True)])
        finally:
            with undisturbed():
                for part in parts:
                    _forget(part)

    def finish(self, made: Iterable[MadePiece], versions: Mapping[str, str]) -> Path:
        """Write run.json, listing ``made`` behind what other runs made and is still there; return its path.

        Raises FileError as ``put`` does.
        """
        try:
            with turn(self.path):
                # What another run has listed since this one began stays listed.
                now = OutFolder(self.path, self.force, _merged(self.earlier, _listed(self.path)))
                new = now._as_listed(tuple(made), self.earlier)
                text = record_text((*now._still_there(new), *new), versions)
                now._put(PieceFiles(RECORD_NAME, (OutFile(RECORD_NAME, text.encode("utf-8")),)))
        except OSError as fault:
            raise file_fault(self.path, fault) from fault
        return self.path / RECORD_NAME

    def _refusal(self, name: str) -> FileError | None:
        """Return why a file of this name may not be written, or None when it may."""
        place = self.path / name
        if place.is_dir():
            say = "a folder has this name. Choose another folder with --out."
            return FileError(say, where=place.as_posix(), code="not-ours")
        if self.force or not os.path.lexists(place):
            return None
        try:
            if place.is_file() and not place.stat().st_mode & _MAY_BE_WRITTEN:
                return FileError(_KEPT, where=place.as_posix(), code="not-ours")
            data = place.read_bytes() if place.is_file() else b""
        except OSError as fault:
            return file_fault(place, fault)
        if is_marked(data) or self._lists(name, digest(data)):
            return None
        return FileError(_NOT_OURS, where=place.as_posix(), code="not-ours")

    def _lists(self, name: str, of: str) -> bool:
        """Whether an earlier run lists a file of this name and digest."""
        return any((name, of) in piece.files for piece in self.earlier)

    def _as_listed(self, made: tuple[MadePiece, ...], before: tuple[MadePiece, ...]) -> tuple[MadePiece, ...]:
        """Return the pieces made; where another run has put and listed a file of its own since, that file is listed."""
        known = {entry for piece in before for entry in piece.files}
        others = dict(entry for piece in self.earlier for entry in piece.files if entry not in known)

        def there(name: str, of: str) -> tuple[str, str]:
            theirs, place = others.get(name, of), self.path / name
            is_theirs = theirs != of and place.is_file() and digest(place.read_bytes()) == theirs
            return name, theirs if is_theirs else of

        return tuple(MadePiece(piece.name, tuple(there(*entry) for entry in piece.files)) for piece in made)

    def _still_there(self, new: tuple[MadePiece, ...]) -> tuple[MadePiece, ...]:
        """Return the earlier pieces without those made anew, and without files that have gone or been replaced."""
        replaced = {name for piece in new for name, _ in piece.files}
        names = {piece.name for piece in new}
        kept = []
        for piece in self.earlier:
            files = tuple(
                (name, of) for name, of in piece.files if name not in replaced and (self.path / name).is_file()
            )
            if files and piece.name not in names:
                kept.append(MadePiece(piece.name, files))
        return tuple(kept)


def _listed(folder: Path) -> tuple[MadePiece, ...]:
    """Return what the run.json of a folder lists, nothing where there is none. Raises OSError and FileError."""
    record = folder / RECORD_NAME
    try:
        return read_record(record.read_bytes()) if record.is_file() else ()
    except PermissionError as fault:
        say = "you may not read what earlier runs made here. Choose another folder with --out."
        raise FileError(say, where=record.as_posix(), code="cannot-read") from fault


def _merged(earlier: tuple[MadePiece, ...], now: tuple[MadePiece, ...]) -> tuple[MadePiece, ...]:
    """Return what is listed now, and what was listed when a run began and nothing has taken the place of since."""
    pieces, names = {piece.name for piece in now}, {name for piece in now for name, _ in piece.files}
    rest = (
        MadePiece(piece.name, tuple(entry for entry in piece.files if entry[0] not in names))
        for piece in earlier
        if piece.name not in pieces
    )
    return (*now, *(piece for piece in rest if piece.files))


def _into_place(moves: list[tuple[Path, Path]]) -> None:
    """Rename each first path to the second one; when one refuses, put back what was there before and raise OSError."""
    done: list[tuple[Path | None, Path]] = []
    try:
        for part, place in moves:
            spare = _spare_copy(part, place)
            done.append((spare, place))
            os.replace(part, place)
    except BaseException:
        for (spare, place), (part, _) in zip(reversed(done), reversed(moves[: len(done)]), strict=True):
            _undo(spare, place, is_moved=not part.exists())
        raise
    for spare, _ in done:
        if spare is not None:
            _forget(spare)


def _undo(spare: Path | None, place: Path, *, is_moved: bool) -> None:
    """Put back what was at ``place`` before a part was moved there; the last part may not have been."""
    if is_moved and spare is not None:
        os.replace(spare, place)
    elif spare is not None:
        _forget(spare)  # a second name of what still is at place; renaming one to the other would do nothing
    elif is_moved:
        _forget(place)


def _spare_copy(part: Path, place: Path) -> Path | None:
    """Return a second name for the file at ``place``, or a copy where the disk knows no second names; None if none."""
    if not os.path.lexists(place):
        return None
    spare = part.with_name(f"{part.name}-before")
    try:
        os.link(place, spare)
    except OSError:
        shutil.copy2(place, spare)
    return spare


def _forget(path: Path) -> None:
    """Remove a file that may not be there; one that cannot be removed stays for the next run to clear away."""
    try:
        path.unlink(missing_ok=True)
    except OSError:
        return
