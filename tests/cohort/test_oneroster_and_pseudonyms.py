"""The open standard's users file, and cohorts that work under other names."""

import csv
import zipfile

import pytest
from desk_steps import CASE, ISSUER, PASSPHRASE, RATINGS, by_hand, run, typed
from hypothesis import given
from hypothesis import strategies as st

from autograde.cohort.errors import CohortError
from autograde.cohort.folder import open_cohort
from autograde.cohort.pseudonyms import read_key
from autograde.cohort.roster import Trainee, parse_roster, read_roster
from pedalwright_app import award_commands
from pedalwright_app.filling import fill

# The columns of users.csv as the standard's CSV binding 1.2 lists them; of roles.csv from memory.
USERS = (
    "sourcedId,status,dateLastModified,enabledUser,username,userIds,givenName,familyName,middleName,identifier,email,"
    "sms,phone,agentSourcedIds,grades,password,userMasterIdentifier,resourceSourcedIds,preferredGivenName,"
    "preferredMiddleName,preferredFamilyName,primaryOrgSourcedId,pronouns"
)
ROLES = "sourcedId,status,dateLastModified,userSourcedId,roleType,role,beginDate,endDate,orgSourcedId"


def user(sourced_id, given="Wren", family="Invented", username="", enabled="true", status="", email="", preferred=""):
    fields = dict.fromkeys(USERS.split(","), "")
    fields |= {"sourcedId": sourced_id, "status": status, "enabledUser": enabled, "username": username}
    fields |= {"givenName": given, "familyName": family, "email": email, "preferredGivenName": preferred}
    return ",".join(fields.values())


def users(*lines):
    return "\n".join([USERS, *lines, ""])


def test_users_become_trainees():
    text = users(
        user("7f-1", username="wren", email="wren@example.org"),
        user("7f-2", "Grey", "Heron", username="heron@example.org", preferred="Ardea"),
        user("7f-3", "Golden", "Plover"),
        user("7f-4", "Gone", "Away", status="tobedeleted"),
        user("7f-5", "Not", "Enabled", enabled="false"),
    )
    assert parse_roster(text) == (
        Trainee("wren", "Wren Invented", "wren@example.org"),
        Trainee("heron", "Ardea Heron", ""),
        Trainee("7f-3", "Golden Plover", ""),
    )


def test_only_students_are_taken_where_roles_are_told(tmp_path):
    text = users(user("1", username="wren"), user("2", "Flint", "Teacher", username="flint"))
    roles = "\n".join([ROLES, "r1,,,1,primary,student,,,org", "r2,,,2,primary,teacher,,,org", ""])
    (tmp_path / "users.csv").write_text(text)
    assert [trainee.id for trainee in read_roster(tmp_path / "users.csv")] == ["wren", "flint"]
    (tmp_path / "roles.csv").write_text(roles)
    assert [trainee.id for trainee in read_roster(tmp_path / "users.csv")] == ["wren"]
    with zipfile.ZipFile(tmp_path / "export.zip", "w") as archive:
        archive.writestr("manifest.csv", "propertyName,value\n")
        archive.writestr("users.csv", text)
        archive.writestr("roles.csv", "\ufeff" + roles)
    assert [trainee.id for trainee in read_roster(tmp_path / "export.zip")] == ["wren"]


def test_the_older_version_with_the_role_in_the_users_file_is_read():
    text = "sourcedId,status,dateLastModified,enabledUser,orgSourcedIds,role,username,givenName,familyName\n"
    text += "1,,,true,org,student,wren,Wren,Invented\n2,,,true,org,administrator,flint,Flint,Invented\n"
    assert [trainee.id for trainee in parse_roster(text)] == ["wren"]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (USERS.replace("familyName,", "") + "\n", "no column familyname"),
        (users(user("")), "line 2: the sourcedId is empty"),
        (users(user("1"), user("2", enabled="maybe")), "line 3: received 'maybe' as enabledUser"),
        (users(user("1", status="retired")), "line 2: received 'retired' as status"),
        (users(user("1", given="", family="")), "line 2: givenName and familyName are both empty"),
        (users(user("1") + ",one more"), "line 2: 24 fields, the first line names 23"),
        (users("1,,"), "line 2: 3 fields"),
        (users(user("../../etc", username="a/b")), "line 2: the id"),
        (users(user("1", username="wren"), user("2", username="wren")), "used twice"),
        (users(user("1", status="tobedeleted")), "no trainee found"),
        (users('1,"open quote'), "line 2"),
        (users(user("1", given="W\x1b[31mren")), "cannot be shown"),
    ],
)
def test_malformed_files_end_in_an_error_with_the_line(text, words):
    with pytest.raises(CohortError, match=words.replace("[", r"\[")):
        parse_roster(text, "users.csv")


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04 cut off", b"\x00" * 100])
def test_a_broken_archive_is_told_in_one_line(tmp_path, content):
    path = tmp_path / "export.zip"
    path.write_bytes(content)
    with pytest.raises(CohortError, match="cannot be read"):
        read_roster(path)


