"""Runs the walk against the built service, and the client against one that loses answers.

    python3 check.py PROGRAM
"""
import http.server
import os
import re
import subprocess
import sys
import tempfile
import threading

from seamwright import Refused, Seamwright
from walk import walk


class Losing(http.server.BaseHTTPRequestHandler):
    """Takes two calls and says nothing good of them, then answers."""

    keys = []

    def do_POST(self):
        self.rfile.read(int(self.headers["Content-Length"]))
        self.keys.append(self.headers["Idempotency-Key"])
        if len(self.keys) == 1:
            self.close_connection = True  # the answer is lost
            return
        status, raw = (503, b"away") if len(self.keys) == 2 else (201, b'{"id": "q"}')
        self.send_response(status)
        self.send_header("Content-Length", str(len(raw)))
        self.send_header("Retry-After", "0.05")
        self.end_headers()
        self.wfile.write(raw)

    def log_message(self, *_):
        pass


def retries():
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Losing)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    answer, _ = Seamwright("http://127.0.0.1:%d" % server.server_address[1]).call("POST", "/v1/quotes", {})
    server.shutdown()
    assert answer == {"id": "q"}, answer
    assert len(Losing.keys) == 3 and len(set(Losing.keys)) == 1, "another key for another try: %s" % Losing.keys
    print("sent again with the same key:", len(Losing.keys), "times in all")


def against(program):
    with tempfile.TemporaryDirectory(prefix="seamwright-python-") as folder:
        os.chmod(folder, 0o711)  # started by root, the database runs as somebody else
        service = subprocess.Popen([program, "--listen", "127.0.0.1:0", "--data-dir", os.path.join(folder, "data"),
                                    "--log-level", "error"], stdout=subprocess.PIPE, text=True)
        try:
            key = base = None
            for line in service.stdout:
                key = re.search(r"export KEY=\$\(cat ([^)]+)\)", line) or key
                base = re.search(r"serves on (http://\S+)", line)
                if base:
                    break
            assert key and base, "the service did not start"
            with open(key.group(1), encoding="utf-8") as file:
                walk(Seamwright(base.group(1), file.read().strip()))
            try:
                Seamwright(base.group(1), "seam_secret_of_nobody").call("GET", "/v1/quotes")
                raise AssertionError("a stranger was let in")
            except Refused as why:
                assert why.status == 401, why
        finally:
            service.terminate()
            service.wait(30)


if __name__ == "__main__":
    retries()
    against(sys.argv[1])
