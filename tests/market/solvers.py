"""The program's basket and the referees, as processes."""

import json
import re
import shutil
import subprocess
import time
from pathlib import Path

HERE = Path(__file__).parent
INFEASIBLE, LIMIT, OPTIMAL = "infeasible", "time", "optimal"


def run_basket(binary, texts, *words):
    """What basket_run says of each market; all in one process."""
    done = subprocess.run([str(binary), *words], input="".join(texts), capture_output=True, text=True, check=False)
    if done.returncode:
        raise SystemExit(f"{binary}: exit status {done.returncode}: {done.stderr.strip()}")
    return [json.loads(line) for line in done.stdout.splitlines()]


class Answer:
    """Of a referee: its status, the objective as a whole number (None: nothing found), and the seconds that it took."""

    def __init__(self, status, objective, seconds):
        self.status, self.seconds = status, seconds
        self.objective = None if objective is None or status == INFEASIBLE else round(objective)


class Cbc:
    name = "cbc"

    def __init__(self, seconds):
        self.seconds = seconds

    @staticmethod
    def missing():
        return None if shutil.which("cbc") else "cbc is not installed (Debian: coinor-cbc)"

    def solve(self, path):
        words = ["cbc", str(path), "sec", str(self.seconds), "threads", "1", "ratio", "0", "solve"]
        begun = time.perf_counter()
        said = subprocess.run(words, capture_output=True, text=True, check=False).stdout
        seconds = time.perf_counter() - begun
        value = re.search(r"^Objective value:\s+(\S+)", said, re.MULTILINE)
        objective = float(value[1]) if value else None
        if "Result - Optimal solution found" in said:
            return Answer(OPTIMAL, objective, seconds)
        if re.search(r"infeasible", said, re.IGNORECASE) and objective is None:
            return Answer(INFEASIBLE, None, seconds)
        return Answer(LIMIT, objective if objective is None or objective < 1e40 else None, seconds)


class Highs:
    name = "highs"

    def __init__(self, seconds, folder):
        self.seconds, self.folder = seconds, folder

    def missing(self):
        if not shutil.which("node"):
            return "node is not installed"
        if not self.folder or not (Path(self.folder) / "node_modules" / "highs").is_dir():
            return "no --highs FOLDER with the npm package highs in it (npm i --ignore-scripts highs)"
        return None

    def solve(self, path):
        words = ["node", str(HERE / "highs_run.js"), str(self.folder), str(self.seconds), str(path)]
        done = subprocess.run(words, capture_output=True, text=True, check=False)
        lines = [line for line in done.stdout.splitlines() if line.startswith("{")]
        said = json.loads(lines[-1]) if lines else {"status": "failed", "objective": None, "seconds": 0}
        status = {"Optimal": OPTIMAL, "Infeasible": INFEASIBLE}.get(said["status"], LIMIT)
        objective = said["objective"]
        return Answer(status, objective if objective is not None and abs(objective) < 1e30 else None, said["seconds"])
