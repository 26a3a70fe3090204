//! Words about photos of negatives.

use crate::ports::PhotoError;

/// So many photos.
pub fn count(count: usize) -> String {
    super::counted(count, "photo")
}

/// What a file leaves out; nothing if that is none.
pub fn left_out(left_out: usize) -> String {
    if left_out == 0 {
        return String::new();
    }
    ["This file leaves out ", &count(left_out), "."].concat()
}

/// Why a picture cannot be taken.
pub fn error(error: PhotoError) -> &'static str {
    match error {
        PhotoError::Unreadable => "this browser cannot read this picture",
        PhotoError::TooLarge => "this picture is too large for this phone",
    }
}
