//! What every test target shares: where the repository is, and cases from outside.

/// Cases from independent libraries.
#[path = "references"]
pub mod references {
    pub mod cases;
}

use std::path::{Path, PathBuf};

/// The top of the repository.
pub fn repository() -> PathBuf {
    let package = Path::new(env!("CARGO_MANIFEST_DIR"));
    package.parent().unwrap_or(package).to_path_buf()
}
