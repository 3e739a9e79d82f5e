"""What is shown to people and to other programs: reports, tables, lists, the manual and the catalog."""
