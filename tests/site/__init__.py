# ruff: noqa: A005 - named as the room it tests; nothing imports it as a top-level module
