"""The style sheet of our controls, over Qt's plain style: quiet lines, blue for what is pressed.

There is this one alone: another one of a page, set anew when the palette changes, would give the
page's labels back the colours that they had before.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from chalkfret.places import RESOURCES

if TYPE_CHECKING:
    from chalkfret.desk.look import Colours

# {u}: a unit; {h}: half; {q}: quarter; colours by their names.
_SHEET = """
QMainWindow, QDialog {{ background: {panel}; }}
QToolTip {{ background: {surface}; color: {ink}; border: 1px solid {lines}; padding: {q}px {h}px; }}

QMenuBar {{ background: {panel}; padding: {q}px {h}px; }}
QMenuBar::item {{ padding: {q}px {u}px; background: transparent; }}
QMenuBar::item:selected {{ background: {surface}; color: {blue}; }}
QMenu {{ background: {surface}; border: 1px solid {lines}; padding: {h}px 0; }}
QMenu::item {{ padding: {q}px {u3}px {q}px {u2}px; border-left: {mark}px solid transparent; }}
QMenu::item:selected {{ background: {panel}; color: {blue}; border-left: {mark}px solid {ochre}; }}
QMenu::item:disabled {{ color: {soft}; }}
QMenu::separator {{ height: 1px; background: {lines}; margin: {h}px {u}px; }}
QMenu::indicator {{ width: {u}px; height: {u}px; left: {h}px; }}

QLineEdit, QPlainTextEdit, QTextEdit, QComboBox, QAbstractSpinBox {{
    background: {surface}; color: {ink}; border: 1px solid {edge}; border-radius: 3px;
    padding: {q}px {h}px; selection-background-color: {blue}; selection-color: {surface};
    placeholder-text-color: {soft};
}}
QLineEdit:focus, QPlainTextEdit:focus, QTextEdit:focus, QComboBox:focus, QAbstractSpinBox:focus {{
    border: 3px solid {blue}; padding: {q2}px {h2}px;
}}
QLineEdit:disabled, QComboBox:disabled, QPlainTextEdit:disabled {{
    color: {soft}; background: {panel};
}}
QComboBox::drop-down {{ border: none; width: {u2}px; }}
QComboBox::down-arrow {{ image: none; width: 0; height: 0; margin-right: {h}px;
    border-left: {h}px solid {surface}; border-right: {h}px solid {surface};
    border-top: {h}px solid {blue}; }}
QComboBox QAbstractItemView {{ background: {surface}; border: 1px solid {lines}; outline: none;
    selection-background-color: {blue}; selection-color: {surface}; }}

QPushButton, QToolButton {{
    background: transparent; color: {blue}; border: 1px solid {lines}; border-radius: 3px;
    padding: {q}px {u}px;
}}
QToolButton {{ padding: {q}px {h}px; }}
QPushButton:hover, QToolButton:hover {{ border-color: {blue}; }}
QPushButton:focus, QToolButton:focus {{ border: 2px solid {blue}; padding: {q1}px {u1}px; }}
QToolButton:focus {{ padding: {q1}px {h1}px; }}
QPushButton:pressed, QToolButton:pressed, QToolButton:checked {{
    background: {blue}; color: {surface};
}}
QPushButton:disabled, QToolButton:disabled {{ color: {soft}; border-color: {lines}; }}
QPushButton:default {{ border-color: {blue}; }}

QCheckBox, QRadioButton {{ spacing: {h}px; padding: 1px; border: 2px solid transparent; }}
QCheckBox:focus, QRadioButton:focus {{ border: 2px solid {blue}; border-radius: 3px; }}
QLabel[readable="true"] {{ border: 2px solid transparent; }}
QLabel[readable="true"]:focus {{ border: 2px solid {blue}; border-radius: 3px; }}
QCheckBox::indicator, QRadioButton::indicator {{
    width: {box}px; height: {box}px; border: 1px solid {soft}; background: {surface};
}}
QRadioButton::indicator {{ border-radius: {box_half}px; }}
QCheckBox::indicator {{ border-radius: 2px; }}
QCheckBox::indicator:checked, QRadioButton::indicator:checked {{
    background: {blue}; border-color: {blue};
}}
QCheckBox::indicator:checked {{ image: url({tick}); }}
QCheckBox::indicator:hover, QRadioButton::indicator:hover {{ border-color: {blue}; }}

