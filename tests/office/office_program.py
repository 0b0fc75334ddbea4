"""The office page as a process of its own, for the checks beside this file."""
import os
import re
import shutil
import signal
import subprocess
import tempfile

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
PROGRAM = os.environ.get("TAREWELL", os.path.join(TOP, ".build", "release", "tarewell"))


class Office:
    """A ledger with the sample season in a folder of its own, and `tarewell office` on it."""

    def __init__(self, who="Maud Ellery"):
        self.folder = tempfile.mkdtemp(prefix="tarewell_office_check_")
        self.ledger = os.path.join(self.folder, "kestrel.tarewell")
        self.who = who
        self.run("new", self.ledger)
        self.run("intake", "season", os.path.join(TOP, "sample_data", "season"))
        self.start()

    def run(self, *arguments, code=0):
        """A command in a terminal; what it printed."""
        done = subprocess.run([PROGRAM, "--ledger", self.ledger, "--who", "A terminal", *arguments], capture_output=True,
                              text=True, check=False)
        if code is not None and done.returncode != code:
            raise AssertionError(f"{arguments} gave {done.returncode}: {done.stdout}{done.stderr}")
        return done.stdout

    def start(self):
        arguments = [PROGRAM, "--ledger", self.ledger, "office", "--no-browser"]
        if self.who:
            arguments[3:3] = ["--who", self.who]
        self.process = subprocess.Popen(arguments, stdout=subprocess.PIPE, text=True)
        self.link = ""
        while not self.link:
            line = self.process.stdout.readline()
            if not line:
                raise AssertionError("tarewell office ended at once")
            found = re.search(r"http://127\.0\.0\.1:(\d+)/\?key=([0-9a-f]{64})$", line.strip())
            if found:
                self.link, self.port, self.key = found.group(0), int(found.group(1)), found.group(2)

    def head(self):
        """The number of the journal's last entry."""
        return int(self.run("ledger", "head").split()[2])

    def memory(self):
        """What it holds in memory, in MB."""
        with open(f"/proc/{self.process.pid}/status", encoding="utf-8") as file:
            return int(re.search(r"VmRSS:\s+(\d+) kB", file.read()).group(1)) // 1024

    def stop(self):
        """Ctrl-C; the exit code."""
        self.process.send_signal(signal.SIGINT)
        try:
            return self.process.wait(timeout=10)
        finally:
            self.process.kill()
            self.process.stdout.close()
            shutil.rmtree(self.folder, ignore_errors=True)
