"""``python -m beckwright`` is the command ``beckwright``."""

from beckwright.cli import main

if __name__ == "__main__":
    main()
