"""The rules engine of Lone East: tiles, sheets, rules, advice, seats, practice. No pygame here."""
