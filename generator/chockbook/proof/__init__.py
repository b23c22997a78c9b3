"""The proof: opens the finished files and checks each against the catalogue.

It shares no view and no template with what it checks: a view that loses an entry would lose it on both
sides. What has to be there comes from the catalogue alone.
"""

from .carriers import CarrierProof, prove_carriers
from .prove import Proof, prove, prove_one_site

__all__ = ["CarrierProof", "Proof", "prove", "prove_carriers", "prove_one_site"]
