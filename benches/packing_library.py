"""The cutting-stock engine beside a general rectangle-packing library, on the same sheets in the same run.

Set-up: python3 -m venv /tmp/packing && /tmp/packing/bin/pip install rectpack==0.2.2
Run:    /tmp/packing/bin/python benches/packing_library.py FOLDER [how many] [every]
with the folder of the instances. The engine is measured by `cargo bench --bench nesting -- --seconds 0.03 --set og
--limit N --every M --each`; this script runs that too and prints both. Nothing may turn. The library is given every
one of its guillotine settings with parts sorted by area and by longer side; for each instance the fewest sheets count,
and all the time that it took to find out.
"""

import json
import os
import re
import subprocess
import sys
import time

import rectpack
from rectpack import guillotine

CHOICES = [getattr(guillotine, name) for name in dir(guillotine) if re.fullmatch(r"Guillotine\w+(Las|Sas|Slas|Llas|Maxas|Minas)", name)]
SORTS = [rectpack.SORT_AREA, rectpack.SORT_LSIDE]


def sheets(job, algorithm, sort):
    """How many sheets the library takes, or None when it leaves a part out."""
    packer = rectpack.newPacker(
        mode=rectpack.PackingMode.Offline,
        bin_algo=rectpack.PackingBin.BBF,
        pack_algo=algorithm,
        sort_algo=sort,
        rotation=False,
    )
    parts = [(width, height) for width, height, count in job["items"] for _ in range(count)]
    for width, height in parts:
        packer.add_rect(width, height)
    packer.add_bin(*job["bin"], count=len(parts))
    packer.pack()
    return len(packer) if sum(len(sheet) for sheet in packer) == len(parts) else None


def main():
    folder = sys.argv[1]
    limit = int(sys.argv[2]) if len(sys.argv) > 2 else 50
    every = int(sys.argv[3]) if len(sys.argv) > 3 else 2
    with open(f"{folder}/2d_bin_packing_100.jsonl", encoding="utf-8") as file:
        jobs = [json.loads(line) for line in file][::every][:limit]
    known = sum(job["values"]["OG_ub"] for job in jobs)
    began = time.perf_counter()
    total = 0
    for job in jobs:
        found = [sheets(job, algorithm, sort) for algorithm in CHOICES for sort in SORTS]
        total += min(count for count in found if count is not None)
    library = (time.perf_counter() - began) / len(jobs)
    print(f"{len(jobs)} jobs, {len(CHOICES) * len(SORTS)} settings, best known {known}")
    print(f"library: {total} sheets ({100 * (total / known - 1):+.2f} %), {library:.3f} s a job for all settings")
    command = ["cargo", "bench", "--bench", "nesting", "--", "--set", "og", "--seconds", f"{library / 10:.4f}"]
    command += ["--limit", str(limit), "--every", str(every)]
    print("engine, in a tenth of that:", subprocess.run(command, capture_output=True, text=True, check=True, env={**os.environ, "CUTTING": folder}).stdout.strip())


if __name__ == "__main__":
    main()
