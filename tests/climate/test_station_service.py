"""Fetching a record from a server on this machine that answers as the agency's service does.

Its answers follow the documentation (one table of days, columns by what the station has), and its
faults are those of any public service: busy, slow, cut off, an error page that says all is well.
"""

import csv
import io
import threading
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest

from bedwright import __version__
from bedwright.climate.formats import read_weather
from bedwright.climate.limits import weather_limits
from bedwright.reference import Library
from bedwright.station_service import Patience, Service, ServiceError, fetch, service_of

pytestmark = pytest.mark.allow_hosts(["127.0.0.1"])

STATION, TODAY = "USC00000000", date(2026, 11, 25)
QUICK = Patience(attempts=4, first_wait_s=0.01, longest_wait_s=0.05, timeout_s=2.0)
Answer = tuple[int, dict[str, str], bytes]
Asked = dict[str, str]


def table(asked: Asked, rain: bool = True) -> bytes:
    """Days as the service writes them in metric units."""
    day, last = (date.fromisoformat(asked[name]) for name in ("startDate", "endDate"))
    columns = ["STATION", "DATE", "LATITUDE", "LONGITUDE", "ELEVATION", "NAME"]
    columns += ["PRCP", "PRCP_ATTRIBUTES"] if rain else []
    columns += ["TMAX", "TMAX_ATTRIBUTES", "TMIN", "TMIN_ATTRIBUTES"]
    lines = [",".join(f'"{each}"' for each in columns)]
    while day <= last:
        cells = [asked["stations"], day.isoformat(), "46.1", "-118.3", "180.0", "INVENTED, WA US"]
        cells += ["0.3", ",,0,0700"] if rain else []
        cells += [f"{day.day}.5", ",,0,0700", f"-{day.month}.5", ",,0,0700"]
        lines.append(",".join(f'"{each}"' for each in cells))
        day += timedelta(1)
    return ("\n".join(lines) + "\n").encode()


class Server:
    """Answers from a script, one after the other for each first day asked; then the table."""

    def __init__(self) -> None:
        self.asked: list[Asked] = []
        self.agents: list[str] = []
        self.script: dict[str, list[Answer | Callable[[Asked], Answer]]] = {}
        server = self

        class Handler(BaseHTTPRequestHandler):
            def do_GET(self) -> None:
                asked = {
                    name: each[0] for name, each in parse_qs(urlsplit(self.path).query).items()
                }
                server.asked.append(asked)
                server.agents.append(self.headers["User-Agent"])
                status, headers, body = server.answer(asked)
                self.send_response(status)
                headers = {"Content-Length": str(len(body)), **headers}
                for name, value in headers.items():
                    self.send_header(name, value)
                self.end_headers()
                self.wfile.write(body)
                self.close_connection = True

            def log_message(self, *_: object) -> None:
                pass

        self._http = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self._thread = threading.Thread(target=self._http.serve_forever, args=(0.02,), daemon=True)
        self._thread.start()

    def answer(self, asked: Asked) -> Answer:
        waiting = self.script.get(asked["startDate"]) or self.script.get("always", [])
        if not waiting:
            return 200, {}, table(asked)
        found = waiting[0] if waiting is self.script.get("always") else waiting.pop(0)
        return found(asked) if callable(found) else found

    def close(self) -> None:
        self._http.shutdown()
        self._http.server_close()
        self._thread.join()

    @property
    def service(self) -> Service:
        port = self._http.server_address[1]
        address = f"{'http'}://127.0.0.1:{port}/access/services/data/v1"
        return Service(address, "daily-summaries", ("TMAX", "TMIN", "PRCP"), "metric")


@pytest.fixture
def server() -> Iterator[Server]:
    made = Server()
    yield made
    made.close()


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "station.csv"


def fetched(server: Server, out: Path, **more: object):
    given: dict[str, object] = {
        "start": date(2019, 6, 1), "end": date(2021, 2, 10), "today": TODAY, "patience": QUICK,
    }  # fmt: skip
    given |= more
    return fetch(STATION, out, service=server.service, **given)


def failed(server: Server, out: Path, **more: object) -> ServiceError:
    with pytest.raises(ServiceError) as caught:
        fetched(server, out, **more)
    return caught.value


def days(path: Path) -> list[str]:
    return [row["DATE"] for row in csv.DictReader(io.StringIO(path.read_text(encoding="utf-8")))]


