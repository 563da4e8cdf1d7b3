"""What can go wrong with a whole document.  A smaller doubt is a Finding, not an error.

    ConvertError
      JobError          the job file or an option is wrong
      SourceError       the source cannot be opened or is not what it says
      ConventionError   a row of a layout convention is wrong
      PluginError       a plugin is missing, clashes with another, or failed
        UnknownNameError  an option names one that is not installed (a JobError as well)
      Bug               one of the program's own promises failed

Every message is two sentences at most: what is wrong and where, then the next step.
"""

from __future__ import annotations

import errno


class ConvertError(Exception):
    """The document cannot be converted; ``step`` says what the person should do next."""

    def __init__(self, what: str, step: str = "") -> None:
        super().__init__(f"{what} {step}".strip())
        self.what = what
        self.step = step


class JobError(ConvertError):
    """The job file, or an option given on the command line, is wrong."""


class SourceError(ConvertError):
    """The source cannot be opened, is protected, or is not what its name says."""


class ConventionError(ConvertError):
    """A layout convention has a row the program does not understand."""


class PluginError(ConvertError):
    """A plugin is missing, two claim the same name, or one failed; names the distribution."""


class UnknownNameError(PluginError, JobError):
    """An option names a code, a format or another plugin that is not installed."""


class Bug(ConvertError):
    """An invariant of the program failed: not the reader's fault, please report it."""

    def __init__(self, what: str) -> None:
        super().__init__(what, "This is a fault of the program: please report it.")


# What an operating system calls in its own words.
_PLAIN = {
    errno.EACCES: "this account has no permission",
    errno.EPERM: "this account has no permission",
    errno.ENOENT: "there is no such file or folder",
    errno.EEXIST: "a file of this name is in the way",
    errno.ENOTDIR: "a file stands where its path needs a folder",
    errno.EISDIR: "it is a folder",
    errno.ENOTEMPTY: "another program writes there at the same time",
    errno.EROFS: "the disk can only be read",
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the room for this account is used up",
    errno.EFBIG: "a file would be too large for this disk",
    errno.ENAMETOOLONG: "a name is too long for this disk",
    errno.EMFILE: "too many files are open",
    errno.EIO: "the disk has a fault",
}


def why(error: Exception) -> str:
    """Why a file cannot be read or written, in plain words."""
    if isinstance(error, OSError):
        return _PLAIN.get(error.errno or 0, (error.strerror or str(error)).lower())
    return "it is not UTF-8 text" if isinstance(error, UnicodeDecodeError) else str(error)
