"""Stands between the program and the server, at a socket of its own, and breaks the connection when it is told to."""
import os
import select
import socket
import struct
import threading


class Between:
    """Forwards everything until a message of the program holds `marker`. Then, by `how`: "after" lets it through and
    hides the answer, "before" keeps it back; either way both sides hang up. With `for_good` nobody is let in after."""

    def __init__(self, server_folder, folder, marker, how, for_good=False):
        self.server_folder, self.marker, self.how, self.for_good = server_folder, marker, how, for_good
        self.broken = False
        self.socket = socket.socket(socket.AF_UNIX, socket.SOCK_STREAM)
        self.socket.bind(os.path.join(folder, ".s.PGSQL.5432"))
        self.socket.listen()
        threading.Thread(target=self._serve, daemon=True).start()

    def _serve(self):
        while True:
            try:
                program, _ = self.socket.accept()
            except OSError:
                return
            if self.broken and self.for_good:
                program.close()
                continue
            server = socket.socket(socket.AF_UNIX, socket.SOCK_STREAM)
            server.connect(os.path.join(self.server_folder, ".s.PGSQL.5432"))
            threading.Thread(target=self._forward, args=(program, server), daemon=True).start()

    def _forward(self, program, server):
        whole = True
        while whole:
            for each in select.select([program, server], [], [])[0]:
                data = _read(each)
                if each is program and not self.broken and self.marker in data:
                    self.broken = True
                    if self.how == "after":
                        server.sendall(data)
                        _read(server)  # until it has answered
                    whole = False
                    break
                whole = whole and bool(data)
                (server if each is program else program).sendall(data)
        for each in (program, server):
            each.close()

    def close(self):
        """Lets nobody in any more."""
        self.socket.close()


def _read(of):
    try:
        return of.recv(1 << 16)
    except OSError:
        return b""


def old_server(folder, version):
    """Answers one visitor as a server of that version would, as far as its greeting (PostgreSQL manual, "Message
    Formats")."""
    listening = socket.socket(socket.AF_UNIX, socket.SOCK_STREAM)
    listening.bind(os.path.join(folder, ".s.PGSQL.5432"))
    listening.listen()

    def greet():
        visitor, _ = listening.accept()
        visitor.recv(1 << 16)

        def message(kind, body):
            return kind + struct.pack("!i", len(body) + 4) + body

        told = [("server_version", version), ("server_encoding", "UTF8"), ("client_encoding", "UTF8")]
        visitor.sendall(message(b"R", struct.pack("!i", 0)) + b"".join(
            message(b"S", f"{name}\0{value}\0".encode()) for name, value in told) + message(b"Z", b"I"))
        visitor.recv(1 << 16)
        visitor.close()

    threading.Thread(target=greet, daemon=True).start()
    return listening
