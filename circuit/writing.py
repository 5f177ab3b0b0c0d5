"""Files written whole or not at all: under another name first, and by one rename to their own.

A run that is killed, or a disk that is full, leaves what was there before.
"""

import os

TYPE_CHECKING = False  # as typing has it, which `--help` does not wait for
if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

MARK = ".airwright-"
"""How names begin of what is not whole yet."""


def write(path: str | os.PathLike[str], content: str | bytes) -> None:
    """Writes a file whole. Raises OSError and leaves what was there where it cannot."""
    import tempfile

    data = content.encode("utf-8", "surrogateescape") if isinstance(content, str) else content
    target = os.path.realpath(path)  # a link stays a link
    if os.path.exists(target) and not os.path.isfile(target):
        with open(target, "wb") as device:  # a pipe or a device keeps nothing that could be lost
            device.write(data)
        return
    handle, beside = tempfile.mkstemp(dir=os.path.dirname(target), prefix=MARK)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(beside, _mode(target))
        os.replace(beside, target)
    except BaseException:
        _forget(beside)
        raise


def write_folder(folder: str, files: "Mapping[str, bytes]", gone: "Collection[str]" = ()) -> None:
    """Writes a set of files as one: a folder beside takes the place of the old one when all of it is there.

    What the old folder holds that is not of the set stays in it, but for the files `gone`.
    Raises OSError where it cannot be written.
    """
    import shutil
    import tempfile

    target = os.path.realpath(folder)
    os.makedirs(os.path.dirname(target), exist_ok=True)
    beside = tempfile.mkdtemp(dir=os.path.dirname(target), prefix=MARK)
    try:
        for name, content in files.items():
            with open(os.path.join(beside, name), "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
        os.chmod(beside, _mode(target) if os.path.isdir(target) else 0o777 & ~_mask())
        _take_over(target, beside, {*files, *gone})
        _exchange(beside, target)
    finally:
        shutil.rmtree(beside, ignore_errors=True)


def refusal(path: str) -> str:
    """Why a file could not be written, found out before there is anything to write; or nothing."""
    target = os.path.realpath(path)
    folder = os.path.dirname(target)
    if os.path.isdir(target):
        return f"{path} is a folder"
    if os.path.exists(target) and not os.path.isfile(target):
        return ""
    if not os.path.isdir(folder):
        return f"{path} cannot be written: there is no folder {os.path.dirname(path) or folder}"
    return _tried(folder, path)


def folder_refusal(path: str) -> str:
    """Why a set of files could not be written as this folder, or nothing."""
    target = os.path.realpath(path)
    if os.path.exists(target) and not os.path.isdir(target):
        return f"{path} is a file, and a folder is to be written"
    above = os.path.dirname(target)
    while not os.path.exists(above):
        above = os.path.dirname(above)
    return _tried(above, path) if os.path.isdir(above) else f"{path} cannot be written: {above} is a file"


def _tried(folder: str, path: str) -> str:
    import tempfile

    try:
        handle, beside = tempfile.mkstemp(dir=folder, prefix=MARK)
        os.close(handle)
        os.unlink(beside)
    except OSError as trouble:
        return f"{path} cannot be written: {(trouble.strerror or str(trouble)).lower()}"
    return ""


def _take_over(old: str, new: str, but: "Collection[str]") -> None:
    """What the old folder has beside the set comes along, by further links where the disk knows them."""
    import shutil

    if not os.path.isdir(old):
        return
    for name in os.listdir(old):
        here, there = os.path.join(old, name), os.path.join(new, name)
        if name in but:
            continue
        if os.path.isdir(here) and not os.path.islink(here):
            shutil.copytree(here, there, symlinks=True)
        else:
            shutil.copy2(here, there, follow_symlinks=False)


def _exchange(new: str, target: str) -> None:
    """The new folder in the place of the old one: in one step where the system can, else in two renames."""
    import shutil

    if not os.path.isdir(target):
        os.rename(new, target)
    elif not _exchanged(new, target):
        away = f"{new}-old"
        os.rename(target, away)
        try:
            os.rename(new, target)
        except BaseException:
            os.rename(away, target)
            raise
        shutil.rmtree(away, ignore_errors=True)


def _exchanged(one: str, other: str) -> bool:
    """Whether the names of two folders were exchanged in one step: renameat2 of Linux, which Python does not have."""
    import ctypes

    here, at_once = -100, 2  # AT_FDCWD, RENAME_EXCHANGE of linux/fs.h
    try:
        call = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError, TypeError):
        return False
    return bool(call(here, os.fsencode(one), here, os.fsencode(other), at_once) == 0)


def _mode(path: str) -> int:
    """The permissions that a file has, or that a new one gets."""
    try:
        return os.stat(path).st_mode & 0o7777
    except OSError:
        return 0o666 & ~_mask()


def _mask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _forget(path: str) -> None:
    try:
        os.unlink(path)
    except OSError:
        pass
