"""Who does tasks that ask nothing of each other: worker processes of this machine, or a cluster."""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from typing import Any, Protocol, TypeVar

from hatchwright.errors import ExportError, SolveError
from hatchwright.search.worker_environment import set_worker_environment
from hatchwright.search.worker_life import end_with_parent

Task = TypeVar("Task")
Answer = TypeVar("Answer")


class Doer(Protocol):
    """Does tasks in any order and gives the answer to each as it is done."""

    def __call__(self, work: Callable[[Task], Answer], tasks: Sequence[Task], /) -> Iterator[Answer]:
        """Give each task to the work, a function that stands in a module; both, and the answer, travel."""
        ...


def in_processes(count: int, *, of: str = "sweep") -> Doer:
    """Do tasks in worker processes of this machine, which end with this one; when it is stopped, what is begun is
    dropped with what is not.

    Args:
        of: the command that they are for, as a refusal names it.
    Raises:
        SolveError: a worker was ended from outside.
    """

    def do(work: Callable[[Task], Answer], tasks: Sequence[Task], /) -> Iterator[Answer]:
        if not tasks:
            return
        set_worker_environment()
        context = multiprocessing.get_context("spawn")
        theirs, ours = context.Pipe(duplex=False)
        pool = ProcessPoolExecutor(
            max_workers=count, mp_context=context, initializer=end_with_parent, initargs=(theirs,)
        )
        try:
            for future in as_completed([pool.submit(work, task) for task in tasks]):
                yield future.result()
        except BrokenProcessPool:
            raise SolveError.saying(f"error.{of}_worker_ended", where=of) from None
        finally:
            ours.close()
            pool.shutdown(wait=True, cancel_futures=True)
            theirs.close()

    return do


def on_cluster(address: str, *, patience_s: float = 5.0) -> Doer:
    """Do tasks on a Dask cluster that has this program installed.

    Args:
        address: of its scheduler, such as ``tcp://10.0.0.5:8786``.
        patience_s: how long its scheduler may take to answer, and then to have a worker [s].
    Raises:
        ExportError: the cluster extra is not installed, nothing answers at the address, or no worker works for it.
    """
    try:
        import distributed
    except ImportError:
        raise ExportError.saying("error.no_cluster", where="--cluster") from None

    cluster: Any = distributed  # without types of its own

    def do(work: Callable[[Task], Answer], tasks: Sequence[Task], /) -> Iterator[Answer]:
        if not tasks:
            return
        try:
            client = cluster.Client(address, timeout=f"{patience_s}s")
        except (OSError, ValueError, TimeoutError) as error:
            raise ExportError.saying(
                "error.cluster_silent", where="--cluster", address=address, why=type(error).__name__
            ) from None
        try:
            _await_worker(client, address, patience_s)
            futures = client.map(work, tasks, pure=False)
            for future in cluster.as_completed(futures):
                yield future.result()
        finally:
            client.close()

    return do


def _await_worker(client: Any, address: str, patience_s: float) -> None:
    try:
        client.wait_for_workers(1, timeout=patience_s)
    except TimeoutError:
        raise ExportError.saying("error.cluster_idle", where="--cluster", address=address) from None
