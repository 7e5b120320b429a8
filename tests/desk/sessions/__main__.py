"""Play the sessions of a seed again: ``python -m tests.desk.sessions "SEED"``."""

import faulthandler
import os
import sys
import tempfile
import traceback
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


def told(what: str) -> None:
    """At once: where the program crashes or hangs, the last line says after what."""
    print(f"  {what}", flush=True)


def main(seed: str) -> int:
    faulthandler.enable()
    with tempfile.TemporaryDirectory() as folder:
        for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"):
            os.environ[name] = folder
        from PySide6.QtCore import QCoreApplication, QEvent
        from PySide6.QtTest import QTest

        from chalkfret.desk.app import application
        from chalkfret.desk.look import Look
        from chalkfret.desk.settings import open_settings
        from chalkfret.desk.window import Window
        from tests.desk.sessions.playing import Player, SessionFailed
        from tests.desk.test_sessions import SESSIONS

        app = application()
        window = Window(Look(app), open_settings())
        window.show()
        QTest.qWaitForWindowExposed(window)
        player = Player(window, seed, Path(folder), told)
        try:
            for number in range(SESSIONS):
                print(f"Session {number}", flush=True)
                player.play(number)
        except SessionFailed as failed:
            traceback.print_exception(failed.__cause__)
            print(failed)
            return 1
        finally:
            window.document.undo_stack.setClean()
            window.close()
            window.deleteLater()
            QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        print(f"{SESSIONS} sessions, nothing failed.")
        return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
