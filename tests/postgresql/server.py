"""A PostgreSQL server of a test's own: in a temporary folder, reached by a socket in it alone, run by a user who may not do
much, and gone with the test."""
import glob
import os
import pwd
import shutil
import signal
import subprocess
import sys
import tempfile
import time

PROGRAM = os.environ["TAREWELL"]
TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))


def binaries():
    """The newest server's folder of programs, as Debian lays them out; a test that finds none is left out (exit 77)."""
    found = sorted(glob.glob("/usr/lib/postgresql/*/bin/initdb"), key=lambda path: int(path.split("/")[4]))
    if not found or not shutil.which("psql"):
        print("PostgreSQL is not installed here")
        sys.exit(77)
    return os.path.dirname(found[-1])


class Server:
    """`with Server() as server:`; `settings` are lines of postgresql.conf."""

    def __init__(self, *settings):
        self.bin = binaries()
        self.folder = tempfile.mkdtemp(prefix="tarewell-pg-")
        self.data = os.path.join(self.folder, "data")
        self.settings = settings
        # The server refuses to run as root.
        self.as_user = []
        if os.getuid() == 0:
            user = pwd.getpwnam("postgres")
            os.chown(self.folder, user.pw_uid, user.pw_gid)
            os.chmod(self.folder, 0o755)
            self.as_user = ["setpriv", f"--reuid={user.pw_uid}", f"--regid={user.pw_gid}", "--clear-groups"]

    def run(self, program, *arguments):
        """One of the server's own programs."""
        return subprocess.run([*self.as_user, os.path.join(self.bin, program), *arguments], cwd=self.folder,
                              check=True, capture_output=True, text=True)

    def __enter__(self):
        self.run("initdb", "-D", self.data, "-U", "owner", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync")
        with open(os.path.join(self.data, "postgresql.conf"), "a", encoding="utf-8") as settings:
            settings.write(f"\nlisten_addresses = ''\nunix_socket_directories = '{self.folder}'\n")
            settings.write("\n".join(self.settings) + "\n")
        self.start()
        return self

    def start(self):
        """Waits until it answers; after a kill its children may take a moment to be gone."""
        for _ in range(50):
            done = subprocess.run([*self.as_user, os.path.join(self.bin, "pg_ctl"), "-D", self.data, "-w", "-s", "-l",
                                   os.path.join(self.folder, "log"), "start"], cwd=self.folder, check=False,
                                  stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            if done.returncode == 0:
                return
            time.sleep(.1)
        with open(os.path.join(self.folder, "log"), encoding="utf-8") as log:
            sys.exit("the server did not start: " + log.read()[-2000:])

    def kill(self):
        """SIGKILL to the postmaster, as a crash would."""
        with open(os.path.join(self.data, "postmaster.pid"), encoding="utf-8") as file:
            os.kill(int(file.readline()), signal.SIGKILL)

    def stop(self):
        """Ends it at once."""
        self.run("pg_ctl", "-D", self.data, "-m", "immediate", "-s", "stop")

    def __exit__(self, *_):
        try:
            self.stop()
        except subprocess.CalledProcessError:
            pass  # it was killed and not started again
        shutil.rmtree(self.folder, ignore_errors=True)

    def url(self, database, user="owner", host=None):
        """The address of a database."""
        return f"postgresql://{user}@/{database}?host={host or self.folder}"

    def sql(self, text, database="postgres", user="owner", check=True):
        """psql's rows, values apart by |; with check=False its complaint where it refuses."""
        done = subprocess.run(["psql", "-X", "-q", "-A", "-t", "-v", "ON_ERROR_STOP=1", "-d", self.url(database, user),
                               "-c", text], check=False, capture_output=True, text=True)
        if check and done.returncode:
            sys.exit(f"psql: {text}: {done.stderr}")
        return done.stdout.strip() if done.returncode == 0 else done.stderr.strip()

    def database(self, name):
        """A new database's address."""
        self.sql(f'CREATE DATABASE "{name}"')
        return self.url(name)


def tell(*arguments, ledger=None, **more):
    """What the program does with these words."""
    environment = dict(os.environ, TAREWELL_WHO="Maud Ellery", **more)
    environment.pop("TAREWELL_LEDGER", None)
    named = ["--ledger", ledger] if ledger else []
    return subprocess.run([PROGRAM, *named, *arguments], check=False, capture_output=True, text=True, env=environment)


def must(*arguments, ledger=None):
    """Its output; the test ends where it refuses."""
    done = tell(*arguments, ledger=ledger)
    if done.returncode:
        sys.exit(f"{' '.join(arguments)}: {done.returncode}: {done.stdout}{done.stderr}")
    return done.stdout


def head(ledger):
    """Fingerprint and number of the last entry."""
    words = must("ledger", "head", ledger=ledger).split()
    return (words[0], int(words[2])) if len(words) > 2 else ("", 0)


class Findings:
    """Counts what was tried and what was wrong."""

    def __init__(self):
        self.tried, self.wrong = 0, []

    def check(self, true, what):
        """One thing that should be so."""
        self.tried += 1
        if not true:
            self.wrong.append(what)
            print("wrong:", what)

    def end(self):
        """Exit code 0 where all was as it should be."""
        print(f"{self.tried} checks, {len(self.wrong)} wrong")
        sys.exit(bool(self.wrong) or self.tried == 0)
