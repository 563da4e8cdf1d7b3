"""Risk profiles: what is stricter for exams, health matter, legal papers, early readers.

A profile is data (``profiles.toml``): options that hold unless a person gives others, kinds of
finding that become ``stop``, checks that are made, matter listed for signature, and a caution
of its own.

table  the profiles as they stand in the data; severities
keep   numbers kept on one line with their units
sign   stretches of print that a second person signs for
"""

from .table import NAMES as NAMES
from .table import Profile as Profile
from .table import profile as profile
from .table import raise_findings as raise_findings
from .table import with_profile as with_profile