def test_a_record_comes_by_years_and_is_read_like_any_other(server: Server, out: Path):
    seen: list[tuple[int, int, int]] = []

    made = fetched(server, out, progress=lambda *each: seen.append(each))

    assert seen == [(1, 3, 2019), (2, 3, 2020), (3, 3, 2021)]
    assert (made.days, made.chunks, made.reused, made.empty_years) == (621, 3, 0, ())
    limits = weather_limits(Library().rows("weather_limits"))
    file = read_weather(out.read_bytes(), "station", limits)
    assert (file.format, file.units, file.record.days) == ("daily_summaries", "metric", 621)
    assert (file.record.t_max_c[0], file.record.t_min_c[0]) == (1.5, -6.5)


def test_the_request_is_the_documented_one_with_an_honest_name(server: Server, out: Path):
    fetched(server, out, end=date(2019, 7, 1))

    assert server.asked == [
        {
            "dataset": "daily-summaries", "stations": STATION, "startDate": "2019-06-01",
            "endDate": "2019-07-01", "dataTypes": "TMAX,TMIN,PRCP", "units": "metric",
            "format": "csv", "includeAttributes": "true", "includeStationName": "true",
            "includeStationLocation": "1",
        }
    ]  # fmt: skip
    assert server.agents == [f"bedwright/{__version__}"]


def test_a_busy_server_is_asked_again(server: Server, out: Path):
    server.script["2020-01-01"] = [(503, {}, b"busy"), (500, {}, b"")]

    assert fetched(server, out).days == 621
    assert len(server.asked) == 5


def test_the_wait_that_a_server_asks_for_is_kept(server: Server, out: Path):
    import time

    server.script["2020-01-01"] = [(429, {"Retry-After": "1"}, b"slow down")]
    start = time.monotonic()

    assert fetched(server, out).days == 621
    assert time.monotonic() - start >= 1


