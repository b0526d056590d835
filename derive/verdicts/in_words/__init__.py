"""Cases, sizes and small changes that words name without a sign."""
