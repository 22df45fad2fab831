"""A client of seamwright in Python's standard library alone (3.9 or later): copy it into what calls the service.

Every write gets an Idempotency-Key of its own, so that it can be sent again when an answer was lost: the service does it once.
"""
import json
import time
import urllib.error
import urllib.parse
import urllib.request
import uuid

MOST_TRIES = 5


class Refused(Exception):
    """What the service refuses, as a problem (RFC 9457). `errors` lists every violation with its JSON pointer."""

    def __init__(self, problem):
        self.status = problem.get("status")
        self.errors = problem.get("errors", [])
        lines = ["%s %s: %s" % (self.status, problem.get("title"), problem.get("detail"))]
        lines += ["  %s: %s" % (e["pointer"], e["detail"]) for e in self.errors]
        super().__init__("\n".join(lines))


class Seamwright:
    def __init__(self, base, key=""):
        self.base, self.key = base.rstrip("/"), key

    def call(self, method, path, body=None, query=None, kind="application/json", headers=None):
        """Sends one call until it is answered, and returns what was answered and its headers."""
        url = self.base + path + ("?" + urllib.parse.urlencode(query) if query else "")
        raw = body if isinstance(body, bytes) or body is None else json.dumps(body).encode()
        said = dict(headers or {})
        if self.key:
            said["Authorization"] = "Bearer " + self.key
        if raw is not None:
            said["Content-Type"] = kind
        if method != "GET":
            said["Idempotency-Key"] = str(uuid.uuid4())  # the same for every try
        for attempt in range(1, MOST_TRIES + 1):
            wait = 0.2 * 2 ** attempt
            try:
                request = urllib.request.Request(url, raw, said, method=method)
                with urllib.request.urlopen(request, timeout=40) as answer:
                    text = answer.read()
                    return (json.loads(text) if text else None), answer.headers
            except urllib.error.HTTPError as refusal:
                problem = _problem(refusal)
                again = refusal.code in (429, 502, 503, 504) or "idempotency-key-in-use" in problem.get("type", "")
                if not again or attempt == MOST_TRIES:
                    raise Refused(problem) from None
                asked = refusal.headers.get("Retry-After", "")
                wait = float(asked) if asked.replace(".", "", 1).isdigit() else wait
            except (urllib.error.URLError, ConnectionError, TimeoutError):
                if attempt == MOST_TRIES:
                    raise
            time.sleep(wait)

    def pages(self, path, **query):
        """All items of a list, page after page."""
        while True:
            page, _ = self.call("GET", path, query=query)
            yield from page["items"]
            if not page.get("next_cursor"):
                return
            query["cursor"] = page["next_cursor"]


def _problem(refusal):
    try:
        return json.loads(refusal.read())
    except ValueError:  # not from the service: a proxy's own words
        return {"status": refusal.code, "title": refusal.reason, "detail": "The answer is no problem of the service."}
