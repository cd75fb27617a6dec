"""Runs the program with an eye on its time, its memory and the way it ends.

The bounds are far above what is usual: five times what a release build may take, for machines under load. Time is
that of the processor, so that it does not hang on what else the machine does.
"""

import os
import resource
import subprocess
import tempfile

from bench import program

SECONDS = 5
MEBIBYTES = 256


def spent(*arguments: str, mebibytes: int = MEBIBYTES, seconds: float = SECONDS):
    """Runs the program; gives exit code, standard output, standard error and the seconds it took."""
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        environment = {"PATH": "/usr/bin:/bin", "LC_ALL": "C", "NO_COLOR": "1"}
        # What a process has held at most counts that of the one that it was forked from: a limit tells better.
        limit = (mebibytes << 20, mebibytes << 20)
        child = subprocess.Popen(
            [program(), *arguments],
            stdout=out,
            stderr=err,
            env=environment,
            preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_DATA, limit),
        )
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        texts = []
        for stream in (out, err):
            stream.seek(0)
            texts.append(stream.read().decode("utf-8"))
    took = used.ru_utime + used.ru_stime
    told = f"{arguments}\n{texts[0][-2000:]}\n{texts[1][-2000:]}"
    assert child.returncode in (0, 1, 2), f"ended with {child.returncode}: {told}"
    assert "panicked" not in texts[1] and "RUST_BACKTRACE" not in texts[1], told
    assert took < seconds, f"{took:.1f} s: {told}"
    return child.returncode, texts[0], texts[1], took


def watched(*arguments: str, **bounds) -> tuple[int, str, str]:
    """Runs the program; gives exit code, standard output and standard error."""
    return spent(*arguments, **bounds)[:3]