def test_an_archive_without_users_or_in_another_encoding_is_told(tmp_path):
    path = tmp_path / "export.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("orgs.csv", "sourcedId\n")
    with pytest.raises(CohortError, match="holds no users"):
        read_roster(path)
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("users.csv", users(user("1", given="Zaunkönig")).encode("latin-1"))
    with pytest.raises(CohortError, match="not UTF-8"):
        read_roster(path)


@given(st.text(alphabet=st.sampled_from('sourcedId,givenNamefamily\n"\t;\0\x1b1=+'), max_size=300))
def test_no_text_makes_anything_but_trainees_or_an_error(text):
    try:
        found = parse_roster(f"sourcedId,givenName,familyName\n{text}")
    except CohortError:
        return
    assert all(isinstance(trainee, Trainee) and trainee.id for trainee in found)


@pytest.fixture
def hidden(tmp_path, cohort):
    roster = tmp_path / "people.csv"
    roster.write_text("id,name,email\nwren,Jenny Wren,wren@example.org\nheron,Ardea Heron,\n")
    root = tmp_path / "hidden"
    command = ("cohort", "make", root, "--roster", roster, "--case", CASE)
    run(*command, "--case-folder", cohort.settings.case_folders[0], "--pseudonyms")
    return open_cohort(root), roster, command


def text_of(root, *, without=("pseudonyms.csv",)):
    paths = [path for path in root.rglob("*") if path.name not in without]
    return b"".join(
        str(path.relative_to(root)).encode() + (path.read_bytes() if path.is_file() else b"") for path in paths
    )


def test_under_pseudonyms_no_name_is_anywhere_but_in_the_key(hidden):
    cohort, _, _ = hidden
    run("cohort", "hand-out", cohort.root)
    key = read_key(cohort.root)
    assert {person.name for person in key.values()} == {"Jenny Wren", "Ardea Heron"}
    assert {trainee.id for trainee in cohort.trainees} == set(key)
    assert (cohort.root / "pseudonyms.csv").stat().st_mode & 0o077 == 0
    for telling in (b"jenny", b"wren", b"heron", b"ardea"):
        assert telling not in text_of(cohort.root).lower()


def test_more_trainees_join_under_pseudonyms_and_who_has_one_keeps_it(hidden):
    cohort, roster, command = hidden
    before = read_key(cohort.root)
    roster.write_text(roster.read_text() + "plover,Golden Plover,\n")
    assert "Would be made" in run(*command, "--dry-run")
    assert read_key(cohort.root) == before
    run(*command)
    after = read_key(cohort.root)
    assert {name: after[name] for name in before} == before
    assert len(open_cohort(cohort.root).trainees) == len(after) == 3
    run("cohort", "make", cohort.root, "--roster", cohort.root / "roster.csv")
    assert read_key(cohort.root) == after


def test_a_cohort_under_real_names_does_not_change_to_pseudonyms_half_way(cohort):
    run("cohort", "make", cohort.root, "--roster", cohort.root / "roster.csv", "--pseudonyms", code=2)


def test_the_award_names_the_person_and_forgetting_takes_the_key(hidden, monkeypatch):
    cohort, _, _ = hidden
    monkeypatch.setenv(award_commands.PASSPHRASE, PASSPHRASE)
    run("cohort", "hand-out", cohort.root)
    pseudonym = next(name for name, person in read_key(cohort.root).items() if person.id == "wren")
    notebook = cohort.notebook("release", pseudonym, CASE).read_bytes()
    (cohort.inbox / f"{pseudonym}__{CASE}.ipynb").write_bytes(fill(notebook, typed(cohort, pseudonym)))
    run("cohort", "collect", cohort.root)
    run("cohort", "mark", cohort.root)
    by_hand(cohort, pseudonym, 2.0)
    (cohort.root / "ratings.csv").write_text(RATINGS)
    run("cohort", "decide", cohort.root, "--sem", "0.5")
    run("cohort", "award", cohort.root, *ISSUER)
    (award,) = (cohort.root / "awards").glob("*/award.jwt")
    status = ("--key", cohort.root / "keys" / "issuer.jwks.json", "--status", cohort.root / "awards" / "status.jwt")
    assert "issued to this name" in run("verify", award, *status, "--name", "Jenny Wren")
    run("cohort", "report", cohort.root)
    with (cohort.report / "marks.csv").open() as stream:
        assert "Jenny" not in stream.read()
    run("cohort", "forget", cohort.root, pseudonym, "--yes")
    assert "wren" not in (cohort.root / "pseudonyms.csv").read_text()
    assert b"jenny" not in text_of(cohort.root, without=()).lower()
    with (cohort.root / "pseudonyms.csv").open() as stream:
        assert [row["id"] for row in csv.DictReader(stream)] == ["heron"]
