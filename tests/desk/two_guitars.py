"""A small lesson of two guitars and two sections, for the tests of pages."""

from tests.builder import lesson, part, section, tuned


def two_guitars():
    """Low guitar and High guitar; sections A Cellar and B Attic."""
    return lesson(
        section("A", "q 6:0 3 5 0 | 6:7 5 3 0", "q 3:2 r 2:3 r | r r r r", name="Cellar"),
        section("B", "e 6:0 0 3 3 5 5 6 5", "q 1:5 r r r", name="Attic", tempo=140.0),
        parts=(
            part("Low guitar", tuned("C2 G2 C3 F3 A3 D4", scale_mm=685.8)),
            part("High guitar"),
        ),
        title="Two lamps",
    )
