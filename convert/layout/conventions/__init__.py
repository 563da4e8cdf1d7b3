"""Layout conventions that come with the program, as tables."""

from importlib import resources

BF2016 = resources.files(__package__) / "bf2016.toml"
SIMPLE = resources.files(__package__) / "simple.toml"
