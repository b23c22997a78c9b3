"""The catalogue for other people's programs: JSON, CSV, and the shape of the tables for editors."""

from .catalogue_csv import write_catalogue_csv
from .catalogue_json import catalogue_as_data, write_catalogue_json
from .editor_schema import editor_schemas, write_editor_schemas

__all__ = ["catalogue_as_data", "editor_schemas", "write_catalogue_csv", "write_catalogue_json", "write_editor_schemas"]
