"""Earlier versions: ten at most, the recent ones dense, the older ones sparse."""

import errno
from datetime import UTC, datetime

import pytest

from chalkfret.files.backups import MOST, folder_of, keep_version, versions
from chalkfret.files.disk import Disk

DAY = 86_400
START = int(datetime(2026, 1, 5, 8, tzinfo=UTC).timestamp())  # a Monday


def days_ago(state, path, now):
    return [(now - version.at) // DAY for version in versions(state, path)]


def test_versions_are_numbered_and_come_newest_first(tmp_path):
    path = tmp_path / "riff.chalkfret"
    for number in range(3):
        keep_version(tmp_path / "state", path, b"%d" % number, START + number)
    found = versions(tmp_path / "state", path)
    assert [version.number for version in found] == [3, 2, 1]
    assert [version.path.read_bytes() for version in found] == [b"2", b"1", b"0"]
    assert versions(tmp_path / "state", tmp_path / "other.chalkfret") == ()
    assert not list(path.parent.glob("*.chalkfret")), "the teacher’s folder is not littered"


def test_a_month_of_work_leaves_the_last_saves_days_and_weeks(tmp_path):
    path, now = tmp_path / "riff.chalkfret", START
    for day in range(40):
        for save in range(12):
            now = START + day * DAY + save * 600
            stay = keep_version(tmp_path, path, b"%d %d" % (day, save), now)
            assert len(stay) <= MOST
            assert stay == versions(tmp_path, path)
    ages = days_ago(tmp_path, path, now)
    assert ages[:4] == [0, 0, 0, 0], "the last four saves"
    assert ages[4:7] == [0, 1, 2], "the last of each day before them"
    assert len(ages) == MOST

    assert ages[7:] == [3, 5, 12], "the last of this week before them, and of the two weeks before"
    numbers = [version.number for version in versions(tmp_path, path)]
    assert numbers[0] == 480


def test_saves_seldom_made_stay_until_there_are_ten(tmp_path):
    for month in range(30):
        stay = keep_version(tmp_path, None, b"x", START + month * 30 * DAY)
    assert len(stay) == MOST
    assert [version.number for version in stay] == list(range(30, 20, -1))


def test_the_same_names_in_two_folders_are_two_files(tmp_path):
    one, other = tmp_path / "a" / "riff.chalkfret", tmp_path / "b" / "riff.chalkfret"
    assert folder_of(tmp_path, one) != folder_of(tmp_path, other)
    assert folder_of(tmp_path, tmp_path / "♯♭.chalkfret").parent == folder_of(tmp_path, one).parent


def test_strange_files_in_the_folder_are_let_be(tmp_path):
    keep_version(tmp_path, None, b"x", START)
    stranger = folder_of(tmp_path, None) / "notes.txt"
    stranger.write_text("mine")
    keep_version(tmp_path, None, b"y", START + 1)
    assert stranger.read_text() == "mine"
    assert len(versions(tmp_path, None)) == 2


def test_a_version_that_cannot_be_written_takes_no_other_away(tmp_path):
    class Full(Disk):
        def write(self, file, data):
            raise OSError(errno.ENOSPC, "full")

    for number in range(MOST):
        keep_version(tmp_path, None, b"x", START + number * 30 * DAY)
    before = versions(tmp_path, None)
    with pytest.raises(OSError, match="full"):
        keep_version(tmp_path, None, b"y", START + 400 * DAY, Full())
    assert versions(tmp_path, None) == before
