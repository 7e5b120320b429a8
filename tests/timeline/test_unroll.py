"""Which bars sound, in which pass: repeats, endings and section times."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chalkfret.model import BarHead
from chalkfret.model.repeats import repeated_spans
from chalkfret.timeline.unroll import unroll

BARS = "ABCDEFGH"


def head(word: str) -> BarHead:
    """``|:`` opens, ``:3`` closes for three times in all, ``(1,3)`` are its passes."""
    passes = word.partition("(")[2].rstrip(")")
    close = word.partition("(")[0].partition(":")[2] if not word.startswith("|") else ""
    return BarHead(
        repeat_open=word.startswith("|"),
        repeat_close=int(close or 0),
        passes=tuple(int(number) for number in passes.split(",")) if passes else (),
    )


def order(words: str, times: int = 1) -> str:
    bars = unroll(tuple(head(word) for word in words.split()), times)
    return " ".join(f"{BARS[bar]}{pass_}" for bar, pass_ in bars)


@pytest.mark.parametrize(
    ("words", "times", "expected"),
    [
        ("- -", 1, "A1 B1"),
        ("- -", 2, "A1 B1 A2 B2"),
        ("- :2 -", 1, "A1 B1 A2 B2 C1"),
        ("- | :3 -", 1, "A1 B1 C1 B2 C2 B3 C3 D1"),
        ("- :2 - :2", 1, "A1 B1 A2 B2 C1 D1 C2 D2"),  # the second starts behind the first
        # first and second ending; the second belongs to the span though it stands behind it
        ("| :2(1) (2) -", 1, "A1 B1 A2 C2 D1"),
        # each time the section comes round it has its first and second ending again
        ("| :2(1) (2) -", 2, "A1 B1 A2 C2 D1 A3 B3 A4 C4 D2"),
        # three endings, each of the first two closed
        ("| :3(1) :3(2) (3)", 1, "A1 B1 A2 C2 A3 D3"),
        ("| :3(1,2) (3)", 1, "A1 B1 A2 B2 A3 C3"),
        # endings by the pass of the section, without signs
        ("- (1) (2)", 2, "A1 B1 A2 C2"),
        # an ending that opens the next repeat is not part of the one before
        ("| :2 |(1) :2", 1, "A1 B1 A2 B2 C1 D1 D2"),
        (":1 -", 1, "A1 B1"),
        ("(2)", 1, ""),
    ],
)
def test_order(words: str, times: int, expected: str) -> None:
    assert order(words, times) == expected


heads = st.lists(
    st.builds(
        BarHead,
        repeat_open=st.booleans(),
        repeat_close=st.sampled_from([0, 0, 0, 1, 2, 3]),
        passes=st.sampled_from([(), (), (), (1,), (2,), (1, 3)]),
    ),
    max_size=14,
)


@given(heads, st.integers(1, 3))
def test_whatever_the_signs(bars: list[BarHead], times: int) -> None:
    spans = repeated_spans(bars)
    ends = [0, *(edge for span in spans for edge in (span.start, span.stop)), len(bars)]
    assert ends == sorted(ends), "spans stand in order and do not overlap"
    for index, pass_ in unroll(tuple(bars), times):
        inside = next((s for s in spans if s.start <= index < s.stop), None)
        inner = (pass_ - 1) % inside.times + 1 if inside else pass_
        assert not bars[index].passes or inner in bars[index].passes
        assert 1 <= pass_ <= times * (inside.times if inside else 1)


@given(heads, st.integers(1, 3))
def test_a_bar_without_passes_sounds_each_time(bars: list[BarHead], times: int) -> None:
    plain = [BarHead(repeat_open=b.repeat_open, repeat_close=b.repeat_close) for b in bars]
    spans = repeated_spans(plain)
    sounded = unroll(tuple(plain), times)
    for index in range(len(plain)):
        inside = next((s for s in spans if s.start <= index < s.stop), None)
        passes = [pass_ for bar, pass_ in sounded if bar == index]
        assert passes == list(range(1, times * (inside.times if inside else 1) + 1))
