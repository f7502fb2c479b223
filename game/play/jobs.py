"""Background advice, one job type for every screen: an answer that is estimated, then tried out, then kept.

A screen makes an `AdviceJob` and paints its `answer`. The first answer comes at once. Each later step makes a better
answer of it, in the background, while the player reads. After the last step the answer is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Generic, TypeAlias, TypeVar

from game.play.worker import Job, Worker

Answer = TypeVar("Answer")
Step: TypeAlias = "Callable[[Answer, Job[Answer]], Answer]"
"""Makes a better answer of one. It is given the running job, which says when to stop and lets the window breathe."""


def _always(_: object) -> bool:
    return True


def _nothing(_: object) -> None:
    return None


class AdviceJob(Generic[Answer]):
    """One answer on its way. The work runs on the worker's thread; `changed` and `keep` run on the window's."""

    def __init__(
        self,
        worker: Worker,
        estimate: Callable[[], Answer],
        try_out: Sequence[Step[Answer]] = (),
        *,
        ahead: Callable[[], object] = lambda: None,
        wanted: Callable[[Answer], bool] = _always,
        changed: Callable[[Answer], object] = _nothing,
        keep: Callable[[Answer], object] = _nothing,
    ) -> None:
        """`estimate` takes some ten milliseconds, a step of `try_out` up to a few seconds.

        The frame that shows the new moment comes first. Then `ahead()` lets helpers begin with what comes later.
        `wanted(answer)` says whether the next step is worth its time now. `changed(answer)` is called with every new
        answer, `keep(answer)` once with the last one.
        """
        self.answer: Answer | None = None
        self.settled = False
        """Whether no better answer will come."""
        self._worker = worker
        self._ahead, self._estimate = ahead, estimate
        self._steps = list(try_out)
        self._wanted, self._changed, self._keep = wanted, changed, keep
        self._job: Job[Answer] | None = None
        self._under_way = False

    def begin(self, known: Answer | None = None) -> None:
        """Start the work, or start at `known`, an answer worked out earlier. Ends whatever the worker was doing."""
        self._worker.cancel()
        if known is not None:
            self._came(known)
            return
        self._submit(self._first)

    @property
    def under_way(self) -> bool:
        """Whether an answer of this job may still come by itself."""
        return self._under_way and self._worker.busy and not self._stopped

    @property
    def failed(self) -> bool:
        """Whether the last step raised an exception. The worker has passed it on, and the step is not tried again."""
        return self._under_way and not self._worker.busy and not self._stopped

    @property
    def _stopped(self) -> bool:
        return self._job is not None and self._job.stopped

    @property
    def trying(self) -> bool:
        """Whether there is an answer already and a better one is being worked out."""
        return self.answer is not None and self.under_way

    def go_on(self) -> None:
        """Take the next step, if it is wanted and not under way. After another screen has used the worker, this goes
        on where the work was stopped."""
        if self.under_way or self.settled or self.failed:
            return
        answer = self.answer
        if answer is None:
            self._submit(self._first)
        elif not self._steps:
            self._end()
        elif self._wanted(answer):
            step = self._steps[0]
            self._submit(lambda job: step(answer, job), step)

    def _first(self, job: Job[Answer]) -> Answer:
        job.breathe()
        self._ahead()
        return self._estimate()

    def end_now(self) -> Answer:
        """Stop and keep what is known so far; estimates at once if nothing is. For a screen that is left early."""
        if not self.settled:
            if self.under_way:
                self._worker.cancel()
            if self.answer is None:
                self.answer = self._estimate()
            self._end()
        assert self.answer is not None
        return self.answer

    def _submit(self, work: Callable[[Job[Answer]], Answer], step: Step[Answer] | None = None) -> None:
        self._under_way = True

        def done(answer: Answer) -> None:
            if step is not None:
                self._steps.remove(step)
            self._came(answer)

        self._job = None
        self._job = self._worker.submit(work, done)

    def _came(self, answer: Answer) -> None:
        self._under_way = False
        self.answer = answer
        self._changed(answer)
        self.go_on()

    def _end(self) -> None:
        self.settled = True
        assert self.answer is not None
        self._keep(self.answer)
