"""The same command on a scheduler's workers: a worker killed half way loses nothing, and the sheet is the same."""

import os
import signal
from types import SimpleNamespace

import pytest

from derive.marking import cluster
from derive.marking.batch import SHEET, Asked, mark_class
from derive.marking.cluster import Cluster, NoScheduler
from derive.marking.pool import Limits
from tests.marking.made import folder_of, winch
from tests.marking.test_batch import RIGHT, SLIP, UNREAD, Here

distributed = pytest.importorskip("distributed", reason="the extra “cluster” is not installed")
# Its own threads and sockets are not closed at once; that is no finding about marking.
pytestmark = pytest.mark.filterwarnings("ignore")


def test_with_one_of_two_workers_killed_half_way_nothing_is_lost_and_the_sheet_is_the_same(tmp_path):
    made = {f"s{k}": f"Working:\na = R w'\nF = {k} m (a + g)/{k}\nF = {k} m (R w' + g)\n" for k in range(2, 6)}
    folder = folder_of(tmp_path / "class", a=RIGHT, b=SLIP, c=UNREAD, **made)
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None, silence_logs=50) as local:
        def killing(entries, *rest):
            for k, found in enumerate(Cluster(local.scheduler_address)(entries, *rest)):
                if k == 2:
                    with distributed.Client(local.scheduler_address) as client:
                        pids = client.run(os.getpid)
                    os.kill(next(iter(pids.values())), signal.SIGKILL)
                yield found

        outcome = mark_class(winch(), Asked(folder, tmp_path / "far", Limits(seconds=60), engine=killing))
    mark_class(winch(), Asked(folder, tmp_path / "near", engine=Here()))
    assert len(outcome.sheet.workings) == 7
    assert (tmp_path / "far" / SHEET).read_bytes() == (tmp_path / "near" / SHEET).read_bytes()


def test_where_no_scheduler_answers_that_is_said(tmp_path, monkeypatch):
    monkeypatch.setattr(cluster, "PATIENCE", 0.5)
    folder = folder_of(tmp_path / "class", a=RIGHT)
    with pytest.raises(NoScheduler, match="No scheduler answers"):
        mark_class(winch(), Asked(folder, tmp_path / "out", engine=Cluster("tcp://127.0.0.1:9")))


@pytest.mark.parametrize("under_way", ["pending", "lost"])
def test_what_a_lost_worker_had_finished_and_not_given_back_is_waited_for_again(monkeypatch, under_way):
    class Future:
        status = under_way

        def result(self):
            return "marked"

    asked = []

    def wait(futures, **rest):
        asked.append(futures)
        if len(asked) == 2:
            futures[0].status = "finished"
        return SimpleNamespace(done=list(futures))

    monkeypatch.setattr(distributed, "wait", wait)
    found = list(cluster._as_finished({Future(): "entry"}, None, Limits(seconds=1)))
    assert found == [("entry", "marked")] and len(asked) == 2
