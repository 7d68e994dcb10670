"""Browsers lent to tests: each has kept the scripts of the program, and nothing else of what a test did before."""

from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

FORGOTTEN = "cookies,local_storage,indexeddb,cache_storage,service_workers,file_systems"
"""All that a page can leave behind, but for the files of the program that the program lets a browser keep."""


class Window:
    """One context of chromium, with a page nobody looks at: without one, chromium forgets what it has read."""

    def __init__(self, context: Any) -> None:
        self.context, self.idle = context, context.new_page()
        self._wiping = context.new_cdp_session(self.idle)
        self.lent_again = True
        context.on("page", lambda page: page.on("framenavigated", self._came_to))

    def _came_to(self, frame: Any) -> None:
        # The pages of the slope keep what waits in a store of their own. Emptied while one of them still closes, it
        # stays shut for the next test.
        self.lent_again = self.lent_again and "/slope" not in frame.url

    def forget(self, address: str) -> None:
        """Close all pages a test has opened, and leave nothing behind."""
        for page in self.context.pages:
            if page is not self.idle:
                page.close()
        self.context.unroute_all()
        self.context.set_offline(False)
        self.context.clear_cookies()
        self.context.clear_permissions()
        self._wiping.send("Storage.clearDataForOrigin", {"origin": address, "storageTypes": FORGOTTEN})


class Windows:
    """Contexts of one chromium, by their options. A fresh one reads every script anew, which takes it a second."""

    def __init__(self, chromium: Any, address: str) -> None:
        self.chromium, self.address = chromium, address
        self._free: defaultdict[str, list[Window]] = defaultdict(list)

    @contextmanager
    def lending(self) -> Iterator[Callable[..., Any]]:
        """Lend as many as are asked for to one test, and take all of them back."""
        out: list[tuple[str, Window]] = []

        def lend(width: int = 1440, height: int = 900, **options: Any) -> Any:
            wanted = {"viewport": {"width": width, "height": height}, "reduced_motion": "reduce"} | options
            free = self._free[key := repr(sorted(wanted.items()))]
            out.append((key, free.pop() if free else Window(self.chromium.new_context(**wanted))))
            return out[-1][1].context

        yield lend
        for key, window in out:
            if window.lent_again:
                window.forget(self.address)
                self._free[key].append(window)
            else:
                window.context.close()
