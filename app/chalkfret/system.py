"""What the machine itself must bring and pip cannot: shared libraries and a display.

Standard library only, because `python3 app` asks before anything is installed. Every answer is
a sentence for the user, or None where nothing is wrong. Linux alone is asked: the wheels bring
everything on other systems.
"""

import os
import sys
from collections.abc import Iterable

_WINDOW_PLATFORMS = {"", "xcb", "wayland", "wayland-egl"}

# Shared library -> Debian package, for what the Qt libraries of the wheel link to.
_DEBIAN = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libGLX.so.0": "libglx0",
    "libOpenGL.so.0": "libopengl0",
    "libICE.so.6": "libice6",
    "libSM.so.6": "libsm6",
    "libX11-xcb.so.1": "libx11-xcb1",
    "libX11.so.6": "libx11-6",
    "libdbus-1.so.3": "libdbus-1-3",
    "libdrm.so.2": "libdrm2",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libgssapi_krb5.so.2": "libgssapi-krb5-2",
    "libgthread-2.0.so.0": "libglib2.0-0",
    "libwayland-client.so.0": "libwayland-client0",
    "libwayland-cursor.so.0": "libwayland-cursor0",
    "libwayland-egl.so.1": "libwayland-egl1",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-render.so.0": "libxcb-render0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxcb.so.1": "libxcb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libz.so.1": "zlib1g",
    "libzstd.so.1": "libzstd1",
}

_QT_EVERYWHERE = (
    "lib/libQt6Widgets.so.6",
    "lib/libQt6Svg.so.6",
    "lib/libQt6PrintSupport.so.6",
    "plugins/platforms/libqoffscreen.so",
)
_QT_UNDER_X = ("plugins/platforms/libqxcb.so",)


def display_fault() -> str | None:
    """Say why no window can be opened here; None where one can."""
    if not sys.platform.startswith("linux"):
        return None
    platform = os.environ.get("QT_QPA_PLATFORM", "").split(":")[0].split(";")[0]
    if platform not in _WINDOW_PLATFORMS or os.environ.get("WAYLAND_DISPLAY"):
        return None
    name = os.environ.get("DISPLAY")
    if not name:
        return (
            "There is no display to open a window on: start Chalkfret from a desktop session, "
            "or set DISPLAY to one; `export`, `check` and `explain` work without."
        )
    if _x_answers():
        return None
    return (
        f"The display {name} does not answer: check DISPLAY and that you may use it, "
        "or start Chalkfret from a desktop session."
    )


def _x_answers() -> bool:
    """Qt aborts where X does not answer, so ask before it does."""
    import ctypes

    try:
        x = ctypes.CDLL("libX11.so.6")
    except OSError:
        return True  # the missing library is the fault to name, and it is asked for elsewhere
    x.XOpenDisplay.restype = ctypes.c_void_p
    x.XOpenDisplay.argtypes = [ctypes.c_char_p]
    x.XCloseDisplay.argtypes = [ctypes.c_void_p]
    display = x.XOpenDisplay(None)
    if display:
        x.XCloseDisplay(display)
    return bool(display)


def opens_under_x() -> bool:
    """True where Qt would open a window on an X display."""
    platform = os.environ.get("QT_QPA_PLATFORM")
    return platform == "xcb" or not (platform or os.environ.get("WAYLAND_DISPLAY"))


def missing_libraries(qt: str, under_x: bool) -> list[str]:
    """Shared libraries that Qt (its folder `qt`: lib, plugins) needs and this machine lacks."""
    import subprocess

    if not sys.platform.startswith("linux"):
        return []
    files = [*_QT_EVERYWHERE, *(_QT_UNDER_X if under_x else ())]
    present = [os.path.join(qt, name) for name in files]
    try:
        seen = subprocess.run(
            ["ldd", *filter(os.path.exists, present)], capture_output=True, text=True, check=False
        )
    except FileNotFoundError:
        return []  # no such tool here: the import itself will tell
    return sorted(
        {line.split()[0] for line in seen.stdout.splitlines() if line.endswith("=> not found")}
    )


def is_debian() -> bool:
    """Whether this is Debian or a system derived from it, with its names of packages."""
    try:
        with open("/etc/os-release", encoding="utf-8") as file:
            lines = file.read().splitlines()
    except OSError:
        return False
    facts = dict(line.replace('"', "").split("=", 1) for line in lines if "=" in line)
    return "debian" in (facts.get("ID"), *facts.get("ID_LIKE", "").split())


def debian_packages(libraries: Iterable[str]) -> list[str]:
    """The Debian packages that bring these libraries; [] elsewhere or where one is not known."""
    if not is_debian():
        return []
    names = set()
    for library in libraries:
        if library not in _DEBIAN:
            return []
        names.add(_DEBIAN[library])
    return sorted(names)


def libraries_sentence(libraries: Iterable[str]) -> str:
    """Name the missing libraries and the remedy in one sentence."""
    libraries = sorted(libraries)
    packages = debian_packages(libraries)
    if packages:
        return (
            "The window system's libraries are missing: "
            f"install them with `sudo apt-get install {' '.join(packages)}`."
        )
    return (
        "The window system's libraries are missing: install the packages of your system that "
        f"bring {', '.join(libraries)}."
    )


def library_fault(error: ImportError) -> str | None:
    """The same for an import that failed for want of a library; None where that was not why."""
    library, lacks, _rest = str(error).partition(": cannot open shared object file")
    return libraries_sentence([library]) if lacks else None
