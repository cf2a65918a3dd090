"""The command line."""

from packseq.cli.app import main

__all__ = ["main"]
