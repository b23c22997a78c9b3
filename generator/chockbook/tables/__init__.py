"""Reading the tables: YAML to values that know their place, and their shapes."""

from .reader import Steps, Table, leads_out, read_table
from .shape import validate_shape

__all__ = ["Steps", "Table", "leads_out", "read_table", "validate_shape"]
