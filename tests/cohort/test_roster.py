import pytest

from autograde.cohort.errors import CohortError
from autograde.cohort.roster import Trainee, check_id, parse_roster, read_roster, roster_csv


def test_a_roster_from_a_spreadsheet_with_semicolons_and_more_columns_is_read():
    text = "Name;Group;ID\nWren Bird;north;wren\nHeron;south;heron.2\n"
    assert parse_roster(text) == (Trainee("wren", "Wren Bird"), Trainee("heron.2", "Heron"))


def test_a_name_with_a_comma_and_quotes_survives_writing_and_reading():
    trainees = (Trainee("wren", 'Wren, "the small"', "w@example.org"), Trainee("heron", "Heron"))
    assert parse_roster(roster_csv(trainees)) == trainees


@pytest.mark.parametrize(
    "bad", ["../etc", "a/b", "a\\b", ".hidden", "a..b", "", "a b", "wren__x", "con", "Nul.txt", "x" * 65, "wrén", "a\0"]
)
def test_an_id_that_could_be_a_path_or_a_device_is_refused(bad):
    with pytest.raises(CohortError):
        check_id(bad)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("name,mail\nWren,x\n", "columns id and name"),
        ("", "columns id and name"),
        ("id,name\n", "no trainee"),
        ("id,name\nwren,Wren\n../up,Up\n", "line 3"),
        ("id,name\nwren,Wren\nWREN,Other\n", "used twice"),
        ("id,name\nwren,W\x1b[31mren\n", "line 2"),
    ],
)
def test_what_is_wrong_with_a_roster_is_said_with_its_place(text, words):
    with pytest.raises(CohortError, match=words):
        parse_roster(text)


def test_a_roster_that_is_not_utf8_or_not_there_is_named(tmp_path):
    path = tmp_path / "roster.csv"
    with pytest.raises(CohortError, match="there is no roster"):
        read_roster(path)
    path.write_bytes("id,name\nwren,Zaunkönig\n".encode("latin-1"))
    with pytest.raises(CohortError, match="UTF-8"):
        read_roster(path)


def test_the_byte_mark_of_a_spreadsheet_is_no_part_of_the_first_column(tmp_path):
    path = tmp_path / "roster.csv"
    path.write_text("id,name\nwren,Wren\n", encoding="utf-8-sig")
    assert read_roster(path) == (Trainee("wren", "Wren"),)
