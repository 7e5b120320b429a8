from chalkfret.edits.faults import CannotEdit, refuse
from chalkfret.model import Where


def test_a_refusal_carries_its_fault() -> None:
    error = refuse("fret_range", Where("A", 3), fret=40, most=36)
    assert isinstance(error, CannotEdit)
    assert error.fault.where.bar == 3
    assert dict(error.fault.figures) == {"fret": 40, "most": 36}
