//! What every test target shares: where the repository is.
