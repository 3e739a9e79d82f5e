"""Published values, each table in a `.csv` whose header says where it comes from and how it was checked."""
