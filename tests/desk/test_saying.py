"""Lines that say something where it happens"""

import pytest
from PySide6.QtWidgets import QVBoxLayout, QWidget

from chalkfret.desk.pieces.saying import Saying


@pytest.mark.parametrize("keeps_room", [False, True])
def test_without_a_parent_it_opens_no_window_of_its_own(qtbot, look, keeps_room):
    saying = Saying(look, keeps_room)
    qtbot.addWidget(saying)
    assert not saying.isVisible()


@pytest.mark.parametrize("keeps_room", [False, True])
def test_silent_it_takes_room_only_where_it_keeps_it(qtbot, look, keeps_room):
    parent = QWidget()
    qtbot.addWidget(parent)
    saying = Saying(look, keeps_room)
    QVBoxLayout(parent).addWidget(saying)
    parent.show()
    assert saying.isVisible() == keeps_room
    saying.say("This key is taken.", loud=True)
    assert saying.isVisible()
    saying.say("")
    assert saying.isVisible() == keeps_room
