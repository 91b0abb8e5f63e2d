"""The Python libraries at the same job: `python_peers.py NAME FILES-AS-JSON` prints its times and peak memory as JSON."""
import json
import os
import re
import resource
import sys
import time


FIRST_ROW = 4


def cells_of(files):
    with open(files["cells"], encoding="utf-8") as source:
        cells = json.load(source)
    assert cells["rows"]
    return cells


def rows_of(files):
    return cells_of(files)["rows"]


def by_row(formula):
    """The parts of a formula between which its own row stands."""
    return None if formula is None else re.split(rf"(?<=[A-Z]){FIRST_ROW}(?![0-9(_A-Za-z])", "=" + formula)


def xlsxwriter_formulas(files, clock):
    """It knows no shared formula, so each cell has the whole of its own, with the stored result."""
    import xlsxwriter as library

    cells = cells_of(files)
    rows = cells["rows"]
    formulas = [by_row(formula) for formula in cells["formulas"]]
    assert any(formulas)
    clock()
    book = library.Workbook(os.path.join(files["folder"], "xlsxwriter.xlsx"), {"constant_memory": True, "strings_to_formulas": False, "strings_to_urls": False})
    # With the whole of each formula the sheet is longer than 4 GB.
    book.use_zip64()
    sheet = book.add_worksheet("Readings")
    for index in range(files["inspections"]):
        row, number = rows[index % len(rows)], str(index + 1)
        for column, formula in enumerate(formulas):
            cell = row[column] if column < len(row) else None
            if formula is not None:
                sheet.write_formula(index, column, number.join(formula), None, "" if cell is None else cell)
            elif isinstance(cell, str):
                sheet.write_string(index, column, cell)
            elif cell is not None:
                sheet.write_number(index, column, cell)
    book.close()
    return files["inspections"]


def xlsxwriter(files, clock):
    import xlsxwriter as library

    rows = rows_of(files)
    clock()
    # Text is written inline, which is what its constant-memory mode does.
    book = library.Workbook(os.path.join(files["folder"], "xlsxwriter.xlsx"), {"constant_memory": True, "strings_to_formulas": False, "strings_to_urls": False})
    sheet = book.add_worksheet("Readings")
    for index in range(files["inspections"]):
        for column, cell in enumerate(rows[index % len(rows)]):
            if isinstance(cell, str):
                sheet.write_string(index, column, cell)
            elif cell is not None:
                sheet.write_number(index, column, cell)
    book.close()
    return files["inspections"]


def openpyxl_write(files, clock):
    import openpyxl

    rows = rows_of(files)
    clock()
    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet("Readings")
    for index in range(files["inspections"]):
        sheet.append(rows[index % len(rows)])
    book.save(os.path.join(files["folder"], "openpyxl.xlsx"))
    return files["inspections"]


def openpyxl_read(files, clock):
    import openpyxl

    clock()
    book = openpyxl.load_workbook(files["xlsx"], read_only=True, data_only=True)
    count = 0
    for row in book["Readings"].iter_rows(values_only=True):
        count += len(row)
    return count


def main():
    started = [time.perf_counter(), time.process_time()]

    def clock():
        started[:] = [time.perf_counter(), time.process_time()]

    made = globals()[sys.argv[1]](json.loads(sys.argv[2]), clock)
    print(json.dumps({
        "seconds": time.perf_counter() - started[0],
        "cpu": time.process_time() - started[1],
        "peak": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024,
        "made": made,
    }))


main()
