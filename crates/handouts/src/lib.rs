//! Everything a patient or practitioner receives: running order, session page, print and sheets.
