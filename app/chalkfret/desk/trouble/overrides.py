"""Methods that Qt calls let nothing out: PySide crashes on what they raise.

Measured with PySide6 6.8.3 to 6.11.3, which keeps or prints what an override of a virtual method
raises, and writes the method's name into the message:

- before Python 3.12 all of them crash where C code raised (``int("x")``, ``()[1]``, ``1 / 0``):
  there is no exception object yet, and the bare text is taken for it;
- 6.10.3 and 6.11.3, on every Python from 3.11 to 3.13: two overrides that raise in one call from
  Python spoil the memory, and the program crashes when it is next tidied up.

So every method of ours that overrides one of Qt hands what it raises to ``sys.excepthook`` by
itself, and answers what Qt itself would have. The collector is the usual way to such a crash: it
empties a window in a cycle before Qt destroys it, and Qt calls what has no attributes any more.
"""

from __future__ import annotations

import inspect
import sys
from collections.abc import Callable
from functools import cache, partial, update_wrapper, wraps
from types import FunctionType
from typing import Any, Final, cast

from PySide6.QtCore import QObject

_OPEN: Final = inspect.CO_VARARGS | inspect.CO_VARKEYWORDS
_WRAPPED: Final = QObject.__mro__[-2]  # what every class of Qt is for Python, QObject or not
_HANDLED: Final = ("event", "eventFilter")  # Qt's own would hand the event out a second time

Broken = Callable[..., Any]
"""What is answered instead: from the exception and the arguments."""


def mend() -> None:
    """From now on the overrides of every new class are mended."""
    _WRAPPED.__init_subclass__ = classmethod(_mend_class)  # type: ignore[assignment, arg-type]


def _mend_class(kind: type, **_more: Any) -> None:
    for name, method in tuple(vars(kind).items()):
        if isinstance(method, FunctionType) and not name.startswith("__") and _is_of_qt(kind, name):
            setattr(kind, name, mended(method, partial(_broken, kind, name)))


def _is_of_qt(kind: type, name: str) -> bool:
    return any(name in vars(base) for base in kind.__mro__ if base.__module__[:8] == "PySide6.")


def _broken(kind: type, name: str, error: Exception, one: object, *arguments: Any) -> Any:
    """Report the error; what the class above answers, or nothing for the handler of an event."""
    if not _is_being_taken_apart(error):
        sys.excepthook(type(error), error, error.__traceback__)
        if name.endswith("Event"):
            return None
        if name in _HANDLED:
            return False
    try:
        return getattr(super(kind, one), name)(*arguments)
    except Exception:  # Qt has no answer of its own
        raise error from None


def _is_being_taken_apart(error: Exception) -> bool:
    """Whether what lacks an attribute has none left: the collector is at it."""
    return isinstance(error, AttributeError) and getattr(error.obj, "__dict__", None) == {}


def mended(method: FunctionType, broken: Broken) -> FunctionType:
    """The method with the same arguments: PySide counts those of a slot."""
    code = method.__code__
    if code.co_flags & _OPEN or code.co_kwonlyargcount:
        return _mended_open(method, broken)
    call = _maker(code.co_argcount)(method, broken)
    names = code.co_varnames[: code.co_argcount]
    call.__code__ = call.__code__.replace(co_varnames=(*names, "error"))
    call.__defaults__ = method.__defaults__
    update_wrapper(call, method)
    return call


def _mended_open(method: FunctionType, broken: Broken) -> FunctionType:
    @wraps(method)
    def call(*args: Any, **more: Any) -> Any:
        try:
            return method(*args, **more)
        except Exception as error:
            return broken(error, *args)

    return cast(FunctionType, call)


@cache
def _maker(count: int) -> Callable[[FunctionType, Broken], FunctionType]:
    """Makes a function of so many arguments that calls another one."""
    names = ", ".join(f"a{number}" for number in range(count))
    lines = (
        "def make(method, broken):",
        f"    def call({names}):",
        "        try:",
        f"            return method({names})",
        "        except Exception as error:",
        f"            return broken(error, {names})",
        "    return call",
    )
    made: dict[str, Any] = {}
    exec(compile("\n".join(lines), __file__, "exec"), made)
    maker: Callable[[FunctionType, Broken], FunctionType] = made["make"]
    return maker
