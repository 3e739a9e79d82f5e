"""`python -m wirecheck` is `wirecheck`."""

from wirecheck.cli import main

if __name__ == "__main__":
    main()
