"""Broken rules of the files' form: encoding, quotes, columns, rows."""

import io
import zipfile
from functools import partial

from damage_copy import Place
from folder_writer import line
from season import KINDS, required_of


def some_row(copy, random, kind):
    """The index of some row of a kind, None where there is none."""
    rows = copy.rows[kind]
    return random.randrange(len(rows)) if rows else None


def spoil_line(copy, random, kind, spoil):
    """Replaces the bytes of one row by `spoil(first field, rest)`."""
    index = some_row(copy, random, kind)
    if index is None:
        return None
    lines = [text.encode("utf-8") for text in copy.lines(kind)]
    first = line([copy.value(kind, index, copy.headers[kind][0])]).encode("utf-8")
    lines[index + 1] = spoil(first, lines[index + 1][len(first):])
    copy.raw[kind] = b"\n".join(lines) + b"\n"
    return Place(kind, index, ())


def spoil_file(copy, _random, kind, spoil):
    """Replaces the bytes of a whole file by `spoil(text)`."""
    if not copy.rows[kind]:
        return None
    copy.raw[kind] = spoil("\n".join(copy.lines(kind)) + "\n")
    return Place(kind, None, ())


def workbook(_text):
    """A small but real zip file with a workbook's parts."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        for name in ("[Content_Types].xml", "xl/workbook.xml"):
            archive.writestr(zipfile.ZipInfo(name), "<x/>")
    return stream.getvalue()


def unclosed_quote(copy, random, kind):
    """Opens a quote in a row's last field which nothing closes."""
    index = some_row(copy, random, kind)
    if index is None:
        return None
    lines = copy.lines(kind)
    before = "\n".join(lines[:index + 1])
    rest = "\n".join(text.replace('"', "") for text in lines[index + 1:])
    copy.raw[kind] = f'{before}\n"{rest}\n'.encode("utf-8")
    return Place(kind, None, ())


def change_header(copy, _random, kind, change):
    """Changes the header; `change` gives the new header and the column to be named."""
    if not copy.has(kind):
        return None
    header, *rest = copy.lines(kind)
    names, column = change(list(copy.headers[kind]), kind)
    rest = rest if len(names) == len(copy.headers[kind]) else [text + "," for text in rest]
    copy.raw[kind] = ("\n".join([",".join(names)] + rest) + "\n").encode("utf-8")
    return Place(kind, -1, (column,) if column else ())


def unknown_column(names, _kind):
    """An added column that the interchange does not know."""
    return names + ["remarks"], "remarks"


def twice(names, kind):
    """A required column once more."""
    column = required_of(kind)[0]
    return names + [column], column


def renamed(change):
    """A header change that renames a required column so that it is not known."""
    def rename(names, kind):
        """The header with its last required column renamed."""
        column = required_of(kind)[-1]
        names[names.index(column)] = change(column)
        return names, None
    return rename


def missing_column(copy, random, kind):
    """Leaves a required column out."""
    if not copy.has(kind):
        return None
    column = random.choice(required_of(kind))
    copy.headers[kind].remove(column)
    return Place(kind, -1, (column,))


def no_header(copy, _random, kind):
    """Leaves the header out."""
    if not copy.rows[kind]:
        return None
    copy.raw[kind] = ("\n".join(copy.lines(kind)[1:]) + "\n").encode("utf-8")
    return Place(kind, -1, ())


LINE_SPOILERS = {
    "invalid_utf8": lambda first, rest: b"a\xff" + rest,
    "latin_1": lambda first, rest: b"Caf\xe9" + rest,
    "utf8_surrogate": lambda first, rest: b"a\xed\xa0\x80" + rest,
    "overlong_utf8": lambda first, rest: b"a\xc0\xaf" + rest,
    "utf8_cut_short": lambda first, rest: b"a\xe2\x82" + rest,
    "nul": lambda first, rest: b"a\x00b" + rest,
    "row_too_long": lambda first, rest: first + rest + b",x",
    "text_after_quote": lambda first, rest: b'"a"b' + rest,
    "quote_within_field": lambda first, rest: b'a"b' + rest,
}
FILE_SPOILERS = {
    "workbook": workbook,
    "utf16_le": lambda text: b"\xff\xfe" + text.encode("utf-16-le"),
    "utf16_be": lambda text: b"\xfe\xff" + text.encode("utf-16-be"),
    "utf16_without_bom": lambda text: text.encode("utf-16-le"),
    "empty_file": lambda text: b"",
    "semicolons": lambda text: text.replace(",", ";").encode("utf-8"),
    "tabs": lambda text: text.replace(",", "\t").encode("utf-8"),
}
HEADER_CHANGES = {
    "unknown_column": unknown_column,
    "column_twice": twice,
    "column_misspelt": renamed(lambda name: name + "x"),
    "column_with_space": renamed(lambda column: " " + column),
    "column_without_name": renamed(lambda column: ""),
}


def too_short(copy, random, kind):
    """A row with one field less than the header."""
    index = some_row(copy, random, kind)
    if index is None or len(copy.headers[kind]) < 2:
        return None
    row = copy.rows[kind][index]
    last = copy.headers[kind][-1]
    lines = copy.lines(kind)
    kept = [row.get(column, "") for column in copy.headers[kind] if column != last]
    lines[index + 1] = line(kept)
    copy.raw[kind] = ("\n".join(lines) + "\n").encode("utf-8")
    return Place(kind, index, ())


def rules():
    """All rules of form, by name."""
    found = {}
    for kind in KINDS:
        for name, spoil in LINE_SPOILERS.items():
            found[f"{name}:{kind}"] = partial(spoil_line, kind=kind, spoil=spoil)
        for name, spoil in FILE_SPOILERS.items():
            found[f"{name}:{kind}"] = partial(spoil_file, kind=kind, spoil=spoil)
        for name, change in HEADER_CHANGES.items():
            found[f"{name}:{kind}"] = partial(change_header, kind=kind, change=change)
        for name, rule in (("missing_column", missing_column), ("no_header", no_header),
                           ("row_too_short", too_short), ("unclosed_quote", unclosed_quote)):
            found[f"{name}:{kind}"] = partial(rule, kind=kind)
    return found
