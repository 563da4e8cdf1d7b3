"""The inspector of finished pages: 197 checks, made without the formatter's code."""

from .inspect import Check, Result, checks, inspect, inspect_edition

__all__ = ["Check", "Result", "checks", "inspect", "inspect_edition"]
