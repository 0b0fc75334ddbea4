"""A copy of a season folder in which one rule is to be broken."""

import shutil
from dataclasses import dataclass
from pathlib import Path

from folder_writer import line
from season import KINDS, read_text_rows


@dataclass
class Place:
    """Where a broken rule should be reported.

    `index` counts rows from 0, -1 being the header and None any line; `columns`
    are the reasonable ones, the best first, none where any will do.
    """

    kind: str
    index: int | None
    columns: tuple


class SeasonCopy:
    """The tables of a season as text, and what the damaged file is to hold."""

    def __init__(self, folder):
        self.folder = Path(folder)
        self.headers, self.rows, self.raw, self.changed = {}, {}, {}, set()
        for kind in KINDS:
            path = self.folder / f"{kind}.csv"
            header, *rows = read_text_rows(path) if path.exists() else [[]]
            self.headers[kind] = header
            self.rows[kind] = [dict(zip(header, row)) for row in rows]

    def has(self, kind):
        """Whether the season has that file."""
        return bool(self.headers[kind])

    def value(self, kind, index, column):
        """A field's text, empty where the column is absent."""
        return self.rows[kind][index].get(column, "")

    def set(self, kind, index, column, text):
        """Sets a field, adding its column where it is absent."""
        self.changed.add(kind)
        if column not in self.headers[kind]:
            self.headers[kind].append(column)
        self.rows[kind][index][column] = text

    def add(self, kind, row):
        """Adds a row at the end and gives its index."""
        self.rows[kind].append({})
        for column, text in row.items():
            self.set(kind, len(self.rows[kind]) - 1, column, text)
        return len(self.rows[kind]) - 1

    def lines(self, kind):
        """The header and the rows as they are written, without ends of lines."""
        header = self.headers[kind]
        return [line(header)] + [line([row.get(column, "") for column in header])
                                 for row in self.rows[kind]]

    def line_number(self, kind, index):
        """The line on which a row begins, 1 being the header's."""
        return 1 + sum(1 + text.count("\n") for text in self.lines(kind)[:index + 1])

    def content(self, kind):
        """The bytes of a file."""
        if kind in self.raw:
            return self.raw[kind]
        return ("\n".join(self.lines(kind)) + "\n").encode("utf-8")

    def write(self, out, kind):
        """Copies the season's CSV files, and writes anew the damaged and changed ones."""
        out = Path(out)
        out.mkdir(parents=True, exist_ok=True)
        for other in KINDS:
            path = self.folder / f"{other}.csv"
            if other == kind or other in self.changed:
                (out / path.name).write_bytes(self.content(other))
            elif path.exists():
                shutil.copyfile(path, out / path.name)
