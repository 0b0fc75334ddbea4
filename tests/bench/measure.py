"""Measures the program against baselines in the same run: measure.py PROGRAM CELLS_ALONE RESULTS.json BUNDLES...

Each command and its baseline run in turn, three times (once where both together take more than 20 s); what is kept are the medians of wall
seconds, of processor seconds (user and system, of the whole process) and of the ratios, and the most memory. Sizes that
stand in RESULTS.json already and are not asked for stay there.
"""
import json
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from datetime import date

HERE = os.path.dirname(os.path.abspath(__file__))
PYTHON = [sys.executable, "-B"]
QUARTER = "2026-Q2"


def run(command, fine=(0, 1)):
    """Wall seconds, processor seconds, MB."""
    started = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
    said = process.stderr.read()
    _, status, usage = os.wait4(process.pid, 0)
    wall = time.perf_counter() - started
    if os.waitstatus_to_exitcode(status) not in fine:
        raise SystemExit(f"{' '.join(command)}\n{said.decode()}")
    return wall, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def sqlite(file, script):
    return ["sqlite3", "-cmd", "PRAGMA cache_size = -262144", file, *script]


class Bench:
    """The measurements of one size."""

    def __init__(self, program, cells_alone, bundles, folder):
        self.program, self.cells_alone, self.bundles, self.folder = program, cells_alone, bundles, folder
        self.season, self.long_season = self.path("season"), self.path("long_season")
        subprocess.run([*PYTHON, os.path.join(HERE, "big_season.py"), str(bundles), self.season], check=True)
        self.ledger, self.work, self.imported = self.path("ledger"), self.path("work"), self.path("imported.db")
        self.found = {}
        self.next_id = 0

    def path(self, name):
        return os.path.join(self.folder, name)

    def ours(self, *arguments, ledger=None):
        return [self.program, "--ledger", ledger or self.ledger, *arguments]

    def measure(self, name, command, baseline_name, baseline, before=lambda: None, before_baseline=lambda: None):
        ours, theirs = [], []
        for _ in range(3):
            before()
            ours.append(run(command()))
            before_baseline()
            theirs.append(run(baseline))
            if ours[0][0] + theirs[0][0] > 20:
                break
        median = lambda of: statistics.median(of)  # noqa: E731
        self.found[name] = {
            "against": baseline_name, "wall": median(r[0] for r in ours), "processor": median(r[1] for r in ours),
            "mb": max(r[2] for r in ours), "baseline_wall": median(r[0] for r in theirs),
            "baseline_processor": median(r[1] for r in theirs),
            "wall_ratio": median(a[0] / b[0] for a, b in zip(ours, theirs)),
            "processor_ratio": median(a[1] / max(b[1], .001) for a, b in zip(ours, theirs))}
        print(f"{self.bundles:>9} {name}: {self.found[name]['wall']:.3f} s, {self.found[name]['processor']:.3f} s of "
              f"processor; {baseline_name}: {self.found[name]['baseline_processor']:.3f} s", flush=True)

    def fresh(self):
        self.remove(self.ledger)
        run([self.program, "new", self.ledger])

    @staticmethod
    def remove(path):
        if os.path.exists(path):
            os.remove(path)

    def import_command(self):
        # The same safety as ours: one transaction, synced as the ledger is.
        lines = ["PRAGMA synchronous = EXTRA;", ".mode csv", "BEGIN;"]
        lines += [f".import {os.path.join(self.season, name)} {name[:-4]}" for name in sorted(os.listdir(self.season))]
        script = self.path("import.sql")
        with open(script, "w", encoding="utf-8") as file:
            file.write("\n".join([*lines, "COMMIT;", ""]))
        return ["sh", "-c", f"sqlite3 -cmd 'PRAGMA cache_size = -262144' {self.imported} < {script}"]

    def intake(self):
        importing = self.import_command()
        taking = self.ours("intake", "season", self.season)
        clear = lambda: self.remove(self.imported)  # noqa: E731
        self.measure("intake", lambda: taking, "sqlite3 .import", importing, self.fresh, clear)
        self.measure("the same files again", lambda: taking, "sqlite3 .import", importing, before_baseline=clear)
        reading = [*PYTHON, os.path.join(HERE, "pandas_intake.py"), self.season]
        self.measure("intake beside pandas", lambda: taking, "pandas reading and checking", reading, self.fresh)

    def entries(self):
        shutil.copy(self.ledger, self.work)
        insert = sqlite(self.imported, ["PRAGMA synchronous = EXTRA",
                                        "INSERT INTO tickets (ticket, net) VALUES (hex(randomblob(8)), '400')"])

        def ticket():
            self.next_id += 1
            return self.ours("record", "ticket", "--ticket", f"N{self.next_id}", "--date", "2026-06-01", "--scale", "P1",
                             "--weighs", "bundle", "--subject", f"R{self.next_id:07}-1", "--net", "40", "--unit", "lb",
                             "--entry", "manual", ledger=self.work)

        def correction():
            self.next_id += 1
            return self.ours("correct", "grower", f"G{self.next_id:06}", "--town", "Wend", "--why", "moved",
                             ledger=self.work)

        self.measure("record a ticket", ticket, "sqlite3 inserting a row", insert)
        self.measure("correct a grower", correction, "sqlite3 inserting a row", insert)

    def questions(self):
        dump = ["sh", "-c", f"sqlite3 {self.imported} .dump > /dev/null"]
        for name, command in {
                "quarter": ("quarter", "show", QUARTER, "--json"), "reconcile": ("reconcile", "--json"),
                "trace a figure": ("trace", "diverted_weight", "--quarter", QUARTER, "--json"),
                "flags": ("flags", "--json")}.items():
            self.measure(name, lambda of=command: self.ours(*of), "sqlite3 .dump", dump)
        self.measure("check", lambda: self.ours("ledger", "check"), "PRAGMA integrity_check",
                     sqlite(self.ledger, ["PRAGMA integrity_check"]))

    def ten_closed(self):
        """The same bundles over three years, with ten quarters closed before the one that is shown."""
        subprocess.run([*PYTHON, os.path.join(HERE, "big_season.py"), str(self.bundles), self.long_season, "3"], check=True)
        ledger, imported = self.path("long_ledger"), self.imported
        self.remove(ledger)
        run([self.program, "new", ledger])
        run(self.ours("intake", "season", self.long_season, ledger=ledger))
        quarters = [f"{year}-Q{quarter}" for year in (2023, 2024, 2025) for quarter in (1, 2, 3, 4)]
        for quarter in quarters[:10]:
            self.close(ledger, quarter)
        self.measure("quarter, ten closed", lambda: self.ours("quarter", "show", quarters[10], "--json", ledger=ledger),
                     "sqlite3 .dump", ["sh", "-c", f"sqlite3 {imported} .dump > /dev/null"])

    def close(self, ledger, quarter):
        signed = ["--prepared-by", "A", "--reviewed-by", "B", "--certified-by", "C"]
        closing = self.ours("quarter", "close", quarter, *signed, ledger=ledger)
        refused = subprocess.run(closing, capture_output=True, text=True, check=False)
        if refused.returncode == 0:
            return
        codes = sorted(set(re.findall(r"--accept ([a-z-]+)=", refused.stderr)))
        run([*closing, *(word for code in codes for word in ("--accept", f"{code}=an invented season has its slips"))])

    def workbook(self):
        book = self.path("quarter.xlsx")
        like = [book, self.path("cells.xlsx")]
        writing = lambda: self.ours("quarter", "workbook", QUARTER, book)  # noqa: E731
        again = lambda: self.remove(book)  # noqa: E731
        run(writing())
        self.measure("workbook", writing, "libxlsxwriter alone", [self.cells_alone, *like], again)
        for library in ("openpyxl", "pandas"):
            alone = [*PYTHON, os.path.join(HERE, "cells_by_python.py"), library, *like]
            self.measure(f"workbook beside {library}", writing, library + " alone", alone, again)

    def start(self):
        true = ["sqlite3", "-version"]
        command = [self.program, "record", "ticket", "--help"]
        self.measure("start", lambda: command, "sqlite3 -version", true)
        self.measure("help", lambda: [self.program, "--help"], "sqlite3 -version", true)


def machine():
    with open("/proc/cpuinfo", encoding="utf-8") as file:
        model = re.search(r"model name\s*: (.*)", file.read()).group(1)
    with open("/proc/meminfo", encoding="utf-8") as file:
        memory = int(re.search(r"MemTotal:\s*(\d+)", file.read()).group(1)) / 1024 ** 2
    return f"{model}, {os.cpu_count()} cores, {memory:.0f} GB; {os.getloadavg()[0]:.1f} processes at work besides"


def main(program, cells_alone, results, sizes):
    told = {"sizes": {}}
    if os.path.exists(results):
        with open(results, encoding="utf-8") as file:
            told = json.load(file)
    told.update(machine=machine(), date=date.today().isoformat())
    for bundles in sizes:
        with tempfile.TemporaryDirectory() as folder:
            bench = Bench(program, cells_alone, bundles, folder)
            for part in (bench.start, bench.intake, bench.entries, bench.questions, bench.workbook, bench.ten_closed):
                part()
                told["sizes"][str(bundles)] = bench.found
                with open(results, "w", encoding="utf-8") as file:
                    json.dump(told, file, indent=1)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], sys.argv[3], [int(size) for size in sys.argv[4:]])
