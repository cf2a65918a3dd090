"""Run packseq as ``python -m packseq``."""

from packseq.cli import main

if __name__ == "__main__":
    main()
