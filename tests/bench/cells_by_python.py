"""Writes as many cells as a workbook has, text and numbers in the same proportion: cells_by_python.py openpyxl|pandas
LIKE.xlsx OUT.xlsx. The same as cells_alone.cpp, with what people would take otherwise."""
import re
import sys
import zipfile


def sheets_of(path):
    """Rows, texts and numbers of each sheet."""
    with zipfile.ZipFile(path) as parts:
        for name in parts.namelist():
            if name.startswith("xl/worksheets/sheet"):
                text = parts.read(name)
                cells = re.findall(rb"<c [^>]*>", text)
                texts = sum(b't="' in cell for cell in cells)
                yield text.count(b"<row "), texts, len(cells) - texts


def rows_like(rows, texts, numbers):
    columns, texts = max(1, (texts + numbers) // rows), texts // rows
    for row in range(rows):
        yield [f"R{row}" if column < texts else row * 1.001 for column in range(columns)]


def main(library, like, out):
    sheets = [each for each in sheets_of(like) if each[0]]
    if library == "openpyxl":
        import openpyxl
        book = openpyxl.Workbook(write_only=True)
        for each in sheets:
            sheet = book.create_sheet()
            for row in rows_like(*each):
                sheet.append(row)
        book.save(out)
    else:
        import pandas
        with pandas.ExcelWriter(out, engine="openpyxl") as book:
            for number, each in enumerate(sheets):
                pandas.DataFrame(rows_like(*each)).to_excel(book, sheet_name=f"S{number}", index=False, header=False)


main(*sys.argv[1:])
