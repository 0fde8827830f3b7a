"""Facts: knowledge/*.toml and *.csv read into typed, validated, frozen records, one file at a time."""
