//! The decided plan of a hole: plays, prices, reasons in words.
