"""Slow answers of the program worked out once for all tests of a process: what follows from a job is pure."""

import pickle
from collections import OrderedDict
from collections.abc import Callable
from typing import Any

from beckwright.base.words import reads
from beckwright.languages import spoken


def remembered(work: Callable[..., Any], most: int) -> Callable[..., Any]:
    """The same work, which knows what it last gave for so many jobs; who wants to be told of progress is worked for.

    Two jobs that differ in anything, read in other units or another language, are two jobs.
    """
    known: OrderedDict[bytes, Any] = OrderedDict()

    def recalled(design: Any, *more: Any, progress: Any = None, **named: Any) -> Any:
        if progress is not None:
            return work(design, *more, progress=progress, **named)
        given = [each for each in more if isinstance(each, str)]
        key = pickle.dumps((design.job, reads().value, spoken(), given, sorted(named.items())))
        made = known.pop(key) if key in known else work(design, *more, **named)
        known[key] = made
        while len(known) > most:
            known.popitem(last=False)
        return made

    return recalled
