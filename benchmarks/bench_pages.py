"""How quickly the demo garden's pages answer, and how many bytes a first view needs.

Starts a real server in a folder that is thrown away, opens the demo, waits for its plan, then asks
every page over plain http without compression, as a telephone on a local network would. Run:

    .venv/bin/python benchmarks/bench_pages.py [--times 30]

Prints a table of medians in milliseconds and the bytes of the first view of Today: the page, its
styles, scripts and face, without the chart bundle, which loads when a chart is opened.
"""

from __future__ import annotations

import argparse
import http.cookiejar
import os
import re
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.parse
import urllib.request

PAGES = (
    "/", "/garden/", "/bed/W2/", "/bed/R1/", "/soil/", "/shed/", "/crops/", "/journal/",
    "/what-if/", "/reckon/", "/settings/", "/safekeeping/",
)  # fmt: skip
PATIENCE = 120.0


class Visitor:
    """A browser without script: cookies, forms, and nothing else."""

    def __init__(self, address: str) -> None:
        self.address = address.rstrip("/")
        jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        self.opener = urllib.request.build_opener(jar)

    def get(self, path: str) -> bytes:
        with self.opener.open(self.address + path) as answer:
            return answer.read()

    def post(self, path: str, page: bytes) -> bytes:
        token = re.search(rb'csrfmiddlewaretoken" value="([^"]+)"', page)
        assert token is not None
        data = urllib.parse.urlencode({"csrfmiddlewaretoken": token[1].decode()}).encode()
        asked = urllib.request.Request(
            self.address + path, data, {"Referer": self.address + "/start/"}
        )
        with self.opener.open(asked) as answer:
            return answer.read()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--times", type=int, default=30)
    times = parser.parse_args().times
    with tempfile.TemporaryDirectory() as folder:
        server = subprocess.Popen(
            [sys.executable, "-m", "bedwright", "serve", "--home", f"{folder}/home", "--port", "0"],
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            env={**os.environ, "BEDWRIGHT_AS_OF": "2026-11-25"},
        )
        try:
            assert server.stdout is not None
            line = next(each for each in server.stdout if "http" in each)
            _measure(Visitor(line[line.index("http") :].split()[0]), times)
        finally:
            server.terminate()
            server.wait(20)


def _measure(visitor: Visitor, times: int) -> None:
    visitor.post("/start/demo/", visitor.get("/start/"))
    until = time.monotonic() + PATIENCE
    while b'class="work"' in visitor.get("/"):
        if time.monotonic() > until:
            raise SystemExit("the plan was not made in time")
        time.sleep(0.5)
    print(f"load of the machine (1, 5, 15 minutes): {os.getloadavg()}; {times} requests each")
    print("| page | median, ms | slowest, ms | bytes |\n|---|---:|---:|---:|")
    for path in PAGES:
        body = visitor.get(path)
        taken = []
        for _ in range(times):
            start = time.perf_counter()
            visitor.get(path)
            taken.append((time.perf_counter() - start) * 1000)
        print(f"| `{path}` | {statistics.median(taken):.0f} | {max(taken):.0f} | {len(body)} |")
    print(f"first view of Today: {_first_view(visitor)} bytes")


def _first_view(visitor: Visitor) -> int:
    page = visitor.get("/")
    found = set(re.findall(rb'(?:href|src)="(/static/[^"]+)"', page))
    total = len(page)
    for each in found:
        body = visitor.get(each.decode())
        total += len(body)
        if each.endswith(b".css"):
            for face in re.findall(rb'url\("?([^")]+)"?\)', body):
                path = urllib.parse.urljoin(each.decode(), face.decode())
                if path.encode() not in found:
                    total += len(visitor.get(path))
    return total


if __name__ == "__main__":
    main()
