"""Lists of names: encodings, separators, quotes, headings, empty rows, and what is told when one does not hold."""

from __future__ import annotations

import csv
import io
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from frameforge.errors import InputError
from frameforge.read.names_list import read_names

CLASS = 'name,table,colour\nPeasel Thornby,1,moss\n"O\'Radish, Minty",2,sand\nÉlodeà Crësswick,3,brick\n'


def _names(text: str | bytes, column: str = "name") -> list[str]:
    data = text if isinstance(text, bytes) else text.encode()
    return [row.values[column] for row in read_names(data, "names.csv").rows]


def test_a_comma_in_quotes_stays_in_the_name() -> None:
    found = read_names(CLASS.encode(), "names.csv")
    assert found.headings == ("name", "table", "colour")
    assert [row.values["name"] for row in found.rows] == ["Peasel Thornby", "O'Radish, Minty", "Élodeà Crësswick"]
    assert [row.line for row in found.rows] == [2, 3, 4]
    assert found.notes == ()


def test_a_comma_without_quotes_is_told_with_its_line_and_name() -> None:
    head = "name,table,colour\n" + "Bramby Kalewell,1,moss\n" * 9
    with pytest.raises(InputError) as caught:
        read_names(f"{head}O'Radish, Minty,2,sand\n".encode(), "names.csv")
    assert str(caught.value) == (
        "names.csv line 11: 4 values under 3 headings; the comma in O'Radish, Minty splits the name. "
        'Put the name in "double quotes".'
    )


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("end", [b"\n", b"\r\n"])
def test_byte_order_marks_and_line_ends_do_not_matter(mark: bytes, end: bytes) -> None:
    assert _names(mark + CLASS.encode().replace(b"\n", end))[-1] == "Élodeà Crësswick"


@pytest.mark.parametrize(("separator", "told"), [(";", "semicolon"), ("\t", "tab")])
def test_other_separators_are_guessed_and_told(separator: str, told: str) -> None:
    text = CLASS.replace(",1,", f"{separator}1{separator}").replace(",2,", f"{separator}2{separator}")
    text = text.replace(",3,", f"{separator}3{separator}").replace(
        "name,table,colour", separator.join(("name", "table", "colour"))
    )
    found = read_names(text.encode(), "names.csv")
    assert [row.values["colour"] for row in found.rows] == ["moss", "sand", "brick"]
    assert found.rows[1].values["name"] == "O'Radish, Minty"
    assert found.notes == (f"names.csv: took the {told} as what parts the values.",)


def test_a_bare_column_of_names_needs_no_heading() -> None:
    found = read_names(b"Tansel Rootley\nOswort Beanham\n", "names.csv")
    assert not found.has_headings
    assert [row.values["1"] for row in found.rows] == ["Tansel Rootley", "Oswort Beanham"]
    assert [row.line for row in found.rows] == [1, 2]


def test_empty_rows_are_left_out_and_named_by_their_lines() -> None:
    found = read_names("name\nA\n\nB\n,\n  \nC\n\n".replace(",", '""').encode(), "names.csv")
    assert [row.values["name"] for row in found.rows] == ["A", "B", "C"]
    assert found.notes == ("names.csv lines 3, 5, 6: empty, left out.",)


def test_short_rows_leave_the_rest_empty() -> None:
    assert read_names(b"name,colour\nA\n", "n").rows[0].values == {"name": "A", "colour": ""}


def test_names_composed_in_two_ways_are_the_same_name() -> None:
    assert _names("name\ncafe\u0301\n") == _names("name\ncafé\n") == ["café"]


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "names.csv: no names in it. Write one a line."),
        (b"name,colour\n", "names.csv: headings and no names below them. Write one a line."),
        (b"name\nA\n\xe9l\n", "names.csv line 3: not written in UTF-8."),
        (b'name\n"A\nB\n', "names.csv line 2: a quote is not closed"),
        (b"name,name\nA,B\n", 'names.csv line 1: two columns are headed "name". Rename one.'),
        (b"name,,colour\nA,B,C\n", "names.csv line 1: heading 2 is empty."),
        (b"PK\x03\x04\0\0", "names.csv: no text."),
        (b"A,1\nB,2,3\n", "names.csv line 2: 3 values where the first row has 2;"),
    ],
)
def test_what_is_no_list_is_told_in_one_line(data: bytes, said: str) -> None:
    with pytest.raises(InputError) as caught:
        read_names(data, "names.csv")
    assert str(caught.value).startswith(said)
    assert "\n" not in str(caught.value)


@given(
    st.lists(
        st.text(st.characters(codec="utf-8", exclude_characters="\0", exclude_categories=("Cc", "Cs")), min_size=1),
        min_size=1,
    )
)
def test_what_a_spreadsheet_writes_is_read_back(names: list[str]) -> None:
    kept = [name.strip() for name in names if name.strip()]
    out = io.StringIO(newline="")
    writer = csv.writer(out, quoting=csv.QUOTE_ALL)
    writer.writerow(["name", "table"])
    writer.writerows([name, str(k)] for k, name in enumerate(kept))
    if not kept:
        return
    assert _names(out.getvalue()) == [unicodedata.normalize("NFC", name) for name in kept]
