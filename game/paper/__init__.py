"""What is printed: a sheet, a study, a comparison, practice pages and the ledger, as PDF. reportlab is loaded late."""
