"""The caution that every output carries: on reports, lists, pictures and pages, and in the README."""

CAUTION = (
    "Before you touch a wire: de-energize, lock out and tag out, and prove that it is dead with a meter "
    "proved on a live source before and after. Capacitors hold charge. Only a qualified person works on "
    "live parts, on gas or on refrigerant. Local code and the authority having jurisdiction decide. "
    "A clean report is no permit, no inspection and no license."
)
