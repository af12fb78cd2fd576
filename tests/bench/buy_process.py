#!/usr/bin/env python3
"""How long a whole process of `buy` takes on kits of plain lines: each part sold one by one and by tens, by a good half of the
suppliers, who ship free from some value.

    buy_process.py LASTBOLT [--lines 60] [--suppliers 15] [--kits 5] [--runs 5]

Prints, a kit: seconds of `buy --cheapest-only` (median of the runs) and of `buy` with its front, once; then the medians.
"""

import argparse
import json
import random
import statistics
import subprocess
import tempfile
import time
from pathlib import Path


def catalogue(seed, lines, suppliers):
    draw = random.Random(seed)
    files = {"platforms": "platform,make,model\nbench,Bench,One\n", "suppliers": "supplier,currency,ship_days,tax_percent\n",
             "shipping": "supplier,goods_from,charge\n", "components": "platform,component,part_type,quantity\n",
             "jobs": "platform,job,component\n", "parts": "brand,part_number,part_type\n",
             "applications": "brand,part_number,make,model\n",
             "offers": "supplier,brand,part_number,price,currency,pack_quantity,lead_days\n"}
    levels = [draw.uniform(0.85, 1.15) for _ in range(suppliers)]
    for s in range(suppliers):
        files["suppliers"] += f"s{s:02d},EUR,{draw.randint(1, 6)},19\n"
        charge, free = draw.choice(("3.90", "4.90", "5.95", "6.90")), draw.choice((50, 60, 75, 100, 150))
        files["shipping"] += f"s{s:02d},0,{charge}\ns{s:02d},{free},0\n"
    for i in range(lines):
        price = draw.uniform(0.5, 60)
        packs = draw.choice(((1,), (1, 10)))
        files["components"] += f"bench,thing-{i},type-{i},{draw.choice((1, 1, 2, 4, 8))}\n"
        files["jobs"] += f"bench,all,thing-{i}\n"
        files["parts"] += f"Brand,N{i},type-{i}\n"
        files["applications"] += f"Brand,N{i},Bench,One\n"
        sellers = [s for s in range(suppliers) if draw.random() < 0.6] or [0]
        for s in sellers:
            for pack in packs:
                cost = price * pack * levels[s] * draw.uniform(0.9, 1.1) * (0.8 if pack > 1 else 1)
                files["offers"] += f"s{s:02d},Brand,N{i},{cost:.2f},EUR,{pack},{draw.randint(1, 4)}\n"
    return files


def run(program, index, *words):
    began = time.perf_counter()
    said = subprocess.run([program, "--db", index, "--json", *words], capture_output=True, text=True)
    if said.returncode:
        raise SystemExit(f"{' '.join(words)}: exit {said.returncode}\n{said.stderr}")
    return time.perf_counter() - began, json.loads(said.stdout)


def bench(args, seed):
    with tempfile.TemporaryDirectory() as folder:
        index = str(Path(folder) / "bench.db")
        for name, text in catalogue(seed, args.lines, args.suppliers).items():
            (Path(folder) / f"{name}.csv").write_text(text, encoding="utf-8")
        run(args.program, index, "import", folder)
        run(args.program, index, "vehicle", "add", "v", "--make", "Bench", "--model", "One")
        run(args.program, index, "kit", "build", "k", "--vehicle", "v", "--job", "all")
        times = [run(args.program, index, "buy", "k", "--cheapest-only") for _ in range(args.runs)]
        front, whole = run(args.program, index, "buy", "k", "--seconds", "60")
    cheapest = statistics.median(seconds for seconds, _ in times)
    print(f"kit {seed}: {'proved' if times[0][1]['proved'] else 'not proved'}, {cheapest:.3f} s; with a front of "
          f"{len(whole['front'])} points {front:.2f} s", flush=True)
    return cheapest, front


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program")
    parser.add_argument("--lines", type=int, default=60)
    parser.add_argument("--suppliers", type=int, default=15)
    parser.add_argument("--kits", type=int, default=5)
    parser.add_argument("--runs", type=int, default=5)
    args = parser.parse_args()
    times = [bench(args, seed) for seed in range(args.kits)]
    print(f"medians: {statistics.median(t[0] for t in times):.3f} s, with the front {statistics.median(t[1] for t in times):.2f} s")


if __name__ == "__main__":
    main()
