"""Plans the stand-up of prefabricated timber wall frames."""

__version__ = "0.1.0"
