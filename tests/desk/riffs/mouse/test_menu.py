"""The menu under the right button"""

from PySide6.QtWidgets import QWidget

from chalkfret.desk.riffs.mouse.menu import grid_menu


def test_each_way_to_cut_the_beat_says_its_own_number_of_steps(qtbot):
    owner, cut = QWidget(), []
    qtbot.addWidget(owner)
    menus = [action.menu() for action in grid_menu(owner, cut.append).actions()]
    (steps,) = (menu for menu in menus if menu is not None and "beat" in menu.title())
    for action in steps.actions():
        action.trigger()
    assert cut == list(range(1, 10))
