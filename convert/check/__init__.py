"""The inspector of finished pages: 197 checks, made without the formatter's code."""

from .inspect import Check, Result, checks, inspect, inspect_edition, place
from .model import Failure

__all__ = ["Check", "Failure", "Result", "checks", "inspect", "inspect_edition", "place"]
