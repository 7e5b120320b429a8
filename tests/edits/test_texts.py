"""The lesson's own head."""

import pytest

from chalkfret.edits import CannotEdit
from chalkfret.edits.texts import set_head
from chalkfret.model import LessonHead, NoteNaming, Performed, StudentSetup
from tests.builder import tuned
from tests.edits.test_notes import low


def test_every_field_can_be_set() -> None:
    before = low("w 6:0")
    new = LessonHead(
        title="Slate", subtitle="two", credit="me", supporter_line="thanks", licence="CC BY",
        language="de", note_naming=NoteNaming.GERMAN, simple_names=True, video_offset_s=3.0,
        order=(Performed("s-a"),), students=(StudentSetup("x", tuned("E2 A2 D3 G3 B3 E4")),),
    )  # fmt: skip
    fields = {name: getattr(new, name) for name in LessonHead.__struct_fields__}
    after = set_head(before, **fields)
    assert after.head == new
    assert after.sections is before.sections
    assert set_head(after, title="Slate") is after


def test_lists_become_tuples() -> None:
    after = set_head(low("w 6:0"), order=[Performed("s-a")], video_offset_s=3)
    assert after.head.order == (Performed("s-a"),)
    assert repr(after.head.video_offset_s) == "3.0"


@pytest.mark.parametrize(
    ("fields", "code", "field"),
    [
        ({"title": 5}, "value_refused", "title"),
        ({"language": "german"}, "value_refused", "language"),
        ({"order": (Performed("s-a", 99),)}, "value_refused", "order[0].times"),
        ({"loud": 5}, "value_refused", "loud"),
        ({"title": object()}, "value_refused", ""),
        ({"order": (Performed("s-b"),)}, "order_unknown_section", None),
    ],
)
def test_what_cannot_be(fields: dict[str, object], code: str, field: str | None) -> None:
    with pytest.raises(CannotEdit) as error:
        set_head(low("w 6:0"), **fields)
    assert error.value.fault.code == code
    assert dict(error.value.fault.figures).get("field") == field
