"""The columns of a table in, the statement that brings it up to date with incoming rows out."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Merge:
    """Rows of `incoming_<table>` that are new are inserted, those that `changed` are updated, others left alone.

    Parameters
    ----------
    table, key : the table and the one column that tells its rows.
    columns : the columns of the incoming rows, the key among them.
    changed : SQL over the table and `incoming` that says a held row differs.
    once : columns that only a new row gets, each from the parameter of its name.
    """

    table: str
    key: str
    columns: tuple[str, ...]
    changed: str
    once: tuple[str, ...] = ()

    @property
    def sql(self) -> str:
        """The statement; it returns INSERT or UPDATE for each row it touched."""
        names = [*self.columns, *self.once]
        values = [*(f"incoming.{name}" for name in self.columns), *(f"${name}" for name in self.once)]
        updates = ", ".join(f"{name} = incoming.{name}" for name in self.columns if name != self.key)
        return (  # names are the program's own, values are parameters
            f"merge into {self.table} using incoming_{self.table} as incoming "  # noqa: S608
            f"on {self.table}.{self.key} = incoming.{self.key} "
            f"when matched and {self.changed} then update set {updates} "
            f"when not matched then insert ({', '.join(names)}) values ({', '.join(values)}) "
            "returning merge_action"
        )


def differs(table: str, columns: tuple[str, ...]) -> str:
    """Return SQL that says one of `columns` differs between a held and an incoming row; null equals null."""
    held = ", ".join(f"{table}.{name}" for name in columns)
    new = ", ".join(f"incoming.{name}" for name in columns)
    return f"({held}) is distinct from ({new})"
