"""Qt without a screen says one thing again and again; what else it says is of interest."""

import sys

NOISE = tuple(f"This plugin does not support {what}()" for what in ("propagateSizeHints", "raise"))


def leave_out_noise() -> None:
    """Let Qt's messages through, but for what its offscreen platform always says."""
    from PySide6.QtCore import qInstallMessageHandler

    def say(_kind: object, _where: object, text: str) -> None:
        if text not in NOISE:
            print(text, file=sys.stderr)

    qInstallMessageHandler(say)