QScrollBar {{ background: transparent; border: none; margin: 0; }}
QScrollBar:horizontal {{ height: {u1h}px; }}
QScrollBar:vertical {{ width: {u1h}px; }}
QScrollBar::handle {{ background: {edge}; border-radius: {q}px; margin: 2px; }}
QScrollBar::handle:hover {{ background: {soft}; }}
QScrollBar::handle:horizontal {{ min-width: {u4}px; }}
QScrollBar::handle:vertical {{ min-height: {u4}px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}

#line {{ background: {lines}; }}
QTableCornerButton::section {{ background: {panel}; border: none; }}
QSplitter::handle {{ background: {lines}; }}
QAbstractScrollArea {{ border: none; }}
QAbstractScrollArea::corner {{ background: {panel}; border: none; }}
QPlainTextEdit {{ border: 1px solid {edge}; }}
QPlainTextEdit:focus {{ border: 3px solid {blue}; }}
QListView, QTreeView {{
    background: {surface}; border: 1px solid {edge}; border-radius: 3px; outline: none;
    padding: 2px;
}}
QListView::item, QTreeView::item {{ padding: {q}px {h}px; }}
QListView::item {{ border-left: {mark}px solid transparent; }}
QListView::item:selected {{ border-left: {mark}px solid {ochre}; }}
QListView::item:selected, QTreeView::item:selected {{ background: {panel}; color: {blue}; }}
QScrollArea:focus {{ border: 2px solid {blue}; }}
QListView:focus, QTreeView:focus {{ border: 3px solid {blue}; padding: 0; }}
QHeaderView::section {{
    background: {panel}; color: {soft}; border: none; padding: {q}px {h}px;
}}
QProgressBar {{
    background: {surface}; border: 1px solid {lines}; border-radius: 3px; text-align: center;
}}
QProgressBar::chunk {{ background: {blue}; }}

*[ground="surface"] {{ background: {surface}; }}
*[ground="panel"] {{ background: {panel}; }}
QLineEdit[refused="true"] {{ border-color: {warning}; }}
QToolButton[quiet="true"] {{ border-color: transparent; }}
QToolButton[quiet="true"]:hover {{ border-color: {lines}; }}
QToolButton[quiet="true"]:focus {{ border-color: {blue}; }}
QToolButton[quiet="true"]:checked {{
    background: transparent; color: {blue};
    border-bottom: 2px solid {ochre}; padding-bottom: {q1}px;
}}
QToolButton[quiet="true"]:checked:focus {{
    border: 3px solid {blue}; padding: {q2}px {beside}px;
    border-left-width: {side}px; border-right-width: {side}px;
    border-bottom: 2px solid {ochre}; padding-bottom: {q1}px;
}}
QPushButton[main="true"] {{
    background: {blue}; color: {surface}; border-color: {blue};
    padding: {main}px {u2}px; font-weight: 600;
}}
QPushButton[main="true"]:focus {{
    border: 6px double {surface}; padding: {main5}px {u2_5}px;
}}
QPushButton[main="true"]:disabled {{
    background: transparent; color: {soft}; border-color: {lines};
}}
#find {{ background: {surface}; border: 1px solid {lines}; border-top: 2px solid {ochre}; }}
#find QListView {{ border: none; }}
QToolButton::menu-indicator {{ image: none; width: 0; }}
"""


def style_sheet(colours: Colours, unit: int, small_px: int) -> str:
    """The style sheet for a palette, a unit of space and the small text's size in pixels."""
    half, quarter = unit // 2, unit // 4
    box = max(10, small_px)
    # The ochre line stays under what is chosen and has the focus: its frame is wider beside.
    side = min(5, half + 1)
    return _SHEET.format(
        u=unit,
        u1=unit - 1,
        u1h=unit * 3 // 2,
        u2=unit * 2,
        u3=unit * 3,
        u4=unit * 4,
        h=half,
        h1=half - 1,
        q=quarter,
        q1=max(0, quarter - 1),
        mark=max(2, quarter - 1),
        q2=max(0, quarter - 2),
        h2=half - 2,
        side=side,
        beside=half + 1 - side,
        main=round(unit * 0.75),
        main5=round(unit * 0.75) - 5,
        u2_5=unit * 2 - 5,
        box=box,
        box_half=box // 2 + 1,
        # Style sheets cannot colour a picture: there is a tick for each palette.
        tick=(RESOURCES / "icons" / f"tick-{colours.surface[1:]}.svg").as_posix(),
        **{name: getattr(colours, name) for name in colours.__struct_fields__},
    )
