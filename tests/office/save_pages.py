#!/usr/bin/python3
"""save_pages.py FOLDER: every view of the office page on the sample season, each as a file that stands alone (the style inside it)."""
import http.client
import os
import re
import sys
import time
import urllib.parse

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from office_program import TOP, Office  # noqa: E402

VIEWS = {"today": "/", "enter": "/enter", "sites": "/sites?on=2026-10-03", "site": "/sites?site=S08&on=2026-10-03",
         "sheet_row": "/enter?kind=receipt&sheet=S06&row=1", "register": "/register", "find": "/find", "found": "/find?q=quill",
         "bale": "/record?kind=bale&id=B001", "grower": "/record?kind=grower&id=G001", "correct": "/correct?kind=ticket&id=T0001",
         "quarter": "/quarter?quarter=2026-Q3", "year": "/quarter?quarter=2026", "final": "/quarter?quarter=final",
         "span": "/quarter?quarter=2026-04..2026-09", "flags": "/flags", "files": "/files", "acts": "/acts", "undo": "/undo?act=1",
         "audit": "/audit", "who": "/who", "none": "/no-such-page"}
KINDS = ["ticket", "receipt", "bale", "bundle", "cover", "shipment", "cost", "inkind", "award"]


class Visitor:
    def __init__(self, office):
        self.port, self.cookie = office.port, None
        answer, _ = self.ask("GET", f"/?key={office.key}")
        self.cookie = answer.getheader("Set-Cookie").split(";")[0]
        self.token = re.search(r'name="token" value="(\w+)"', self.ask("GET", "/enter?kind=ticket")[1])[1]

    def ask(self, method, target, body=None, kind="application/x-www-form-urlencoded"):
        headers = {"Origin": f"http://127.0.0.1:{self.port}", "Sec-Fetch-Site": "same-origin", "Content-Type": kind}
        if self.cookie:
            headers["Cookie"] = self.cookie
        wire = http.client.HTTPConnection("127.0.0.1", self.port)
        wire.request(method, target, body, headers if method == "POST" else {k: v for k, v in headers.items() if k == "Cookie"})
        answer = wire.getresponse()
        return answer, answer.read().decode()

    def send(self, target, **fields):
        return self.ask("POST", target, urllib.parse.urlencode({**fields, "token": self.token}))[1]

    def send_file(self, path, name=None, **fields):
        with open(path, "rb") as file:
            content = file.read()
        parts = [f'--edge\r\nContent-Disposition: form-data; name="{key}"\r\n\r\n{value}\r\n'
                 for key, value in {**fields, "token": self.token}.items()]
        parts.append(f'--edge\r\nContent-Disposition: form-data; name="file"; filename="{name or os.path.basename(path)}"\r\n'
                     "Content-Type: text/csv\r\n\r\n")
        body = "".join(parts).encode() + content + b"\r\n--edge--\r\n"
        return self.ask("POST", "/files", body, "multipart/form-data; boundary=edge")[1]


def pages_of(office):
    visitor = Visitor(office)
    pages = {}
    ticket = {"kind": "ticket", "date": "2026-10-02", "scale": "SC1", "weighs": "bale", "subject": "B001", "unit": "lb", "entry": "printed"}
    first = visitor.ask("GET", "/audit")[1]
    pages["working"] = first if "worked out" in first else None
    pages["wrong"] = visitor.send("/enter", **ticket, ticket="T0001", net="-4")
    pages["look"] = visitor.send("/enter", **ticket, ticket="T900", net="350", look="1")
    pages["held"] = visitor.send("/enter", **ticket, ticket="T900", net="9999")
    pages["refused"] = visitor.send_file(os.path.join(TOP, "sample_data", "receipts-2026-10-03.csv"), kind="grower")
    pages["looked_at"] = visitor.send_file(os.path.join(TOP, "sample_data", "receipts-2026-10-03.csv"))
    pages["sheet"] = visitor.send_file(os.path.join(TOP, "sample_data", "form-2026-10.csv"), layout="propose")
    sent = visitor.ask("POST", "/enter", urllib.parse.urlencode({"kind": "grower", "grower": "G900", "name": "Pat Venn", "region": "KB",
                                                                 "token": visitor.token}))[0]
    pages["said"] = visitor.ask("GET", sent.getheader("Location"))[1]
    for kind in KINDS:
        pages[f"form_{kind}"] = visitor.ask("GET", f"/enter?kind={kind}")[1]
    for name, target in VIEWS.items():
        pages[name] = visitor.ask("GET", target)[1]
        while name == "audit" and "being worked out" in pages[name]:
            time.sleep(0.3)
            pages[name] = visitor.ask("GET", target)[1]
    pages["style"] = visitor.ask("GET", "/office.css")[1]
    visitor.cookie = None
    pages["stranger"] = visitor.ask("GET", "/")[1]
    return {name: text for name, text in pages.items() if text}


def main(folder):
    office = Office()
    try:
        pages = pages_of(office)
    finally:
        office.stop()
    style = pages.pop("style")
    for name, text in pages.items():
        text = text.replace('<link rel="stylesheet" href="/office.css">', f"<style>{style}</style>")
        text = text.replace('<script src="/office.js" defer></script>\n', "")
        with open(os.path.join(folder, f"office_{name}.html"), "w", encoding="utf-8") as file:
            file.write(text)


main(sys.argv[1])
