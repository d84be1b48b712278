"""A logger's file read, taken in, and read back as a series.

Run: python -m tests.benchmarks.bench_temperatures
"""

from __future__ import annotations

import csv
import io
import tempfile
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from rounds.daybook.series import as_text, read_series, write_series
from rounds.exchange.loggers import Log, read_log
from tests.benchmarks.measure import heading, paired, row, seconds

PARIS = ZoneInfo("Europe/Paris")


def a_file(rows: int) -> bytes:
    """A logger's file with a reading every two minutes: semicolons, decimal commas, day first, local time."""
    start = datetime(2024, 1, 1)
    lines = ["Name;shelf B", "", "Datum;Temp °C;Feuchte %"]
    for turn in range(rows):
        temperature = f"{18 + turn % 70 / 10:.1f}".replace(".", ",")
        lines.append(
            f"{start + timedelta(minutes=2 * turn):%d.%m.%Y %H:%M:%S};{temperature};{50 + turn % 20}"
        )
    return "\r\n".join(lines).encode("cp1252")


def plainly(raw: bytes) -> int:
    """The baseline: the standard library's reader of tables, a time and two numbers from each line."""
    found = 0
    for cells in csv.reader(io.StringIO(raw.decode("cp1252")), delimiter=";"):
        if len(cells) == 3 and cells[0][:1].isdigit():
            datetime.strptime(cells[0], "%d.%m.%Y %H:%M:%S").replace(tzinfo=PARIS).timestamp()
            float(cells[1].replace(",", "."))
            float(cells[2])
            found += 1
    return found


def ours(raw: bytes) -> Log:
    """The readings, as the command reads them."""
    return read_log(raw, zone=PARIS, zone_name="Europe/Paris", zone_said=False, now=time.time())


def main() -> None:
    """Print the table."""
    print(heading())
    for size in (10_000, 100_000, 500_000):
        raw = a_file(size)
        ratios = paired(lambda: ours(raw), lambda: plainly(raw), 3)
        print(row(f"{size:,} lines read, against csv.reader and strptime", ratios, ""))
    log = ours(raw)
    with tempfile.TemporaryDirectory() as name:
        text = as_text(log.seconds, log.temperatures_c, log.humidities)
        written = write_series(Path(name), "B", text)
        whole = seconds(
            lambda: (ours(raw), as_text(log.seconds, log.temperatures_c, log.humidities))
        )
        back = seconds(lambda: read_series(Path(name), written.name, written.digest))
    first, last = (datetime.fromtimestamp(one, UTC) for one in (log.seconds[0], log.seconds[-1]))
    print(
        f"   {len(log.seconds):,} readings {first:%Y-%m-%d} to {last:%Y-%m-%d}: read and written out in {whole:.1f} s (target 20)"
    )
    print(f"   read back as a series in {back:.1f} s")


if __name__ == "__main__":
    main()
