"""The library: every document a person has, with every revision of it.

A *bundle* is a folder of documents that belong together; a *document* has a name inside it and
*revisions*, which are its own bytes and are never changed. Loads SQLAlchemy: import it in
functions that need it.
"""

from evencast.store.library.backups import Backup
from evencast.store.library.checking import Checked
from evencast.store.library.kinds import KINDS, Kind
from evencast.store.library.library import Library
from evencast.store.library.restoring import Restored
from evencast.store.library.values import Bundle, Document, Record, Revision, Stale

__all__ = [
    "KINDS",
    "Backup",
    "Bundle",
    "Checked",
    "Document",
    "Kind",
    "Library",
    "Record",
    "Restored",
    "Revision",
    "Stale",
]
