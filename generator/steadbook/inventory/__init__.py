"""Reading and checking site_data: YAML with line numbers -> typed, checked models."""

from steadbook.inventory.homestead import Homestead
from steadbook.inventory.load import read_inventory

__all__ = ["Homestead", "read_inventory"]
