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


def workshop():
    """51: titles above headings, a second table below, merged cells, blank columns, dates,
    formulas, struck-out rows and words, and sheets that say what is on them is not there."""
    book = Workbook()
    s = book.active
    s.title = "Pulleys & wheels"
    fill(s, [
        [None, "Vole Street Juniors: D&T store"],
        [None, "counted by the Year 6 monitors", None, None, None, None, OCT],
        [],
        [None, "Pulleys"],
        [None, "Colour", "Ø", None, "Hole", "In box", "Last looked at"],
        [None, "red", 40, None, 5, 12, OCT],
        [None, "blue", 30, None, 5, "=6+4", OCT],
        [None, "green", 20, None, 5, 8, OCT],
        [None, "white", 50, None, 4, "=F6/2", OCT],
        [None, "grey", 25, None, 5, 9, AUG],
        [None, "pink", 15, None, 5, "12 9", AUG],
        [None, "brown", 35, None, 5, AUG, AUG],
        [None, "all pulleys", None, None, None, "=SUM(F6:F11)"],
        [],
        [None, "Wheels"],
        [None, "How many", "Wood", None, "Ø (cm)", "Hole (mm)", "Last looked at"],
        [None, 16, "oak", None, 5, 5, OCT],
        [None, "=2*6", "ash", None, 4, 5, OCT],
        [None, 10, "elm", None, 6, "=\"\"", OCT],
    ], {"F12": "d-mmm"})
    s.merge_cells("B1:G1")
    s.merge_cells("C5:D5")
    for column in "BCDEFG":
        s[column + "8"].font = Font(strike=True)

    s = book.create_sheet("Rods")
    fill(s, [
        ["Kind", "Thick", "Long", "Place", "Qty"],
        ["Dowel", "5 mm", "300 mm", "rack 1", 40],
        [None, "6 mm", None, "rack 1", 20],
        [None, "8 mm", None, "rack 2", 10],
        ["Steel rod", "3 mm", "250 mm", "rack 2", 8],
    ])
    s.merge_cells("A2:A4")
    s.merge_cells("C2:C4")
    s = book.create_sheet("On loan")
    fill(s, [["Kind", "Outside", "Bore", "Qty"], ["Pulley", "60 mm", "5 mm", 6]])
    s = book.create_sheet("To order")
    fill(s, [["Kind", "Volts", "rpm", "Qty"], ["Motor", 3, 5000, 10]])
    s = book.create_sheet("Bands")
    fill(s, [
        ["Size", "Bags of", "Bags", "Bands"],
        [16, 100, 2, "=B2*C2"],
        [18, 50, 3, "=B3*C3"],
        ["63 x 3", 40, 1, "=B4*C4"],
    ])
    s = book.create_sheet("Motors")
    fill(s, [
        ["Motors"],
        ["Volts", "Free speed (rpm)", "Works", "Qty"],
        [3, 5200, "yes", 8],
        [3, 5200, "no", 3],
        [4.5, 6000, "most", 6],
    ])
    return book


def annual():
    """52: saved as OpenDocument; a sheet for each year's count of the same tubs, struck-out
    lines, percentages, texts that look like numbers, errors and an empty first sheet."""
    book = Workbook()
    s = book.active
    s.title = "Read me"
    s = book.create_sheet("2025")
    fill(s, [
        ["Kind", "Name", "Outside", "Bore", "Qty", "Drawer"],
        ["pulley", "red", 40, 5, 20, 1],
        ["pulley", "blue", 30, 5, 18, 1],
    ])
    s = book.create_sheet("2026")
    fill(s, [
        ["Kind", "Name", "Outside", "Bore", "Qty", "Drawer"],
        ["pulley", "red", 40, 5, 14, 1],
        ["pulley", "blue", 30, 5, 16, 1],
        ["pulley", "green", 20, 5, 11, 2],
    ])
    s = book.create_sheet("Other things")
    fill(s, [
        ["Thing", "Size", "Hole", "Stock", "Full at"],
        ["Wheel", "50 mm", "5 mm", 0.5, 40],
        ["Wheel", "40 mm", "5 mm", "16", 40],
        ["Wheel", "=NA()", "5 mm", 12, 40],
        ["Dowel", "5 mm x 300 mm", None, 30, 50],
        ["Dowel", "6 mm x 300 mm", None, "=30-", 50],
        ["Dowel", "8 mm x 300 mm", None, True, 50],
        ["Battery box", "2 x AA", None, 9, 12],
        ["Battery box", "3 x AA", None, 5, 12],
        ["Cord", "1 mm x 10 m", None, "=\"2\"", 3],
    ], {"D2": "0%"})
    s["D6"] = "30-?"
    for cell in s[9]:
        cell.font = Font(strike=True)
    return book


def register():
    """53: one long sheet, every kind in it, headings twice, a frozen code column, item
    numbers, two counts by date, hidden columns, wide merged titles within, prices."""
    book = Workbook()
    s = book.active
    s.title = "Asset register"
    fill(s, [
        ["ASSET REGISTER - design and technology"],
        ["Code", "Asset", "Dimensions", "Counted 05/08", "Counted 03/10", "Unit cost", "Value"],
        ["DT001", "Pulley, plastic", "40 mm dia, 5 mm bore", 14, 12, 0.45, "=E3*F3"],
        ["DT002", "Pulley, plastic", "30 mm dia, 5 mm bore", 10, 10, 0.4, "=E4*F4"],
        ["DT003", "Motor", "3 V, 5000 rpm", 9, 7, 1.25, "=E5*F5"],
        ["WHEELS AND AXLES"],
        ["DT010", "Wheel", "50 mm dia, 5 mm bore", 24, 20, 0.3, "=E7*F7"],
        ["DT011", "Axle, steel", "4 mm x 150 mm", 30, None, 0.25, None],
        ["DT012", "Axle, dowel", "5 mm x 300 mm", None, 40, 0.12, "=E9*F9"],
        [None, None, None, None, None, "Total", "=SUM(G3:G9)"],
        ["Code", "Asset", "Dimensions", "Counted 03/10", "Counted 05/08", "Unit cost", "Value"],
        ["DT020", "Rubber bands", "63 x 1.5 mm", 80, 100, 0.01, "=D12*F12"],
        ["DT021", "Battery holder", "2 x AA", 6, 8, 0.9, "=D13*F13"],
    ], {"F3": '"£"0.00', "F4": '"£"0.00', "F5": '"£"0.00', "F7": '"£"0.00', "F8": '"£"0.00', "F9": '"£"0.00'})
    s.merge_cells("A1:G1")
    s.merge_cells("A6:G6")
    s.column_dimensions["A"].hidden = True
    return book


def main():
    target = pathlib.Path(sys.argv[1]).resolve()
    for name, book, kind in [("21-term", term(), "xlsx"), ("22-drawers", drawers(), "ods"), ("23-beside", beside(), "xlsx"),
                             ("51-workshop", workshop(), "xlsx"), ("52-annual", annual(), "ods"), ("53-register", register(), "xlsx")]:
        with tempfile.TemporaryDirectory() as folder:
            laid = pathlib.Path(folder, name + ".xlsx")
            book.save(laid)
            for form in ["xlsx", "ods"]:
                to = target / ("held" if form == kind else "other")
                to.mkdir(exist_ok=True)
                subprocess.run(["soffice", "--headless", "--convert-to", form, "--outdir", str(to), str(laid)], check=True)


main()
