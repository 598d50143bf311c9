"""Tries a running service as each role, and as nobody, with requests made from its API document.

    run.py short|long DOCUMENT OUT      DIBBLE_URL and DIBBLE_PASSWORD are in the environment

Ends with a table of how many requests were made; any failure fails the run.
"""

import json
import os
import subprocess
import sys
from pathlib import Path

import httpx
import seed

URL, PASSWORD = os.environ["DIBBLE_URL"], os.environ["DIBBLE_PASSWORD"]
SCHEMATHESIS = Path(sys.executable).with_name("schemathesis")

# Requests for each operation and phase. The lead comes last: it may erase what the others ask for.
SHORT = {"none": 2, "read_only": 2, "records_system": 2, "grower": 3, "advisor": 3, "lead": 5}
LONG = {"none": 50, "read_only": 50, "records_system": 50, "grower": 100, "advisor": 200, "lead": 500}
SESSIONS = 30
# In a short run the edges of every member are tried once, by who may do everything, and long walks are taken by
# those who make things.
PHASES = {"lead": "examples,coverage,fuzzing,stateful", "advisor": "examples,fuzzing,stateful"}
OTHER_PHASES = "examples,fuzzing"


def tokens(role: str, grower: str) -> list[str]:
    """Tokens of sessions that are opened beforehand: made-up requests end some."""
    if role == "none":
        return []
    if role != "grower":
        return [seed.token(URL, role, PASSWORD) for _ in range(SESSIONS)]
    advisor = seed.sign_in(URL, "advisor", PASSWORD)
    link = seed.make(advisor, "/v1/access-links", {"grower_id": grower, "single_use": False})
    anyone = httpx.Client(base_url=URL)
    body = {"token": link["token"]}
    return [seed.make(anyone, "/v1/access-links/redeem", body)["access_token"] for _ in range(SESSIONS)]


def attempt(role: str, cases: int, phases: str, document: Path, out: Path, ids: dict[str, str]) -> dict:
    settings, report = out / f"{role}.toml", out / f"{role}.json"
    report.unlink(missing_ok=True)
    base = Path("tests/fuzz/schemathesis.toml").read_text()
    if cases > max(SHORT.values()):
        base = base.replace("max-examples = 100", "max-examples = 5000")
    if role == "none":
        base = base.replace('"2xx", "304",', '"2xx", "304", "401",')
    settings.write_text(base)
    command = [SCHEMATHESIS, "--config-file", settings, "run", document, "--url", URL]
    # One worker: Python 3.11 shares the depth of the syntax trees it makes among threads, and fails now and then
    # (its issue 106905).
    command += ["--max-examples", str(cases), "--phases", phases, "--workers", "1", "--no-color"]
    command += ["--report-json-path", report]
    given = {
        **os.environ,
        "FUZZ_DOCUMENT": str(document),
        "FUZZ_IDS": json.dumps(ids),
        "FUZZ_TOKENS": json.dumps(tokens(role, ids["growers"])),
        "HYPOTHESIS_STORAGE_DIRECTORY": str(out / "hypothesis"),
    }
    with (out / f"{role}.log").open("w") as log:
        done = subprocess.run(command, env=given, stdout=log, stderr=subprocess.STDOUT, check=False)
    if not report.exists():
        raise SystemExit((out / f"{role}.log").read_text())
    return dict(json.loads(report.read_text()), exit_code=done.returncode)


def line(role: str, found: dict) -> str:
    """A row of the table at the end."""
    rates = [rate for phases in found["valid_rates"].values() for rate in phases.values()]
    answered = sum(rate["accepted"] for rate in rates)
    cases, operations = found["test_cases"], found["operations"]
    took = round(found["running_time"])
    return (
        f"{role:<15}{operations['tested']:>11}{cases['generated']:>10}{answered:>10}"
        f"{cases['unique_failures']:>10}{took:>8} s"
    )


def main() -> None:
    length, document, out = sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3])
    out.mkdir(parents=True, exist_ok=True)
    advisor = seed.sign_in(URL, "advisor", PASSWORD)
    ids = seed.farmstead(advisor)
    ids |= seed.connected(seed.sign_in(URL, "records_system", PASSWORD), advisor)
    table, failed = [f"{'as':<15}{'operations':>11}{'cases':>10}{'valid':>10}{'failures':>10}"], []
    for role, cases in (SHORT if length == "short" else LONG).items():
        phases = PHASES.get(role, OTHER_PHASES) if length == "short" else PHASES["lead"]
        found = attempt(role, cases, phases, document, out, ids)
        table.append(line(role, found))
        print(table[-1], flush=True)
        sound = found["complete"] and not found["errors"] and not found["auth"]["reauth_broke"]
        if found["exit_code"] or not sound:
            failed.append(role)
    for role in failed:
        print(f"\nas {role}:\n{(out / f'{role}.log').read_text()}")
    print("\n".join(table))
    if failed:
        raise SystemExit("failures as " + ", ".join(failed))


if __name__ == "__main__":
    main()
