"""``python -m convert`` is the command ``cellset``."""

from .cli import main

if __name__ == "__main__":
    main()
