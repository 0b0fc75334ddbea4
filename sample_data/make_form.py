#!/usr/bin/python3
"""Makes agency_form.xlsx, the quarterly form of the invented Basin Environmental Agency, with a name on each cell that
`tarewell report fill` fills in. Needs openpyxl.

    sample_data/make_form.py sample_data/agency_form.xlsx"""
import sys

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.properties import PageSetupProperties

ROWS = [  # label, name, number format
    ("1  Film diverted this quarter, tons", "diverted_tons", "0.0000"),
    ("2  Film diverted to date, tons", "diverted_tons_to_date", "0.0000"),
    ("3  Share of the award's goal", "goal_share", "0.0%"),
    ("4  Bales weighed this quarter", "bales_weighed", "0"),
    ("5  Growers served this quarter", "growers_served", "0"),
    ("6  Grant funds spent this quarter", "grant_spent", '"$"#,##0.00'),
    ("7  Indirect costs this quarter", "indirect_claimed", '"$"#,##0.00'),
    ("8  Match contributed this quarter", "match_given", '"$"#,##0.00'),
    ("10  Cost of a ton", "cost_per_ton", '"$"#,##0.00'),
]


def named(book, name, cell):
    """A name of the whole workbook for a cell of the first sheet."""
    told = DefinedName(name, attr_text=f"'Quarterly report'!{cell}")
    if hasattr(book.defined_names, "append"):
        book.defined_names.append(told)
    else:
        book.defined_names[name] = told


def main():
    book = Workbook()
    sheet = book.active
    sheet.title = "Quarterly report"
    sheet.column_dimensions["A"].width = 40
    sheet.column_dimensions["B"].width = 20
    sheet.column_dimensions["C"].width = 20
    sheet["A1"] = "Basin Environmental Agency: quarterly report of a film collection"
    sheet["A1"].font = Font(bold=True, size=14)
    box = Border(*[Side(style="thin", color="808080")] * 4)
    paper = PatternFill("solid", fgColor="FFF9E5")
    for row, (label, name) in enumerate([("Award", "award.id"), ("Program", "award.program")], 3):
        sheet.cell(row, 1, label)
        sheet.merge_cells(start_row=row, start_column=2, end_row=row, end_column=3)
        sheet.cell(row, 2).fill, sheet.cell(row, 2).border = paper, box
        named(book, name, f"$B${row}:$C${row}")
    for column, name in (("B", "quarter.from"), ("C", "quarter.to")):
        sheet["A5"] = "From, to"
        sheet[f"{column}5"].fill, sheet[f"{column}5"].border = paper, box
        named(book, name, f"${column}$5")
    row = 7
    for label, name, digits in ROWS:
        if label.startswith("10"):
            sheet.cell(row, 1, "9  Sum of 6, 7 and 8")
            sheet.cell(row, 2, f"=B{row - 3}+B{row - 2}+B{row - 1}").number_format = '"$"#,##0.00'
            sheet.cell(row, 2).font = Font(bold=True)
            row += 1
        sheet.cell(row, 1, label)
        cell = sheet.cell(row, 2)
        cell.number_format, cell.fill, cell.border = digits, paper, box
        cell.alignment = Alignment(horizontal="right")
        named(book, name, f"$B${row}")
        row += 1
    sheet.cell(row + 1, 1, "Signature and date")
    named(book, "signed_here", f"$B${row + 1}")
    sheet.cell(row + 1, 2).border = Border(bottom=Side(style="thin"))
    sheet.print_area = f"A1:C{row + 1}"
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    notes = book.create_sheet("Instructions")
    notes["A1"] = "Fill in the boxes of the first sheet. Line 9 is worked out."
    book.save(sys.argv[1])


main()
