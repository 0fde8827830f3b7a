"""Values named in a text: days, temperatures, counts, crops, places."""
