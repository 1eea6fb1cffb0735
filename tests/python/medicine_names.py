"""Names out of an open list of medicines, a pickled table of plain dictionaries: nothing in it is ever executed."""

import bz2
import json
import pickle
import sys


class OnlyPlainData(pickle.Unpickler):
    """Refuses a file that asks for any class or function."""

    def find_class(self, module, name):
        raise pickle.UnpicklingError(f"the list asks for {module}.{name}; it should hold plain data only")


with bz2.open(sys.argv[1]) as file:
    table = OnlyPlainData(file).load()
json.dump(sorted(table["drug_canonical_to_data"]), sys.stdout)
