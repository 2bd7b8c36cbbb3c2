#!/usr/bin/env python3
"""Makes the workbooks of internal/stocktake/testdata/held, all invented, and the same ones
in the other form in internal/stocktake/testdata/other.

Needs the Debian packages python3-openpyxl and libreoffice-calc-nogui: the first lays the
cells out, the second opens and saves the files, so that formulas have values and the files
are as an office program writes them.

    scripts/workbooks/make.py internal/stocktake/testdata
"""
import datetime
import pathlib
import subprocess
import sys
import tempfile

from openpyxl import Workbook
from openpyxl.styles import Font

OCT = datetime.date(2026, 10, 3)
AUG = datetime.date(2026, 8, 5)


def fill(sheet, rows, formats=None):
    for row in rows:
        sheet.append(row)
    for place, code in (formats or {}).items():
        sheet[place].number_format = code


def term():
    """21: a sheet for each kind, units in number formats, formulas, dates, a hidden sheet."""
    book = Workbook()
    s = book.active
    s.title = "Pulleys"
    fill(s, [
        ["Heron Lane Primary, autumn term"],
        [],
        ["Name", "Outside", "Bore (mm)", "Qty", "Checked on"],
        ["Red", 4, 4.9, "=10-3", OCT],
        ["Blue", 30, 5, 12, OCT],
        ["Green", 20, "5 mm", OCT, OCT],
        ["White", 50, AUG, 6, OCT],
        ["Grey", 25, 4.9, 9, None],
        ["Pink", 15, "=49/10", "=IF(1=1,\"\",3)", None],
        ["Total", None, None, "=SUM(D4:D8)", None],
    ], {"B4": '0.0" cm"', "B5": '0" mm"', "C8": "0", "D6": "d-mmm", "C7": "d-mmm"})
    s.merge_cells("A1:E1")
    s = book.create_sheet("Rubber bands")
    fill(s, [
        ["Size", "Width", "Count"],
        [63, 1.5, 50],
        ["No. 18", None, 40, None, "perished?"],
        ["76 x 3 mm", None, 25],
    ])
    s = book.create_sheet("Motors & boxes")
    fill(s, [
        ["Item", "Volts", "rpm", "Good", "Broken"],
        ["Motor", 3, 6000, 8, 2],
        ["Battery box 2 x AA", None, None, 10, 0],
        ["Dowel 5 mm x 300 mm", None, None, 24, 1],
        ["Bulb holder", 3, None, 30, 0],
    ])
    s["A2"].font = Font(bold=True)
    s = book.create_sheet("Notes")
    fill(s, [["Ask about the missing motors."], ["Order dowel."]])
    s = book.create_sheet("Old 2024")
    fill(s, [["Kind", "Name", "Diameter", "Length", "Qty"], ["dowel", "ancient", 5, 300, 99]])
    s.sheet_state = "hidden"
    return book


def drawers():
    """22: saved as OpenDocument; merged kinds, prices, several tables, runs of equal cells."""
    book = Workbook()
    s = book.active
    s.title = "Drawers"
    fill(s, [
        ["Kind", "Name", "Size", "Bore", "Qty", "Price"],
        ["Pulley", "Ash", "40 mm", 5, 12, 0.45],
        [None, "Birch", "30 mm", 5, 5, 0.4],
        [None, "Cedar", 20, 4.9, 20, 1.2],
        [],
        [],
        [],
        ["Dowels"],
        ["Qty", "Diameter (cm)", "Length (cm)", "Where"],
        [20, 0.5, 30, "Top"],
        [10, 0.6, 30, "Top"],
        [3, 0.5, 30, "Top"],
    ], {"D4": "0", "F2": '"£"0.00', "F3": '"£"0.00', "F4": '"£"0.00'})
    s.merge_cells("A2:A4")
    s.column_dimensions["A"].width = 20
    s = book.create_sheet("Wheels")
    fill(s, [
        ["Label", "Diameter", "Bore", "How many"],
        ["Big", 50, 5, 16],
        ["Small", 0.5, 5, 8],
        ["Wheel nut", 8, 5, 40],
        ["Half", 0.3, 5, 8],
        ["Worn", 40, 5, AUG],
    ], {"B5": "0%", "D6": "d-mmm"})
    return book


def beside():
    """23: tables side by side, errors, two counts, numbers kept as text, a filtered row."""
    book = Workbook()
    s = book.active
    s.title = "Side by side"
    fill(s, [
        ["Pulley", "Bore", "Qty", None, "Band", "Width", "Qty"],
        ["40 mm", "5 mm", 12, None, "63 mm", "1.5 mm", 50],
        ["30 mm", "5 mm", 10, None, "89 mm", "1.5 mm", 40],
    ])
    s = book.create_sheet("Axles")
    fill(s, [
        ["Number", "Diameter mm", "Length mm", "Stock"],
        [1, 5, 300, 20],
        [2, 6, 300, "=1/0"],
        [3, "=#REF!", 300, 4],
        [4, 5, 400, "12"],
        [5, 8, 300, 30],
    ])
    s.row_dimensions[6].hidden = True
    s = book.create_sheet("Boxes")
    fill(s, [
        ["Kind", "Cells", "qty July", "qty Sept"],
        ["Battery box", 2, 10, 6],
        ["Battery box", 3, 4, 9],
    ])
    return book


def main():
    target = pathlib.Path(sys.argv[1]).resolve()
    for name, book, kind in [("21-term", term(), "xlsx"), ("22-drawers", drawers(), "ods"), ("23-beside", beside(), "xlsx")]:
        with tempfile.TemporaryDirectory() as folder:
            laid = pathlib.Path(folder, name + ".xlsx")
            book.save(laid)
            for form in ["xlsx", "ods"]:
                to = target / ("held" if form == kind else "other")
                to.mkdir(exist_ok=True)
                subprocess.run(["soffice", "--headless", "--convert-to", form, "--outdir", str(to), str(laid)], check=True)


main()