def test_an_answer_that_breaks_off_is_asked_for_again(server: Server, out: Path):
    def broken(asked: Asked) -> Answer:
        body = table(asked)
        return 200, {"Content-Length": str(len(body))}, body[: len(body) // 2]

    server.script["2020-01-01"] = [broken]

    assert fetched(server, out).days == 621
    assert len(set(days(out))) == 621


def test_an_answer_that_ends_early_without_saying_so_is_asked_for_again(server: Server, out: Path):
    server.script["2020-01-01"] = [lambda asked: (200, {}, table(asked)[:-40])]

    assert fetched(server, out).days == 621


def test_an_error_page_that_says_all_is_well_is_no_weather(server: Server, out: Path):
    page = b"<!DOCTYPE html>\n<html><body>Maintenance</body></html>"
    server.script["2020-01-01"] = [(200, {"Content-Type": "text/html"}, page)]

    assert fetched(server, out).days == 621

    server.script["always"] = [(200, {}, page)]
    error = failed(server, out, cache=out.with_name("other"))
    assert (error.code, error.data["attempts"]) == ("service_answer_broken", 4)
    assert str(error.data["text"]).startswith("<!DOCTYPE html>")


def test_another_stations_days_are_not_taken(server: Server, out: Path):
    server.script["always"] = [lambda asked: (200, {}, table({**asked, "stations": "USC00000009"}))]

    assert failed(server, out).code == "service_answer_broken"


def test_days_of_another_year_are_not_taken(server: Server, out: Path):
    server.script["always"] = [lambda asked: (200, {}, table({**asked, "startDate": "2018-12-31"}))]

    assert failed(server, out).code == "service_answer_broken"


def test_a_year_without_days_is_told_and_asked_for_again_next_time(server: Server, out: Path):
    server.script["2020-01-01"] = [(200, {}, b"\n")]

    assert fetched(server, out).empty_years == (2020,)
    again = fetched(server, out)
    assert (again.empty_years, again.reused) == ((), 2)


def test_a_station_that_the_service_does_not_know(server: Server, out: Path):
    server.script["always"] = [(200, {}, b"")]

    error = failed(server, out)

    assert error.code == "service_nothing"
    assert error.data["station"] == STATION
    assert not out.exists()


def test_a_request_that_is_refused_says_what_the_service_says_and_is_not_repeated(
    server: Server, out: Path
):
    body = b'{"errorCode": 400, "errorMessage": "station is not valid"}'
    server.script["always"] = [(400, {"Content-Type": "application/json"}, body)]

    error = failed(server, out)

    assert (error.code, error.data["text"]) == ("service_refused", "station is not valid")
    assert len(server.asked) == 1


def test_a_server_that_stays_busy_is_given_up_and_what_came_is_kept(server: Server, out: Path):
    server.script["2021-01-01"] = [(503, {}, b"")] * 4

    error = failed(server, out)

    assert (error.code, error.data["status"], error.data["attempts"]) == ("service_busy", 503, 4)
    assert not out.exists()
    server.asked.clear()
    made = fetched(server, out)
    assert (made.reused, made.days) == (2, 621)
    assert [asked["startDate"] for asked in server.asked] == ["2021-01-01"]


def test_a_server_that_is_not_there(server: Server, out: Path):
    service = server.service
    server.close()

    with pytest.raises(ServiceError) as caught:
        fetch(
            STATION, out, date(2020, 1, 1), date(2020, 2, 1), service, today=TODAY, patience=QUICK
        )

    assert caught.value.code == "service_unreachable"


def test_a_server_that_never_answers_is_given_up(server: Server, out: Path):
    import time

    def slow(asked: Asked) -> Answer:
        time.sleep(0.4)
        return 200, {}, table(asked)

    server.script["always"] = [slow]

    error = failed(server, out, patience=Patience(2, 0.01, 0.01, 1, 0.1))

    assert error.code == "service_unreachable"


def test_years_that_ended_lately_are_asked_for_again(server: Server, out: Path):
    span = {"start": date(2025, 1, 1), "end": date(2026, 3, 1)}
    fetched(server, out, today=date(2026, 3, 2), **span)
    server.asked.clear()

    assert fetched(server, out, today=date(2026, 3, 2), **span).reused == 0
    assert fetched(server, out, today=date(2026, 4, 15), **span).reused == 1


@pytest.mark.parametrize("harm", [b"", b"<html>", None])
def test_a_kept_year_that_is_not_whole_is_thrown_away(
    harm: bytes | None, server: Server, out: Path
):
    fetched(server, out)
    folder = out.with_name("station.csv.parts")
    (chunk,) = folder.glob("*20200101*")
    chunk.write_bytes(chunk.read_bytes()[:-20] if harm is None else harm)
    partial = folder / f".{chunk.name}.abc123"
    partial.write_text("half of a write that was broken off", encoding="utf-8")

    made = fetched(server, out)

    assert made.days == 621
    assert not partial.exists()
    assert len(days(out)) == 621


def test_years_with_unlike_columns_make_one_table(server: Server, out: Path):
    server.script["2019-06-01"] = [lambda asked: (200, {}, table(asked, rain=False))]

    fetched(server, out)

    rows = list(csv.DictReader(io.StringIO(out.read_text(encoding="utf-8"))))
    assert (rows[0]["PRCP"], rows[-1]["PRCP"]) == ("", "0.3")
    assert {row["TMIN"] for row in rows if row["DATE"].endswith("-07-01")} == {"-7.5"}


def test_the_old_file_stays_when_nothing_comes(server: Server, out: Path):
    out.write_text("old", encoding="utf-8")
    server.script["always"] = [(503, {}, b"")]

    failed(server, out)

    assert out.read_text(encoding="utf-8") == "old"


def test_a_folder_that_cannot_be_written_is_told(server: Server, tmp_path: Path):
    (tmp_path / "file").write_text("", encoding="utf-8")

    error = failed(server, tmp_path / "file" / "station.csv")

    assert error.code == "service_not_written"


@pytest.mark.parametrize("name", ["", "walla walla", "../../../etc", "usc00000000", "USC0000000"])
def test_a_name_that_is_none_is_refused_before_anything_is_asked(
    name: str, server: Server, out: Path
):
    with pytest.raises(ServiceError) as caught:
        fetch(name, out, date(2020, 1, 1), date(2020, 2, 1), server.service, today=TODAY)

    assert caught.value.code == "service_station_name"
    assert server.asked == []


def test_a_span_that_ends_before_it_starts_is_refused(server: Server, out: Path):
    assert failed(server, out, end=date(2019, 5, 31)).code == "service_span"


def test_the_table_names_the_service_and_its_elements(library: Library):
    found = service_of(library)

    assert found.address.startswith("https" + "://")
    assert {"TMAX", "TMIN", "PRCP", "MDPR", "DAPR"} <= set(found.elements)
    with pytest.raises(LookupError):
        service_of(library, "another")
