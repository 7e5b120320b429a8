"""Everything in the window has a name that can be read, and what can be pressed has a role."""

from PySide6.QtGui import QAccessible

from tests.desk.access.tour import Tour
from tests.desk.access.tree import CONTROLS, ROLE, description, interface, label_of, name, walk

_READ_BY_CONTENT = {ROLE.Cell, ROLE.ListItem, ROLE.TreeItem}  # an empty cell of a list is empty


def nameless(root):
    """Controls, and all that the focus can come to, without a name."""
    found = []
    for one in walk(interface(root)):
        role = one.role()
        if role in _READ_BY_CONTENT or not (role in CONTROLS or one.state().focusable):
            continue
        words = name(one)
        if role is ROLE.ComboBox:
            # On Unix Qt gives the chosen words as the name of a list, and its name by a label.
            words = label_of(one) or description(one)
        if not words.strip() or "&" in words.replace("&&", ""):
            found.append(f"{role.name} {words!r} of {type(one.object()).__name__} {value_of(one)}")
    return found


def value_of(one):
    return one.text(QAccessible.Text.Value)[:30]


def test_everything_that_can_be_used_has_a_name(window, monkeypatch, tmp_path):
    bad = {}
    tour = Tour(window, lambda scene, root: bad.update({scene: nameless(root)}), monkeypatch)
    tour.pages(tmp_path / "bad.chalkfret")
    tour.actions()
    assert len(bad) > 8, "the tour has seen little"
    found = [f"{scene}: {one}" for scene, some in bad.items() for one in some]
    assert not found, "\n".join(found)
