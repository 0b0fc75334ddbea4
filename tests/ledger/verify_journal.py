#!/usr/bin/env python3
"""Checks an evidence folder's journal.csv without Tarewell: verify_journal.py FOLDER

Works every entry's hash out again from the first entry on (README.txt in the folder says how) and holds the last one
against the head printed in README.txt and in the workbook's properties. Prints what it found; exit 1 on any fault."""
import csv
import hashlib
import pathlib
import re
import sys
import zipfile


def fields(texts):
    """Each text as its length in bytes, a colon, the text and a comma; nothing as "-,"."""
    data = [text.encode() for text in texts]
    return b"".join(b"%d:%s," % (len(each), each) if each else b"-," for each in data)


folder = pathlib.Path(sys.argv[1])
csv.field_size_limit(2 ** 24)
before, expected, faults = bytes(32), 1, []
with open(folder / "journal.csv", encoding="utf-8", newline="") as file:
    for row in csv.DictReader(file):
        act = hashlib.sha256(fields(row[name] for name in (
            "act", "at", "who", "command", "reason", "once", "source", "source_sha256"))).digest()
        heading = fields(row[name] for name in ("seq", "kind", "deed", "replaces", "effective", "line"))
        before = hashlib.sha256(before + act + heading + row["values"].encode()).digest()
        if row["seq"] != str(expected):
            faults.append(f"entry {row['seq']} stands where entry {expected} should")
        if row["hash"] != before.hex():
            faults.append(f"entry {row['seq']} says {row['hash']}, its contents give {before.hex()}")
        expected += 1

readme = (folder / "README.txt").read_text(encoding="utf-8")
workbook = next(folder.glob("*.xlsx"))
properties = zipfile.ZipFile(workbook).read("docProps/custom.xml").decode()
for name, text in (("README.txt", readme), (workbook.name, properties)):
    if re.findall(r"\b[0-9a-f]{64}\b", text) != [before.hex()]:
        faults.append(f"{name} prints another head than {before.hex()}")

print("\n".join(faults[:10]) or f"sound: {expected - 1} entries, head {before.hex()}")
sys.exit(1 if faults else 0)
