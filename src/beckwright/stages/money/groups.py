"""Under which trade a line is added up."""

from beckwright.base.items import Item, Supplier
from beckwright.job.model import Group

_BY_KEY: dict[str, Group] = {
    "ground": "ground work",
    "crates": "reservoir",
    "geotextile": "reservoir",
    "chamber": "reservoir",
    "lid": "reservoir",
    "lining": "lining",
    "stone": "stone",
    "joint": "stone",
    "pump": "pump and hose",
    "hose": "pump and hose",
    "fitting": "pump and hose",
    "electrics": "electrics",
    "plants": "planting",
    "planting": "planting",
    "labour": "labour and hire",
    "hire": "labour and hire",
}
"""By the first word of a key."""

_BY_SUPPLIER: dict[Supplier, Group] = {
    "lining": "lining",
    "quarry": "stone",
    "crates": "reservoir",
    "pump and hose": "pump and hose",
    "nursery": "planting",
    "electrician": "electrics",
    "haulier": "ground work",
    "hire": "labour and hire",
    "own crew": "labour and hire",
}
"""What a key does not tell."""


def group_of(item: Item) -> Group:
    """The trade of an item."""
    by_supplier = _BY_SUPPLIER.get(item.supplier, "other")
    return _BY_KEY.get(item.key.partition(".")[0], by_supplier)
