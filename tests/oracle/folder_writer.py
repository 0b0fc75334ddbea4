"""Writes season folders: tables of text as CSV files, plain or awkward but valid."""

from pathlib import Path

from season import KINDS, columns_of, required_of

BOM = "\ufeff"


def quoted(text):
    """A field in quotes, quotes within doubled."""
    return '"' + text.replace('"', '""') + '"'


def field(text, always=False):
    """A field as RFC 4180 writes it, in quotes where they are needed."""
    needs = always or any(mark in text for mark in ',"\r\n')
    return quoted(text) if needs else text


def line(fields, always=False):
    """The fields of one row, without the end of the line."""
    return ",".join(field(text, always) for text in fields)


def write_table(path, header, rows, *, bom=False, ending="\n", last_ending=True, always=False):
    """Writes a header and rows (dicts of text) as one CSV file."""
    lines = [line(header, always)]
    lines += [line([row.get(column, "") for column in header], always) for row in rows]
    text = ending.join(lines) + (ending if last_ending else "")
    Path(path).write_bytes(((BOM if bom else "") + text).encode("utf-8"))


def used_columns(kind, rows):
    """The columns of a kind that some row fills, and those that are required."""
    return [column for column in columns_of(kind)
            if column in required_of(kind) or any(row.get(column) for row in rows)]


def write_awkwardly(random, folder, tables):
    """Writes each table with its own order of columns, ends of lines, BOM and quotes.

    Optional columns that no row fills are mostly left out; so is, mostly, a file
    without rows.
    """
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    for kind in KINDS:
        rows = tables[kind]
        if not rows and random.random() < 0.6:
            continue
        used = used_columns(kind, rows)
        header = [column for column in columns_of(kind)
                  if column in used or random.random() < 0.4]
        if random.random() < 0.5:
            random.shuffle(header)
        write_table(folder / f"{kind}.csv", header, rows, bom=random.random() < 0.3,
                    ending=random.choice(("\n", "\n", "\r\n")),
                    last_ending=random.random() < 0.8, always=random.random() < 0.2)
