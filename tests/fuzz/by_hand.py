"""Fuzz one target for a while: `python tests/fuzz/by_hand.py loader -max_total_time=120`.

Needs atheris (`pip install atheris`). Texts that reach new code are added to the seeds; texts that
crash are left as .found/crash-*. Other options are those of libFuzzer.
"""

import sys
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent.parent))


def main() -> None:
    import atheris

    with atheris.instrument_imports(include=["steadbook", "yaml", "csv"]):
        from tests.fuzz.targets import TARGETS

    name, *options = sys.argv[1:]
    target = TARGETS[name]

    def once(raw: bytes) -> None:
        target(raw.decode("utf-8", "surrogateescape" if name == "csv" else "replace"))

    seeds = HERE / "seeds" / name
    found = HERE / ".found" / name  # libFuzzer writes new ones to the first folder
    found.mkdir(parents=True, exist_ok=True)
    limits = [
        "-max_len=600",
        "-timeout=20",
        "-rss_limit_mb=1500",
        f"-artifact_prefix={HERE}/.found/",
    ]
    atheris.Setup([sys.argv[0], *limits, *options, str(found), str(seeds)], once)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
